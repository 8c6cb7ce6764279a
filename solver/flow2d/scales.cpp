#include "solver/flow2d/state.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::flow2d {
namespace {

// Temperatures that differ by no more than this share of themselves are the same: some 3e-8 K (judgement).
constexpr double kRoundOff = 1e-10;

double largest(const Array2& a, double start) {
  for (std::size_t k = 0; k < a.size(); ++k) start = std::max(start, std::abs(a[k]));
  return start;
}

struct Range {
  double low, high;
  void include(double x) {
    low = std::min(low, x);
    high = std::max(high, x);
  }
};

struct GivenHeat {
  double difference = 0.0;  ///< between the temperatures that edges name [K]
  double flux = 0.0;        ///< largest through an edge, or from a source over L [W/m2]
  double power = 0.0;       ///< given in all, per depth [W/m]
};

GivenHeat given_heat(const Problem& problem, double length) {
  Range range{problem.fluid.temperature, problem.fluid.temperature};
  GivenHeat heat;
  for (std::size_t s = 0; s < 4; ++s)
    for (std::size_t k = 0; k < problem.edges[s].size(); ++k) {
      const Edge& e = problem.edges[s][k];
      if (e.heat == HeatKind::temperature || e.kind == EdgeKind::inflow) range.include(e.temperature);
      if (e.heat != HeatKind::flux) continue;
      heat.flux = std::max(heat.flux, std::abs(e.flux));
      heat.power += std::abs(e.flux) * problem.grid.axis(s < 2 ? 1 : 0).widths()[k];
    }
  for (std::size_t k = 0; k < problem.held.size(); ++k)
    if (problem.held[k]) range.include(problem.held_temperature[k]);
  for (std::size_t k = 0; k < problem.source_temperature.size(); ++k)
    if (!problem.mass_source.empty() && problem.mass_source[k] > 0.0)
      range.include(problem.source_temperature[k]);
  for (const HeatedChannels& c : problem.channels) range.include(c.metal);
  const Array2& q = problem.heat_source;
  heat.flux = std::max(heat.flux, largest(q, 0.0) * length);
  for (int j = 0; j < q.ny(); ++j)
    for (int i = 0; i < q.nx(); ++i)
      heat.power += std::abs(q(i, j)) * problem.grid.x.widths()[i] * problem.grid.y.widths()[j];
  heat.difference = range.high - range.low;
  return heat;
}

/// Temperature difference: what edges name, and what given heat causes. Conduction alone would let it rise by
/// q L / k; air moving at U carries it off at P / (rho cp U L), with U at least that of the plume it drives,
/// (g beta P / rho cp)^(1/3).
double temperature_difference(const Problem& problem, double length, double forced) {
  const Fluid& fluid = problem.fluid;
  const GivenHeat heat = given_heat(problem, length);
  const double conducted = heat.flux * length / fluid.conductivity;
  const double power = heat.power / (fluid.density * fluid.specific_heat);
  const double beta = fluid.law == DensityLaw::boussinesq ? fluid.expansion : 1.0 / fluid.temperature;
  const double plume = std::cbrt(std::hypot(problem.gravity[0], problem.gravity[1]) * std::abs(beta) * power);
  const double speed = std::max(forced, plume);
  const double carried = speed > 0.0 ? power / (speed * length) : conducted;
  return heat.difference + std::min(conducted, carried);
}

/// Mass flow per area [kg/(m2 s)] that given sources cause: what one cell sends through its own sides, and
/// what all of them send across the grid.
double speed_of_sources(const Problem& problem, double length) {
  const Array2& m = problem.mass_source;
  double in = 0.0, out = 0.0, local = 0.0;
  for (int j = 0; j < m.ny(); ++j)
    for (int i = 0; i < m.nx(); ++i) {
      const double dx = problem.grid.x.widths()[i];
      const double dy = problem.grid.y.widths()[j];
      (m(i, j) > 0.0 ? in : out) += std::abs(m(i, j)) * dx * dy;
      local = std::max(local, std::abs(m(i, j)) * std::min(dx, dy));
    }
  return std::max(local, std::max(in, out) / length);
}

}  // namespace

Scales scales_of(const Problem& problem, const State* state) {
  const Fluid& fluid = problem.fluid;
  Scales s;
  s.length = std::min(problem.grid.x.length(), problem.grid.y.length());
  s.depth = problem.depth.empty() ? 1.0 : largest(problem.depth, 0.0);
  double velocity = speed_of_sources(problem, s.length) / fluid.density, pressure = 0.0;
  for (std::size_t k = 0; k < 4; ++k)
    for (const Edge& e : problem.edges[k]) {
      velocity = std::max({velocity, std::abs(e.normal), std::abs(e.tangential)});
      if (e.kind == EdgeKind::outlet) pressure = std::max(pressure, std::abs(e.pressure));
    }
  s.temperature = problem.energy ? temperature_difference(problem, s.length, velocity) : 0.0;
  if (state != nullptr && problem.energy) {
    Range range{fluid.temperature, fluid.temperature};
    for (double t : state->temperature.values()) range.include(t);
    // A given heat flux promises far more by conduction than moving air lets happen; trust the field then,
    // but not a field that differs from the reference by round-off.
    const double round_off = kRoundOff * std::max(std::abs(range.low), std::abs(range.high));
    s.temperature = range.high - range.low > round_off ? range.high - range.low : s.temperature;
  }
  pressure += largest(problem.force[0], largest(problem.force[1], 0.0)) * s.length;
  const double nu = fluid.viscosity / fluid.density;
  const double g = std::hypot(problem.gravity[0], problem.gravity[1]);
  const double lift =
      g * s.length *
      std::abs(fluid.law == DensityLaw::boussinesq ? fluid.expansion * s.temperature
                                                   : s.temperature / (fluid.temperature + s.temperature));
  const auto driven = [&](double head) {  // head = p / rho [m2/s2]
    if (!(head > 0.0)) return 0.0;
    const double sheared = head * s.length / nu;
    const double layered =
        problem.layer_friction ? head * s.depth * s.depth / (12.0 * nu * s.length) : sheared;
    return std::min({std::sqrt(head), sheared, layered});
  };
  velocity = std::max({velocity, driven(lift), driven(pressure / fluid.density)});
  if (state != nullptr) velocity = std::max(largest(state->u(), largest(state->v(), 0.0)), 1e-3 * velocity);
  s.velocity = velocity > 0.0 ? velocity : nu / s.length;
  if (!(s.temperature > 0.0)) s.temperature = 1.0;
  const double face = s.length * s.depth;
  s.momentum = fluid.density * s.velocity * s.velocity * face + fluid.viscosity * s.velocity * s.depth;
  s.mass = fluid.density * s.velocity * face;
  s.heat = s.temperature * (s.mass * fluid.specific_heat + fluid.conductivity * s.depth);
  return s;
}

}  // namespace tuft::flow2d
