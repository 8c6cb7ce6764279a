#include "solver/field/multigrid.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "solver/field/frontal_lu.hpp"
#include "solver/field/multigrid_level.hpp"
#include "solver/field/parallel.hpp"

namespace tuft::field {
namespace {

/// Bodies of connected cells that nothing holds; -1 for other cells.
struct FloatingBodies {
  Array2T<int> label;
  int count = 0;
};

FloatingBodies find_floating_bodies(const Level& level) {
  FloatingBodies bodies{Array2T<int>(level.nx, level.ny, -2), 0};
  if (all_open(level)) {  // one body; the usual case needs no walk
    bool held = level.holds;
    for (int j = 0; j < level.ny; ++j)
      held = held || level.west.row(j)[0] > 0.0 || level.west.row(j)[level.nx] > 0.0;
    for (int i = 0; i < level.nx; ++i)
      held = held || level.south.row(0)[i] > 0.0 || level.south.row(level.ny)[i] > 0.0;
    bodies.label.fill(held ? -1 : 0);
    bodies.count = held ? 0 : 1;
    return bodies;
  }
  std::vector<int> stack, members;
  for (int start = 0; start < level.nx * level.ny; ++start) {
    if (bodies.label[static_cast<std::size_t>(start)] != -2) continue;
    bool held = false;
    members.clear();
    stack.assign(1, start);
    bodies.label[static_cast<std::size_t>(start)] = -1;
    while (!stack.empty()) {
      const int cell = stack.back(), i = cell % level.nx, j = cell / level.nx;
      stack.pop_back();
      members.push_back(cell);
      const bool rim = (i == 0 && level.west.row(j)[0] > 0.0) || (j == 0 && level.south.row(0)[i] > 0.0) ||
                       (i + 1 == level.nx && level.west.row(j)[i + 1] > 0.0) ||
                       (j + 1 == level.ny && level.south.row(j + 1)[i] > 0.0);
      held = held || rim || level.held.row(j)[i] > 0.0 || !(level.inverse.row(j)[i] > 0.0);
      const auto visit = [&](double coefficient, bool inside, int next) {
        if (!inside || !(coefficient > 0.0) || bodies.label[static_cast<std::size_t>(next)] != -2) return;
        bodies.label[static_cast<std::size_t>(next)] = -1;
        stack.push_back(next);
      };
      visit(level.west.row(j)[i], i > 0, cell - 1);
      visit(level.west.row(j)[i + 1], i + 1 < level.nx, cell + 1);
      visit(level.south.row(j)[i], j > 0, cell - level.nx);
      visit(level.south.row(j + 1)[i], j + 1 < level.ny, cell + level.nx);
    }
    if (held) continue;
    for (int cell : members) bodies.label[static_cast<std::size_t>(cell)] = bodies.count;
    ++bodies.count;
  }
  return bodies;
}

void remove_means(const FloatingBodies& bodies, Padded* values) {
  if (bodies.count == 0) return;
  const int nx = bodies.label.nx(), ny = bodies.label.ny();
  std::vector<double> sum(static_cast<std::size_t>(bodies.count), 0.0), n = sum;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      if (const int b = bodies.label(i, j); b >= 0) {
        sum[static_cast<std::size_t>(b)] += values->row(j)[i];
        n[static_cast<std::size_t>(b)] += 1.0;
      }
  for (std::size_t b = 0; b < sum.size(); ++b) sum[b] /= n[b];
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      if (const int b = bodies.label(i, j); b >= 0) values->row(j)[i] -= sum[static_cast<std::size_t>(b)];
}

double dot(const Padded& a, const Padded& b, int nx, int ny) {
  std::vector<double> rows(static_cast<std::size_t>(ny), 0.0);
  for_rows(0, ny, static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny), [&](int j) {
    double sum = 0.0;
    for (int i = 0; i < nx; ++i) sum += a.row(j)[i] * b.row(j)[i];
    rows[static_cast<std::size_t>(j)] = sum;
  });
  double total = 0.0;
  for (double r : rows) total += r;
  return total;
}

/// y = alpha x + beta y over the cells.
void combine(double alpha, const Padded& x, double beta, Padded* y, int nx, int ny) {
  for_rows(0, ny, static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny), [&](int j) {
    for (int i = 0; i < nx; ++i) y->row(j)[i] = alpha * x.row(j)[i] + beta * y->row(j)[i];
  });
}

/// The coarsest grid, solved directly. One cell of every floating body is set to 0.
class Coarsest {
 public:
  explicit Coarsest(const Level& level) : nx_(level.nx) {
    const FloatingBodies bodies = find_floating_bodies(level);
    std::vector<unsigned char> pinned(static_cast<std::size_t>(std::max(bodies.count, 1)), 0);
    Array2T<int> number(level.nx, level.ny, -1);
    std::vector<UnknownPlace> places;
    for (int j = 0; j < level.ny; ++j)
      for (int i = 0; i < level.nx; ++i) {
        if (!(level.inverse.row(j)[i] > 0.0)) continue;
        const int body = bodies.label(i, j);
        if (body >= 0 && !pinned[static_cast<std::size_t>(body)]) {
          pinned[static_cast<std::size_t>(body)] = 1;
          continue;
        }
        number(i, j) = static_cast<int>(cells_.size());
        cells_.push_back(i + nx_ * j);
        places.push_back({i, j, false, false});
      }
    SparsePattern pattern;
    std::vector<double> values;
    pattern.row_start.push_back(0);
    for (int cell : cells_) {
      const int i = cell % nx_, j = cell / nx_;
      const auto enter = [&](int x, int y, double value) {
        if (x < 0 || y < 0 || x >= level.nx || y >= level.ny || number(x, y) < 0) return;
        pattern.column.push_back(number(x, y));
        values.push_back(value);
      };
      enter(i, j, 1.0 / level.inverse.row(j)[i]);
      enter(i - 1, j, -level.west.row(j)[i]);
      enter(i + 1, j, -level.west.row(j)[i + 1]);
      enter(i, j - 1, -level.south.row(j)[i]);
      enter(i, j + 1, -level.south.row(j + 1)[i]);
      pattern.row_start.push_back(static_cast<int>(pattern.column.size()));
    }
    lu_ = std::make_unique<FrontalLu<double>>(pattern, places, level.nx, level.ny);
    lu_->factor(values);
    values_.resize(cells_.size());
  }

  void solve(Level* level) {
    for (std::size_t k = 0; k < cells_.size(); ++k)
      values_[k] = level->rhs.row(cells_[k] / nx_)[cells_[k] % nx_];
    lu_->solve(&values_);
    level->solution.clear();
    for (std::size_t k = 0; k < cells_.size(); ++k)
      level->solution.row(cells_[k] / nx_)[cells_[k] % nx_] = values_[k];
  }

 private:
  int nx_;
  std::vector<int> cells_;
  std::vector<double> values_;
  std::unique_ptr<FrontalLu<double>> lu_;
};

/// x += step d, r -= step A d; returns the new sum of squares of r.
double advance(double step, const Padded& d, const Padded& image, Padded* x, Padded* r, int nx, int ny) {
  std::vector<double> rows(static_cast<std::size_t>(ny), 0.0);
  for_rows(0, ny, static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny), [&](int j) {
    const double *di = d.row(j), *im = image.row(j);
    double *xi = x->row(j), *ri = r->row(j), sum = 0.0;
    for (int i = 0; i < nx; ++i) {
      xi[i] += step * di[i];
      ri[i] -= step * im[i];
      sum += ri[i] * ri[i];
    }
    rows[static_cast<std::size_t>(j)] = sum;
  });
  double total = 0.0;
  for (double s : rows) total += s;
  return total;
}

}  // namespace

struct Multigrid::Impl {
  std::unique_ptr<Coarsest> coarsest;
  std::vector<Level> levels;
  MultigridOptions options;
  FloatingBodies bodies;

  void cycle(std::size_t l) {
    Level& level = levels[l];
    if (l + 1 == levels.size()) {
      coarsest->solve(&level);
      return;
    }
    for (int sweep = 0; sweep < options.before; ++sweep) level.smooth(true);
    Level& coarse = levels[l + 1];
    level.restrict_residual(&coarse);
    coarse.solution.clear();
    cycle(l + 1);
    level.add_correction(coarse);
    for (int sweep = 0; sweep < options.after; ++sweep) level.smooth(false);
  }

  /// Flexible conjugate gradients (Notay 2000, SIAM J. Sci. Comput. 22:1444-1460) with one cycle as
  /// preconditioner: each direction is made conjugate to the one before it. The residual is kept in the
  /// finest right-hand side.
  void solve_accelerated(double norm_b, MultigridSummary* summary) {
    Level& fine = levels[0];
    const int nx = fine.nx, ny = fine.ny;
    Padded image(nx, ny), direction(nx, ny);
    x = fine.solution;
    fine.residual(&image);
    std::swap(fine.rhs, image);
    double curvature = 0.0;
    while (summary->cycles < options.max_cycles && summary->history.back() > options.tolerance) {
      fine.solution.clear();
      cycle(0);
      ++summary->cycles;
      const double beta = curvature > 0.0 ? -dot(fine.solution, image, nx, ny) / curvature : 0.0;
      combine(1.0, fine.solution, beta, &direction, nx, ny);
      const Level::Products products = fine.apply(direction, &image);
      curvature = products.with_image;
      if (!(curvature > 0.0)) break;
      const double step = products.with_rhs / curvature;
      summary->history.push_back(std::sqrt(advance(step, direction, image, &x, &fine.rhs, nx, ny)) / norm_b);
    }
    fine.solution = x;
  }

  Padded x;
};

Multigrid::Multigrid(const Grid& grid, const PressureEquation& equation, const MultigridOptions& options)
    : impl_(new Impl) {
  impl_->options = options;
  auto& levels = impl_->levels;
  levels.emplace_back(grid.x, grid.y);
  for (int j = 0; j < grid.ny(); ++j)
    for (int i = 0; i < grid.nx(); ++i) {
      levels[0].west.row(j)[i] = equation.ax(i, j);
      levels[0].south.row(j)[i] = equation.ay(i, j);
      if (i + 1 == grid.nx()) levels[0].west.row(j)[i + 1] = equation.ax(i + 1, j);
      if (j + 1 == grid.ny()) levels[0].south.row(j + 1)[i] = equation.ay(i, j + 1);
      levels[0].held.row(j)[i] = equation.held.empty() ? 0.0 : equation.held(i, j);
    }
  const bool lines = options.smoother == Smoother::lines ||
                     (options.smoother == Smoother::automatic && levels[0].anisotropy() > 2.5);
  levels[0].finish_setup(lines);
  while (std::max(levels.back().nx, levels.back().ny) > 12 && may_coarsen(levels.back())) {
    Level next = coarser(&levels.back());
    next.finish_setup(lines);
    levels.push_back(std::move(next));
  }
  impl_->coarsest = std::make_unique<Coarsest>(levels.back());
  impl_->bodies = find_floating_bodies(levels[0]);
}

Multigrid::~Multigrid() = default;
Multigrid::Multigrid(Multigrid&&) noexcept = default;
Multigrid& Multigrid::operator=(Multigrid&&) noexcept = default;

void Multigrid::smooth_once() { impl_->levels[0].smooth(true); }

MultigridSummary Multigrid::solve(const Array2& b, Array2* x) {
  Impl& s = *impl_;
  Level& fine = s.levels[0];
  MultigridSummary summary;
  const int nx = fine.nx, ny = fine.ny;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const bool part = fine.inverse.row(j)[i] > 0.0;
      fine.rhs.row(j)[i] = part ? b(i, j) : 0.0;
      fine.solution.row(j)[i] = part ? (*x)(i, j) : 0.0;
    }
  remove_means(s.bodies, &fine.rhs);
  const double norm_b = std::sqrt(dot(fine.rhs, fine.rhs, nx, ny));
  if (!(norm_b > 0.0)) {
    x->fill(0.0);
    summary.converged = true;
    summary.history.push_back(0.0);
    summary.message = "nothing to solve";
    return summary;
  }
  summary.history.push_back(std::sqrt(fine.residual_squared()) / norm_b);
  if (s.options.accelerate) s.solve_accelerated(norm_b, &summary);
  while (!s.options.accelerate && summary.cycles < s.options.max_cycles &&
         summary.history.back() > s.options.tolerance) {
    s.cycle(0);
    ++summary.cycles;
    summary.history.push_back(std::sqrt(fine.residual_squared()) / norm_b);
  }
  remove_means(s.bodies, &fine.solution);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) (*x)(i, j) = fine.solution.row(j)[i];
  summary.converged = summary.history.back() <= s.options.tolerance;
  char text[96];
  std::snprintf(text, sizeof text, "%s: residual %.2e of b after %d cycles",
                summary.converged ? "converged" : "not converged", summary.history.back(), summary.cycles);
  summary.message = text;
  return summary;
}

}  // namespace tuft::field
