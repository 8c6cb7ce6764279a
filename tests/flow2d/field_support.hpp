// Problems and measures that several field tests share.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "solver/flow2d/driver.hpp"
#include "tests/flow2d/coarsen.hpp"
#include "tests/support/tanh_axis.hpp"

namespace tuft::flow2d::test {

using tuft::test::tanh_axis;

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
