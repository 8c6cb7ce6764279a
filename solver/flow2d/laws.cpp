#include "solver/flow2d/laws.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/flow2d/array2.hpp"

namespace tuft::flow2d {
namespace {

// Where the profile f' of f f' = f''^2, f(0) = 0, f'(0) = 1 has fallen to half; the jets' test integrates it.
constexpr double kTollmienHalf = 0.9555;

/// A velocity component at cell centres: the mean of the two faces.
double at_centre(const State& s, int d, int i, int j) {
  const Array2& w = s.velocity[d];
  return 0.5 * (w(i, j) + (d == 0 ? w(i + 1, j) : w(i, j + 1)));
}

/// Slope of component d along the other axis at a cell's centre: to the neighbours' centres, or to the wall,
/// where it is 0, half a cell away; one-sided at the rim of the grid.
double slope_across(const Problem& p, const State& s, int d, int i, int j) {
  const Axis& cross = p.grid.axis(1 - d);
  const int c = d == 0 ? j : i;
  const double own = at_centre(s, d, i, j);
  double value[2] = {own, own}, place[2];
  for (int side = 0; side < 2; ++side) {
    const int step = side == 0 ? -1 : 1, beyond = c + step;
    place[side] = cross.centres()[c];
    if (beyond < 0 || beyond >= cross.n()) continue;
    const int bi = d == 0 ? i : beyond, bj = d == 0 ? beyond : j;
    const int wi = d == 0 ? i : std::max(i, bi), wj = d == 0 ? std::max(j, bj) : j;
    if (p.is_solid(bi, bj) || p.is_barrier(1 - d, wi, wj)) {
      value[side] = 0.0;
      place[side] = cross.faces()[side == 0 ? c : c + 1];
    } else {
      value[side] = at_centre(s, d, bi, bj);
      place[side] = cross.centres()[beyond];
    }
  }
  return place[1] > place[0] ? (value[1] - value[0]) / (place[1] - place[0]) : 0.0;
}

double shear_rate(const Problem& p, const State& s, int i, int j) {
  const double ux = (s.u()(i + 1, j) - s.u()(i, j)) / p.grid.x.widths()[i];
  const double vy = (s.v()(i, j + 1) - s.v()(i, j)) / p.grid.y.widths()[j];
  const double turn = slope_across(p, s, 0, i, j) + slope_across(p, s, 1, i, j);
  return std::sqrt(2.0 * (ux * ux + vy * vy) + turn * turn);
}

}  // namespace

std::string Closure::problem(const Grid& grid) const {
  const Array2& l = mixing_length;
  if (!l.empty() && (l.nx() != grid.nx() || l.ny() != grid.ny())) return "closure: wrong shape";
  for (double v : l.values())
    if (!(v >= 0.0 && std::isfinite(v))) return "closure has an entry below 0 or not finite";
  if (!(turbulent_prandtl > 0.0 && std::isfinite(turbulent_prandtl)))
    return "closure.turbulent_prandtl must be positive and finite";
  return {};
}

void add_eddy(const Problem& problem, const State& state, const Array2& density, Array2* viscosity,
              Array2* conductivity) {
  const Closure& closure = problem.closure;
  const double carried = problem.fluid.specific_heat / closure.turbulent_prandtl;
  for_rows(0, density.ny(), density.size(), [&](int j) {
    for (int i = 0; i < density.nx(); ++i) {
      if (problem.is_solid(i, j)) continue;
      const double l = closure.mixing_length(i, j);
      const double eddy = l > 0.0 ? l * l * shear_rate(problem, state, i, j) : 0.0;
      (*viscosity)(i, j) += density(i, j) * eddy;
      (*conductivity)(i, j) += carried * density(i, j) * eddy;
    }
  });
}

double jet_mixing_ratio(double spread) {
  const double a = spread / kTollmienHalf;
  return std::sqrt(0.5 * a * a * a) / spread;
}

bool brings_momentum(const Problem& problem) {
  return !problem.mass_source.empty() &&
         !(problem.source_velocity[0].empty() && problem.source_velocity[1].empty());
}

void set_exchange(const Problem& problem, const Array2& volume, const State& state, Exchange* exchange) {
  const double cp = problem.fluid.specific_heat, reference = problem.fluid.temperature;
  exchange->mass.fill(0.0);
  exchange->out.fill(0.0);
  exchange->heat.fill(0.0);
  for (Array2& brought : exchange->brought) brought.fill(0.0);
  const Array2& source = problem.mass_source;
  const auto speed = [&](std::size_t d, int i, int j) {
    return problem.source_velocity[d].empty() ? 0.0 : problem.source_velocity[d](i, j);
  };
  for (int j = 0; j < source.ny(); ++j)
    for (int i = 0; i < source.nx(); ++i) {
      const double mass = source(i, j) * volume(i, j);
      const double brought =
          problem.source_temperature.empty() ? reference : problem.source_temperature(i, j);
      if (mass == 0.0) continue;
      exchange->mass(i, j) += mass;
      exchange->out(i, j) += std::min(mass, 0.0);
      exchange->heat(i, j) += mass * cp * ((mass > 0.0 ? brought : state.temperature(i, j)) - reference);
      if (exchange->brought[0].empty() || mass < 0.0) continue;
      exchange->brought[0](i, j) += mass * speed(0, i, j);
      exchange->brought[1](i, j) += mass * speed(1, i, j);
    }
}

}  // namespace tuft::flow2d
