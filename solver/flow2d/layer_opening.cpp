#include "solver/flow2d/layer_model.hpp"

#include <cmath>

#include "solver/network/equations.hpp"
#include "solver/physics/two_way_flow.hpp"

namespace tuft::flow2d {
namespace {

/// E2 at the temperatures of the two sides.
struct Laws {
  physics::FluxLaw flux;
  double rise = 0.0;  // density of b less that of a
};

Laws laws_of(const OpeningLaw& part, const Fluid& fluid, double temperature_a, double temperature_b) {
  const double a = fluid.density_at(temperature_a), b = fluid.density_at(temperature_b);
  const auto viscosity = [&](double at) { return fluid.viscosity * fluid.transport_ratio(at); };
  Laws laws;
  laws.flux = physics::flux_law(part.law, {a, viscosity(temperature_a)}, {b, viscosity(temperature_b)});
  laws.rise = b - a;
  return laws;
}

void add_exchange(const OpeningLaw& part, const Laws& laws, OpeningFlow* flow) {
  const double drive = laws.rise * part.exchange_lever;
  if (!(drive > 0.0) || !(part.whole.area > 0.0)) return;
  const double share = part.area / part.whole.area;
  const double through = std::hypot(flow->forward, flow->backward) / share;
  flow->exchange =
      share *
      physics::exchange_under_heavier_air(part.whole, drive, physics::mean_strip(laws.flux), through).flow;
  flow->forward += flow->exchange;
  flow->backward += flow->exchange;
}

}  // namespace

OpeningLaw opening_law(const network::Opening& opening, const network::Vec3& gravity, double conductivity,
                       double area, double first, double second) {
  OpeningLaw part;
  part.law = opening.law;
  part.area = area;
  const double whole_first = opening.width.norm(), whole_second = opening.height.norm();
  const double along_first = whole_first > 0.0 ? gravity.dot(opening.width) / whole_first * first : 0.0;
  const double along_second = whole_second > 0.0 ? gravity.dot(opening.height) / whole_second * second : 0.0;
  part.span_lever = physics::equivalent_span(along_first, along_second);
  part.exchange_lever = network::exchange_lever(gravity, opening);
  part.whole = physics::exchange_law(opening.area, opening.depth);
  part.conductance =
      network::still_air_conductance(opening.area, opening.depth, conductivity) * (area / opening.area);
  return part;
}

OpeningFlow opening_flow(const OpeningLaw& part, const Fluid& fluid, const SideAir& a, const SideAir& b) {
  const Laws laws = laws_of(part, fluid, a.temperature, b.temperature);
  const double head = a.pressure - b.pressure, span = std::abs(laws.rise * part.span_lever);
  OpeningFlow flow;
  flow.forward = part.area * physics::gross_flux(head, span, laws.flux.forward).flux;
  flow.backward = part.area * physics::gross_flux(-head, span, laws.flux.backward).flux;
  add_exchange(part, laws, &flow);
  flow.conducted = part.conductance * (a.temperature - b.temperature);
  return flow;
}

OpeningFlow opening_flow_at(const OpeningLaw& part, const Fluid& fluid, double net, double temperature_a,
                            double temperature_b, double* head) {
  const Laws laws = laws_of(part, fluid, temperature_a, temperature_b);
  const physics::OpeningState at =
      physics::opening_at_flux(net / part.area, std::abs(laws.rise * part.span_lever), laws.flux);
  OpeningFlow flow;
  flow.forward = part.area * at.forward.flux;
  flow.backward = part.area * at.backward.flux;
  add_exchange(part, laws, &flow);
  flow.conducted = part.conductance * (temperature_a - temperature_b);
  *head = at.head;
  return flow;
}

}  // namespace tuft::flow2d
