#include "solver/flow2d/multigrid_level.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "solver/flow2d/parallel.hpp"

namespace tuft::field {
namespace {

std::vector<Between> places_between(const Axis& fine, const Axis& coarse) {
  std::vector<Between> out;
  out.reserve(static_cast<std::size_t>(fine.n()));
  for (int i = 0; i < fine.n(); ++i) {
    const int near = i / 2;
    const double x = fine.centres()[static_cast<std::size_t>(i)];
    const double c = coarse.centres()[static_cast<std::size_t>(near)];
    const int next = std::clamp(x < c ? near - 1 : near + 1, 0, coarse.n() - 1);
    const double span = coarse.centres()[static_cast<std::size_t>(next)] - c;
    const double rim = x < c ? coarse.faces().front() : coarse.faces().back();
    if (next == near)
      out.push_back({near, next, 0.0, (x - c) / (rim - c)});
    else
      out.push_back({near, next, (x - c) / span, 0.0});
  }
  return out;
}

/// Between the two cells at a face, or from the one cell to the rim.
double distance(const Axis& axis, int face) {
  const auto f = static_cast<std::size_t>(face);
  if (face == 0) return 0.5 * axis.widths().front();
  if (face == axis.n()) return 0.5 * axis.widths().back();
  return axis.centres()[f] - axis.centres()[f - 1];
}

/// b - A s of one row; the diagonal is summed up anew, which is cheaper than reading it. Cells that take no
/// part have no coefficients and nothing on the right: they come out as 0 by themselves.
struct RowKernel {
  RowKernel(const Level& level, const Padded& values, int j)
      : s(values.row(j)),
        below(values.row(j - 1)),
        above(values.row(j + 1)),
        w(level.west(j)),
        so(level.south(j)),
        no(level.south(j + 1)),
        held(level.held(j)) {}
  double image(int i) const {
    double out = w[i] * (s[i] - s[i - 1]) + w[i + 1] * (s[i] - s[i + 1]) + so[i] * (s[i] - below[i]) +
                 no[i] * (s[i] - above[i]);
    if (held != nullptr) out += held[i] * s[i];
    return out;
  }
  const double *s, *below, *above, *w, *so, *no, *held;
};

}  // namespace

Level::Level(Axis x_axis, Axis y_axis, std::shared_ptr<const PressureEquation> its_equation)
    : x(std::move(x_axis)), y(std::move(y_axis)), nx(x.n()), ny(y.n()), equation(std::move(its_equation)) {
  survey();
}

bool Level::same_rows(int a, int b) const {
  const auto same = [](const double* p, const double* q, int n) {
    return std::memcmp(p, q, static_cast<std::size_t>(n) * sizeof(double)) == 0;
  };
  return same(west(a), west(b), nx + 1) && same(south(a), south(b), nx) &&
         same(south(a + 1), south(b + 1), nx) && (!holds || same(held(a), held(b), nx));
}

void Level::find_distinct_rows() {
  constexpr int looked_at = 8;
  kept.reserve(static_cast<std::size_t>(ny + 1));
  for (int j = 0; j < ny; ++j) {
    // The first row stands for itself: the faces south of it are at the rim.
    int found = j >= 3 && same_rows(j, j - 2) ? kept[static_cast<std::size_t>(j - 2)] : -1;
    const int known = static_cast<int>(distinct.size());
    for (int k = known - 1; found < 0 && k >= std::max(1, known - looked_at); --k) {
      const int other = distinct[static_cast<std::size_t>(k)];
      if ((other + j) % 2 == 0 && other != j - 2 && same_rows(j, other)) found = k;
    }
    if (found < 0) {
      found = known;
      distinct.push_back(j);
    }
    kept.push_back(found);
  }
  kept.push_back(static_cast<int>(distinct.size()));
}

/// What is to be known of the coefficients.
void Level::survey() {
  constexpr double much = 2.5;
  for (std::size_t k = 0; k < equation->held.size(); ++k) holds = holds || equation->held[k] > 0.0;
  find_distinct_rows();
  for (const int j : distinct) {
    const double *w = west(j), *so = south(j), *no = south(j + 1), *d = held(j);
    int alone = 0, shut = 0, uneven = 0;
    for (int i = 0; i < nx; ++i) {
      const double across = std::max(w[i], w[i + 1]), along = std::max(so[i], no[i]);
      alone |= !(across + along > 0.0) & (d == nullptr || !(d[i] > 0.0));
      uneven |= ((along > 0.0) & (across > much * along)) | ((across > 0.0) & (along > much * across));
    }
    for (int i = 1; i < nx; ++i) shut |= !(w[i] > 0.0);
    if (j > 0)
      for (int i = 0; i < nx; ++i) shut |= !(so[i] > 0.0);
    gaps = gaps || alone != 0;
    open = open && shut == 0;
    stretched = stretched || uneven != 0;
  }
  open = open && !gaps;
}

void Level::add_lines() {
  solution = Padded(nx, ny);
  rhs = Padded(nx, ny);
  inverse = Padded(nx, ny);
  line_x = Padded(nx, ny);
  line_y = Padded(nx, ny);
  const auto pivot = [](double d, double back, double before) {
    if (!(d > 0.0)) return 0.0;
    const double p = 1.0 / d - back * back * before;
    // The last cell of a line that floats freely: its pivot is round-off. Leave the cell to the other lines.
    return p > 1e-12 / d ? 1.0 / p : d;
  };
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const double d = diagonal(i, j);
      inverse.row(j)[i] = d > 0.0 ? 1.0 / d : 0.0;
      line_x.row(j)[i] = pivot(inverse.row(j)[i], west(j)[i], line_x.row(j)[i - 1]);
      line_y.row(j)[i] = pivot(inverse.row(j)[i], south(j)[i], line_y.row(j - 1)[i]);
    }
}

void Level::residual(Padded* out) const {
  for_rows(0, ny, cells(), [&](int j) {
    const RowKernel k(*this, solution, j);
    const double* b = rhs.row(j);
    double* r = out->row(j);
    for (int i = 0; i < nx; ++i) r[i] = b[i] - k.image(i);
  });
}

Products Level::apply(const Padded& d, Padded* image) const {
  std::vector<Products> rows(static_cast<std::size_t>(ny));
  for_rows(0, ny, cells(), [&](int j) {
    const RowKernel k(*this, d, j);
    const double* b = rhs.row(j);
    double* out = image->row(j);
    Products sum;
    for (int i = 0; i < nx; ++i) {
      out[i] = k.image(i);
      sum.with_image += k.s[i] * out[i];
      sum.with_rhs += k.s[i] * b[i];
    }
    rows[static_cast<std::size_t>(j)] = sum;
  });
  Products total;
  for (const Products& r : rows) {
    total.with_image += r.with_image;
    total.with_rhs += r.with_rhs;
  }
  return total;
}

void Level::restrict_residual(Level* coarse) const {
  for_rows(0, coarse->ny, cells(), [&](int J) {
    double* target = coarse->rhs.row(J);
    for (int I = 0; I < coarse->nx; ++I) target[I] = 0.0;
    for (int j = 2 * J; j < std::min(2 * J + 2, ny); ++j) {
      const RowKernel k(*this, solution, j);
      const double* b = rhs.row(j);
      for (int I = 0; I < nx / 2; ++I)
        target[I] += (b[2 * I] - k.image(2 * I)) + (b[2 * I + 1] - k.image(2 * I + 1));
      if (nx % 2 == 1) target[nx / 2] += b[nx - 1] - k.image(nx - 1);
    }
    if (!coarse->gaps) return;
    const double* part = coarse->inverse.row(J);
    for (int I = 0; I < coarse->nx; ++I)
      if (!(part[I] > 0.0)) target[I] = 0.0;
  });
}

void Level::add_correction(const Level& coarse) {
  if (coarse.gaps || gaps) {
    add_correction_around_gaps(coarse);
    return;
  }
  for_rows(0, ny, cells(), [&](int j) {
    thread_local std::vector<double> blended;
    blended.resize(static_cast<std::size_t>(coarse.nx));
    const Between& q = in_y[static_cast<std::size_t>(j)];
    const double *near = coarse.solution.row(q.near), *next = coarse.solution.row(q.next);
    const double* rim = coarse.south(q.near == 0 ? 0 : coarse.ny);
    for (int I = 0; I < coarse.nx; ++I) {
      const double share = q.rim > 0.0 && rim[I] > 0.0 ? 1.0 - q.rim : 1.0;
      blended[static_cast<std::size_t>(I)] = share * ((1 - q.weight) * near[I] + q.weight * next[I]);
    }
    double* s = solution.row(j);
    const double* c = blended.data();
    const auto between = [&](int i) {
      const Between& p = in_x[static_cast<std::size_t>(i)];
      return (1 - p.weight) * c[p.near] + p.weight * c[p.next];
    };
    const auto at_rim = [&](int i) {
      const Between& p = in_x[static_cast<std::size_t>(i)];
      const bool held_there = coarse.west(q.near)[p.near == 0 ? 0 : coarse.nx] > 0.0;
      return (p.rim > 0.0 && held_there ? 1.0 - p.rim : 1.0) * between(i);
    };
    s[0] += at_rim(0);
    for (int i = 1; i < nx - 1; ++i) s[i] += between(i);
    if (nx > 1) s[nx - 1] += at_rim(nx - 1);
  });
}

/// The same where some cells take no part: those have nothing to say, the others share their weight.
void Level::add_correction_around_gaps(const Level& coarse) {
  for_rows(0, ny, cells(), [&](int j) {
    const Between& q = in_y[static_cast<std::size_t>(j)];
    const double *near = coarse.solution.row(q.near), *next = coarse.solution.row(q.next);
    const double *near_part = coarse.inverse.row(q.near), *next_part = coarse.inverse.row(q.next);
    double* s = solution.row(j);
    const double* part = inverse.row(j);
    for (int i = 0; i < nx; ++i) {
      if (!(part[i] > 0.0)) continue;
      const Between& p = in_x[static_cast<std::size_t>(i)];
      double weights[4] = {(1 - q.weight) * (1 - p.weight), (1 - q.weight) * p.weight,
                           q.weight * (1 - p.weight), q.weight * p.weight};
      const double parts[4] = {near_part[p.near], near_part[p.next], next_part[p.near], next_part[p.next]};
      const double values[4] = {near[p.near], near[p.next], next[p.near], next[p.next]};
      double sum = 0.0, c = 0.0;
      for (int k = 0; k < 4; ++k) {
        weights[k] = parts[k] > 0.0 ? weights[k] : 0.0;
        sum += weights[k];
        c += weights[k] * values[k];
      }
      if (!(sum > 0.0)) continue;
      c /= sum;
      if (q.rim > 0.0 && coarse.south(q.near == 0 ? 0 : coarse.ny)[p.near] > 0.0) c *= 1.0 - q.rim;
      if (p.rim > 0.0 && coarse.west(q.near)[p.near == 0 ? 0 : coarse.nx] > 0.0) c *= 1.0 - p.rim;
      s[i] += c;
    }
  });
}

Level coarser(Level* fine) {
  Axis x = coarsened(fine->x), y = coarsened(fine->y);
  fine->in_x = places_between(fine->x, x);
  fine->in_y = places_between(fine->y, y);
  const int nx = x.n(), ny = y.n();
  // Conductance is area over distance: fine faces add up, the distance grows from fine to coarse.
  const auto shortening = [](const Axis& from, const Axis& to) {
    std::vector<double> out;
    out.reserve(static_cast<std::size_t>(to.n() + 1));
    for (int f = 0; f <= to.n(); ++f)
      out.push_back(distance(from, std::min(2 * f, from.n())) / distance(to, f));
    return out;
  };
  const std::vector<double> in_x = shortening(fine->x, x), in_y = shortening(fine->y, y);
  PressureEquation equation{Array2(nx + 1, ny), Array2(nx, ny + 1), {}};
  // Where a pair of fine rows is like the pair below it, so is the coarse row.
  const auto repeated = [&](int J) {
    const auto& kept = fine->kept;
    const auto j = static_cast<std::size_t>(2 * J);
    return J > 0 && 2 * J + 1 < fine->ny && kept[j] == kept[j - 2] && kept[j + 1] == kept[j - 1];
  };
  for (int J = 0; J < ny; ++J) {
    double* ax = equation.ax.row(J);
    if (repeated(J)) {
      std::copy_n(equation.ax.row(J - 1), nx + 1, ax);
      continue;
    }
    for (int j = 2 * J; j < std::min(2 * J + 2, fine->ny); ++j) {
      const double* w = fine->west(j);
      for (int I = 0; I < nx; ++I) ax[I] += in_x[static_cast<std::size_t>(I)] * w[2 * I];
      ax[nx] += in_x[static_cast<std::size_t>(nx)] * w[fine->nx];
    }
  }
  for (int J = 0; J <= ny; ++J) {
    const double *so = fine->south(std::min(2 * J, fine->ny)), shorter = in_y[static_cast<std::size_t>(J)];
    double* ay = equation.ay.row(J);
    if (J < ny && repeated(J) && shorter == in_y[static_cast<std::size_t>(J - 1)]) {
      std::copy_n(equation.ay.row(J - 1), nx, ay);
      continue;
    }
    for (int I = 0; I < fine->nx / 2; ++I) ay[I] = shorter * so[2 * I] + shorter * so[2 * I + 1];
    if (fine->nx % 2 == 1) ay[nx - 1] = shorter * so[fine->nx - 1];
  }
  if (fine->holds) {
    equation.held = Array2(nx, ny);
    for (int j = 0; j < fine->ny; ++j)
      for (int i = 0; i < fine->nx; ++i) equation.held(i / 2, j / 2) += fine->held(j)[i];
  }
  return Level(std::move(x), std::move(y), std::make_shared<const PressureEquation>(std::move(equation)));
}

bool may_coarsen(const Level& level) {
  if (level.open) return true;
  for (int j = 0; j < level.ny; j += 2)
    for (int i = 0; i < level.nx; i += 2) {
      const bool right = i + 1 < level.nx, up = j + 1 < level.ny;
      const auto part = [&](int a, int b) { return level.diagonal(a, b) > 0.0 ? 1 : 0; };
      const int cells = part(i, j) + (right ? part(i + 1, j) : 0) + (up ? part(i, j + 1) : 0) +
                        (right && up ? part(i + 1, j + 1) : 0);
      int joints = 0;
      if (right) joints += level.west(j)[i + 1] > 0.0;
      if (up) joints += level.south(j + 1)[i] > 0.0;
      if (right && up) joints += (level.west(j + 1)[i + 1] > 0.0) + (level.south(j + 1)[i + 1] > 0.0);
      if (joints < cells - 1) return false;
    }
  return true;
}

}  // namespace tuft::field
