// Problems and measures that several field tests share.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "solver/flow2d/driver.hpp"
#include "solver/flow2d/unknowns.hpp"
#include "tests/support/tanh_axis.hpp"

namespace tuft::flow2d::test {

using tuft::test::tanh_axis;

inline Axis half_as_many(const Axis& axis) {
  std::vector<double> faces;
  for (int i = 0; i < axis.n(); i += 2) faces.push_back(axis.faces()[static_cast<std::size_t>(i)]);
  faces.push_back(axis.faces().back());
  return Axis(std::move(faces));
}

/// Fields of one problem on the coarse grid; an array that is empty stays so.
class Coarsening {
 public:
  Coarsening(const Problem& fine, const Grid& coarse) : fine_(fine), coarse_(coarse) {}

  /// Mean by area over the fine cells of each coarse cell that `use` accepts; `fallback` where it accepts
  /// none.
  template <class Use>
  Array2 cells(const Array2& values, double fallback, const Use& use) const {
    if (values.empty()) return {};
    Array2 out(coarse_.nx(), coarse_.ny());
    for (int J = 0; J < coarse_.ny(); ++J)
      for (int I = 0; I < coarse_.nx(); ++I) out(I, J) = cell_mean(values, I, J, fallback, use);
    return out;
  }

  /// 1 where more than `share` of the coarse cell is marked.
  Mask marked(const Mask& mask, double share) const {
    if (mask.empty()) return {};
    Array2 part(mask.nx(), mask.ny());
    for (std::size_t k = 0; k < part.size(); ++k) part[k] = mask[k] ? 1.0 : 0.0;
    Mask out(coarse_.nx(), coarse_.ny());
    for (int J = 0; J < coarse_.ny(); ++J)
      for (int I = 0; I < coarse_.nx(); ++I)
        out(I, J) = cell_mean(part, I, J, 0.0, [](int, int) { return true; }) > share ? 1 : 0;
    return out;
  }

  /// Mean over the fine faces that lie on each coarse face of component d.
  Array2 faces(const Array2& values, int d) const {
    if (values.empty()) return {};
    Array2 out(coarse_.nx() + (d == 0), coarse_.ny() + (d == 1));
    for_pairs(out, values, d, [](double a, double b) { return 0.5 * (a + b); });
    return out;
  }

  /// A thin wall on a coarse face: where both fine faces on it have one. Walls inside a coarse cell are lost.
  Mask barrier(const Mask& walls, int d) const {
    if (walls.empty()) return {};
    Mask out(coarse_.nx() + (d == 0), coarse_.ny() + (d == 1));
    for_pairs(out, walls, d, [](unsigned char a, unsigned char b) { return a && b ? 1 : 0; });
    return out;
  }

 private:
  template <class Use>
  double cell_mean(const Array2& values, int I, int J, double fallback, const Use& use) const {
    const auto &wx = fine_.grid.x.widths(), &wy = fine_.grid.y.widths();
    double sum = 0.0, weight = 0.0;
    for (int j = 2 * J; j < std::min(2 * J + 2, fine_.grid.ny()); ++j)
      for (int i = 2 * I; i < std::min(2 * I + 2, fine_.grid.nx()); ++i) {
        if (!use(i, j)) continue;
        const double w = wx[static_cast<std::size_t>(i)] * wy[static_cast<std::size_t>(j)];
        sum += w * values(i, j);
        weight += w;
      }
    return weight > 0.0 ? sum / weight : fallback;
  }

  template <class T, class Join>
  static void for_pairs(Array2T<T>& out, const Array2T<T>& values, int d, const Join& join) {
    for (int J = 0; J < out.ny(); ++J)
      for (int I = 0; I < out.nx(); ++I) {
        const int i0 = std::min(2 * I, values.nx() - 1), j0 = std::min(2 * J, values.ny() - 1);
        const int i1 = d == 0 ? i0 : std::min(i0 + 1, values.nx() - 1);
        const int j1 = d == 1 ? j0 : std::min(j0 + 1, values.ny() - 1);
        out(I, J) = static_cast<T>(join(values(i0, j0), values(i1, j1)));
      }
  }

  const Problem& fine_;
  const Grid& coarse_;
};

/// Two edges made one. A pair of different kinds takes the first; numbers are averaged by length, so that the
/// flow through a pair of inflow edges is kept.
inline Edge merged(const Edge& a, const Edge& b, double la, double lb) {
  if (a.kind != b.kind || a.heat != b.heat) return a;
  const double wa = la / (la + lb), wb = lb / (la + lb);
  Edge e = a;
  for (const auto member : {&Edge::normal, &Edge::tangential, &Edge::pressure, &Edge::inertial_in,
                            &Edge::temperature, &Edge::flux})
    e.*member = wa * a.*member + wb * b.*member;
  return e;
}

inline std::vector<Edge> merged(const std::vector<Edge>& fine, const Axis& axis) {
  std::vector<Edge> out;
  for (std::size_t k = 0; k < fine.size(); k += 2) {
    const bool pair = k + 1 < fine.size();
    out.push_back(pair ? merged(fine[k], fine[k + 1], axis.widths()[k], axis.widths()[k + 1]) : fine[k]);
  }
  return out;
}

/// The same problem on a grid of half the cells each way: means over the cells and faces that become one. A
/// start for the finer grid, no answer: a passage narrower than two cells may close, a thin wall inside a
/// coarse cell is lost.
inline Problem coarsened(const Problem& fine) {
  Problem coarse = fine;
  coarse.grid = Grid{half_as_many(fine.grid.x), half_as_many(fine.grid.y)};
  const Coarsening to(fine, coarse.grid);
  for (std::size_t s = 0; s < 4; ++s)
    coarse.edges[s] = merged(fine.edges[s], s < 2 ? fine.grid.y : fine.grid.x);
  const auto everywhere = [](int, int) { return true; };
  const auto in_air = [&](int i, int j) { return !fine.is_solid(i, j); };
  const auto in_solid = [&](int i, int j) { return fine.is_solid(i, j); };
  const auto where_held = [&](int i, int j) { return fine.is_held(i, j); };
  coarse.solid = to.marked(fine.solid, 0.5);
  coarse.depth = to.cells(fine.depth, 0.0, in_air);
  const Array2 depth = to.cells(fine.depth, 1.0, everywhere);  // of cells without air
  for (std::size_t k = 0; k < depth.size(); ++k)
    if (coarse.depth[k] == 0.0) coarse.depth[k] = depth[k];
  coarse.solid_conductivity = to.cells(fine.solid_conductivity, 0.0, in_solid);
  coarse.held = to.marked(fine.held, 0.0);
  for (std::size_t k = 0; k < coarse.held.size(); ++k)
    if (!coarse.solid[k]) coarse.held[k] = 0;
  coarse.held_temperature = to.cells(fine.held_temperature, fine.fluid.temperature, where_held);
  coarse.heat_source = to.cells(fine.heat_source, 0.0, everywhere);
  coarse.mass_source = to.cells(fine.mass_source, 0.0, everywhere);
  coarse.source_temperature = to.cells(fine.source_temperature, fine.fluid.temperature, everywhere);
  coarse.momentum_share = to.cells(fine.momentum_share, 1.0, in_air);
  coarse.wall_loss = to.cells(fine.wall_loss, 0.0, everywhere);
  coarse.closure.mixing_length = to.cells(fine.closure.mixing_length, 0.0, in_air);
  for (HeatedChannels& c : coarse.channels) {
    c.i0 /= 2;
    c.j0 /= 2;
    c.i1 = (c.i1 + 1) / 2;
    c.j1 = (c.j1 + 1) / 2;
  }
  for (int d = 0; d < 2; ++d) {
    const auto D = static_cast<std::size_t>(d);
    coarse.source_velocity[D] = to.cells(fine.source_velocity[D], 0.0, everywhere);
    coarse.force[D] = to.faces(fine.force[D], d);
    coarse.drag_viscous[D] = to.faces(fine.drag_viscous[D], d);
    coarse.drag_inertial[D] = to.faces(fine.drag_inertial[D], d);
    coarse.barrier[D] = to.barrier(fine.barrier[D], d);
  }
  return coarse;
}

/// Bodies of air that nothing opens: their number changes where a passage closes or a thin wall is lost.
inline std::size_t closed_bodies(const Problem& problem) {
  return Unknowns(problem, Mesh(problem)).level_cells().size();
}

/// Coarser grids of a problem, the finest first, as long as they have at least `fewest` cells along each side
/// and as many closed bodies of air.
inline std::vector<std::unique_ptr<Problem>> coarser_grids(const Problem& asked, int fewest = 12) {
  std::vector<std::unique_ptr<Problem>> out;
  for (const Problem* fine = &asked; std::min(fine->grid.nx(), fine->grid.ny()) >= 2 * fewest;
       fine = out.back().get()) {
    auto coarse = std::make_unique<Problem>(coarsened(*fine));
    if (closed_bodies(*coarse) != closed_bodies(asked)) break;
    out.push_back(std::move(coarse));
  }
  return out;
}

/// Unit square of air at rest; every property 1, Boussinesq, central schemes.
inline Problem unit_box(const Axis& x, const Axis& y) {
  Problem p;
  p.grid = Grid{x, y};
  p.fluid.law = DensityLaw::boussinesq;
  p.fluid.temperature = 0.0;
  p.fluid.density = p.fluid.expansion = p.fluid.viscosity = p.fluid.conductivity = p.fluid.specific_heat =
      1.0;
  p.momentum_scheme = p.energy_scheme = Convection::central;
  return p;
}

/// Square cavity in units of a/L: hot wall at left (T = 1/2), cold at right (-1/2), the others adiabatic;
/// gravity turned by `tilt` from -y [rad].
inline Problem heated_cavity(int n, double rayleigh, double stretch = 0.0, double tilt = 0.0) {
  const Axis axis = stretch > 0.0 ? tanh_axis(n, 0.0, 1.0, stretch) : uniform_axis(n, 0.0, 1.0);
  Problem p = unit_box(axis, axis);
  p.fluid.viscosity = 0.71;  // Prandtl number
  p.gravity = {rayleigh * 0.71 * std::sin(tilt), -rayleigh * 0.71 * std::cos(tilt)};
  Edge wall;
  wall.heat = HeatKind::temperature;
  wall.temperature = 0.5;
  p.set_side(Side::left, wall);
  wall.temperature = -0.5;
  p.set_side(Side::right, wall);
  return p;
}

inline Problem lid_cavity(int n, double reynolds) {
  Problem p = unit_box(uniform_axis(n, 0.0, 1.0), uniform_axis(n, 0.0, 1.0));
  p.energy = false;
  p.fluid.viscosity = 1.0 / reynolds;
  Edge lid;
  lid.tangential = 1.0;
  p.set_side(Side::top, lid);
  return p;
}

/// Makes a side slip: nothing passes, no shear, no heat.
inline void set_slip(Problem* p, Side side) {
  Edge edge;
  edge.kind = EdgeKind::outlet;
  p->set_side(side, edge);
  const int nx = p->grid.nx(), ny = p->grid.ny();
  if (p->barrier[0].empty()) p->barrier = {Mask(nx + 1, ny), Mask(nx, ny + 1)};
  const bool across = side == Side::left || side == Side::right;
  for (int k = 0; k < (across ? ny : nx); ++k)
    (across ? p->barrier[0](side == Side::left ? 0 : nx, k)
            : p->barrier[1](k, side == Side::bottom ? 0 : ny)) = 1;
}

/// What the program's driver makes of a problem that stands alone.
struct Solved {
  State state;
  FoundFlow found;
};

/// As the program asks for flows, and for runs in time where no steady state is found at once.
inline DriverOptions with_time() {
  DriverOptions options;
  options.in_time.most_steps = 400;
  options.in_time.march.shortest_share = 0.02;
  return options;
}

/// On the problem's own grid, by its own scheme, from a start or from still air.
inline Solved solved(Problem p, DriverOptions options = with_time(), const State* start = nullptr) {
  options.scheme = p.momentum_scheme;
  options.in_time.march.passage =
      std::max(p.grid.x.length(), p.grid.y.length()) / scales_of(p, nullptr).velocity;
  const auto coarser = coarser_grids(p);
  std::vector<Problem*> grids;
  for (auto problem = coarser.rbegin(); problem != coarser.rend(); ++problem) grids.push_back(problem->get());
  grids.push_back(&p);
  SingleGridTask task(grids);
  Driver driver(&task, bold_from_coarse());
  FoundFlow found = start != nullptr ? driver.find(task.n_levels() - 1, true, options, {{*start}, {}})
                                     : driver.run(options);
  return {found.fields.layers[0], std::move(found)};
}

/// A run in time of a problem that stands alone, in steps of one length.
struct InTime {
  InTime(Problem p, State start, double step)
      : problem(std::make_unique<Problem>(std::move(p))),
        march(
            [&] {
              Flow flow;
              flow.layers = {problem.get()};
              return flow;
            }(),
            {{std::move(start)}, {}},
            [&] {
              MarchOptions options;
              options.fixed_step = step;
              return options;
            }()) {}

  /// Steps up to a time; what they leave over of mass and heat must be as good as nothing.
  void to(double end) {
    while (good && march.time() < end * (1.0 - 1e-12)) {
      last = march.step(end);
      good = good && last.good;
      mass = std::max(mass, last.solved.balance.mass);
      energy = std::max(energy, last.solved.balance.energy);
    }
  }
  const State& state() const { return march.fields().layers[0]; }

  std::unique_ptr<Problem> problem;  ///< stays where it is
  March march;
  MarchStep last;
  bool good = true;
  double mass = 0.0, energy = 0.0;  ///< worst of all steps
};

/// Extremum of a profile, by the parabola through its outermost sample and the two beside it; `sign` 1:
/// largest.
struct Extremum {
  double value = 0.0, at = 0.0;
};

inline Extremum extremum(const std::vector<double>& x, const std::vector<double>& f, double sign) {
  std::size_t k = 1;
  for (std::size_t i = 1; i + 1 < f.size(); ++i)
    if (sign * f[i] > sign * f[k]) k = i;
  const double a = x[k - 1] - x[k], b = x[k + 1] - x[k], fa = f[k - 1] - f[k], fb = f[k + 1] - f[k];
  const double curve = (fa / a - fb / b) / (a - b), slope = fa / a - curve * a;
  const double s = -slope / (2 * curve);
  return {f[k] + slope * s + curve * s * s, x[k] + s};
}

/// u on the face column i, for every row; v on the face row j, for every column.
inline std::vector<double> column_of(const Array2& a, int i) {
  std::vector<double> out;
  for (int j = 0; j < a.ny(); ++j) out.push_back(a(i, j));
  return out;
}
inline std::vector<double> row_of(const Array2& a, int j) { return {a.row(j), a.row(j) + a.nx()}; }

/// Cells that grow by a ratio from one to the next.
inline Axis growing_axis(int n, double from, double to, double ratio) {
  std::vector<double> faces{from};
  const double first = (to - from) * (ratio - 1.0) / (std::pow(ratio, n) - 1.0);
  for (int k = 0; k < n; ++k) faces.push_back(faces.back() + first * std::pow(ratio, k));
  faces.back() = to;
  return Axis(std::move(faces));
}

/// Value at h = 0 from values at h and h/2, error of second order.
inline double richardson(double coarse, double fine) { return fine + (fine - coarse) / 3.0; }

}  // namespace tuft::flow2d::test
