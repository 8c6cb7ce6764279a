#include "solver/flow2d/exchange.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::field {

VentFlow vent_flow(const Fluid& fluid, const CellVent& vent, double pressure, double temperature) {
  const double drive = vent.pressure - pressure;
  const double upstream = drive > 0.0 ? vent.temperature : temperature;
  const double density = fluid.density_at(upstream);
  const double a = vent.viscous * fluid.viscosity * fluid.transport_ratio(upstream),
               b = (drive > 0.0 ? vent.inertial : vent.inertial - vent.approach) * density;
  const double root = std::sqrt(a * a + 4.0 * b * std::abs(drive));
  const double velocity = 2.0 * drive / (a + root);  // the stable form of the quadratic's root
  return {density * velocity * vent.area, density * vent.area / root, upstream};
}

bool brings_momentum(const Problem& problem) {
  const bool sources = !problem.mass_source.empty() &&
                       !(problem.source_velocity[0].empty() && problem.source_velocity[1].empty());
  return sources || std::any_of(problem.vents.begin(), problem.vents.end(),
                                [](const CellVent& v) { return v.jet[0] != 0.0 || v.jet[1] != 0.0; });
}

void set_exchange(const Problem& problem, const Array2& volume, const State& state, Exchange* exchange) {
  const double cp = problem.fluid.specific_heat, reference = problem.fluid.temperature;
  exchange->mass.fill(0.0);
  exchange->out.fill(0.0);
  exchange->heat.fill(0.0);
  for (Array2& brought : exchange->brought) brought.fill(0.0);
  const auto bring = [&](int i, int j, double mass, double u, double v) {
    if (exchange->brought[0].empty() || !(mass > 0.0)) return;
    exchange->brought[0](i, j) += mass * u;
    exchange->brought[1](i, j) += mass * v;
  };
  const auto add = [&](int i, int j, double mass, double temperature) {
    exchange->mass(i, j) += mass;
    exchange->out(i, j) += std::min(mass, 0.0);
    exchange->heat(i, j) += mass * cp * (temperature - reference);
  };
  const Array2& source = problem.mass_source;
  const auto speed = [&](std::size_t d, int i, int j) {
    return problem.source_velocity[d].empty() ? 0.0 : problem.source_velocity[d](i, j);
  };
  for (int j = 0; j < source.ny(); ++j)
    for (int i = 0; i < source.nx(); ++i) {
      const double mass = source(i, j) * volume(i, j);
      const double brought =
          problem.source_temperature.empty() ? reference : problem.source_temperature(i, j);
      if (mass != 0.0) add(i, j, mass, mass > 0.0 ? brought : state.temperature(i, j));
      if (mass > 0.0) bring(i, j, mass, speed(0, i, j), speed(1, i, j));
    }
  for (const CellVent& v : problem.vents) {
    const VentFlow flow = vent_flow(problem.fluid, v, state.pressure(v.i, v.j), state.temperature(v.i, v.j));
    add(v.i, v.j, flow.mass, flow.temperature);
    const double w = flow.mass / (problem.fluid.density_at(flow.temperature) * v.area);
    bring(v.i, v.j, flow.mass, v.jet[0] * w, v.jet[1] * w);
  }
}

}  // namespace tuft::field
