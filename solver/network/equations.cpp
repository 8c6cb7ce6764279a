#include "solver/network/equations.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/fan_speed.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::network {
namespace {

// Size of a density difference the scales are made for: some 10 K.
constexpr double kTypicalDensityDifference = 0.04;
using numerics::kPi;
constexpr double kLeastPressureScale = 1e-4;  // [Pa]

}  // namespace

double still_air_conductance(double area, double depth, double conductivity) {
  const double diameter = std::sqrt(4.0 / kPi * area);
  return conductivity / (1.0 / diameter + depth / area);
}

Equations::Equations(const Graph& graph) : graph_(&graph) {
  const Ambient& ambient = graph.ambient;
  heat_capacity_ = physics::specific_heat(ambient.temperature);
  ambient_density_ = physics::density(ambient.state, ambient.temperature);
  ambient_air_.temperature = ambient.temperature;
  ambient_air_.air = {ambient_density_, physics::viscosity(ambient.temperature)};

  for (const Opening& opening : graph.openings) {
    ends_.push_back({opening.a, opening.b, height_lever(graph, opening.a, opening.centre),
                     height_lever(graph, opening.b, opening.centre)});
    OpeningGeometry geometry;
    geometry.span_lever = opening.span_left * span_lever(ambient.gravity, opening.width, opening.height);
    geometry.exchange_lever = opening.exchange * exchange_lever(ambient.gravity, opening);
    geometry.exchange = physics::exchange_law(opening.area, opening.depth);
    geometry.purging = opening.purging * opening.purging;
    geometry.conductance =
        still_air_conductance(opening.area, opening.depth, physics::conductivity(ambient.temperature));
    geometry_.push_back(geometry);
  }
  for (const FanElement& fan : graph.fans)
    ends_.push_back(
        {fan.a, fan.b, height_lever(graph, fan.a, fan.centre), height_lever(graph, fan.b, fan.centre)});
  elements_.resize(ends_.size());
  node_air_.resize(graph.nodes.size());
  if (!graph.jets.empty()) outside_.resize(graph.openings.size());
  held_.assign(graph.nodes.size() + graph.bodies.size(), 0.0);
  make_links();
  set_scales();
}

void Equations::set_scales() {
  double pressure = kLeastPressureScale;
  double flow = 0.0;
  double power = 0.0;
  for (const FanElement& fan : graph_->fans) {
    const double ratio = fan.speed / fan.curve.speed();
    pressure = std::max(pressure, fan.curve.shut_off_pressure() * ratio * ratio);
    flow += ambient_density_ * fan.curve.free_delivery() * ratio;
  }
  for (std::size_t e = 0; e < geometry_.size(); ++e) {
    const double levers = std::abs(ends_[e].lever_a) + std::abs(ends_[e].lever_b) + geometry_[e].span_lever;
    pressure = std::max(pressure, kTypicalDensityDifference * levers);
  }
  for (const Opening& opening : graph_->openings) {
    flow = std::max(flow, 1e-3 * ambient_density_ * opening.area);
    pressure = std::max(pressure, std::abs(opening.outside));
  }
  for (const Node& node : graph_->nodes) power += std::abs(node.power);
  for (const Body& body : graph_->bodies) power += std::abs(body.power);
  scales_.pressure = pressure;
  scales_.flow = std::max(flow, 1e-9);
  scales_.temperature = 10.0;
  scales_.heat = std::max(power, heat_capacity_ * scales_.flow);
  const auto all = [&](double flows, double nodes, double temperatures) {
    Eigen::VectorXd each(n_flows() + n_nodes() + n_temperatures());
    each << Eigen::VectorXd::Constant(n_flows(), flows), Eigen::VectorXd::Constant(n_nodes(), nodes),
        Eigen::VectorXd::Constant(n_temperatures(), temperatures);
    return each;
  };
  residual_scale_ = all(scales_.pressure, scales_.flow, scales_.heat);
  unit_scale_ = all(scales_.flow, scales_.pressure, scales_.temperature);
}

State Equations::at_rest() const {
  State x;
  x.flow = Eigen::VectorXd::Zero(n_flows());
  x.pressure = Eigen::VectorXd::Zero(n_nodes());
  x.temperature = Eigen::VectorXd::Constant(n_temperatures(), graph_->ambient.temperature);
  return x;
}

Equations::Side Equations::side(const State& x, int node) const {
  if (node == kOutside) return ambient_air_;
  const numerics::Sloped temperature(x.temperature[node], 1.0, 0.0);
  const numerics::Sloped density = physics::density(graph_->ambient.state, temperature);
  const numerics::Sloped viscosity = physics::viscosity(temperature);
  Side side;
  side.temperature = temperature.value;
  side.air = {density.value, viscosity.value};
  side.density_t = density.slope[0];
  side.density_rate = side.density_t * side.air.specific_volume;
  side.viscosity_rate = viscosity.slope[0] / viscosity.value;
  side.kinematic_t = side.air.kinematic * (side.viscosity_rate - side.density_rate);
  return side;
}

void Equations::evaluate(const State& x) {
  for (int i = 0; i < n_nodes(); ++i) at(node_air_, i) = side(x, i);
  evaluate_jets(x);
  for (int e = 0; e < n_openings(); ++e) evaluate_opening(x, e);
  for (int e = n_openings(); e < n_flows(); ++e) evaluate_fan(x, e);
  evaluate_links(x);
}

// The pressure of the room's air before each opening. What a jet draws with hardly acts back on its own flow,
// so that the derivatives do without it; it is in the residual whole.
void Equations::evaluate_jets(const State& x) {
  if (graph_->jets.empty()) return;
  for (int e = 0; e < n_openings(); ++e) at(outside_, e) = at(graph_->openings, e).outside;
  for (const Jet& jet : graph_->jets) {
    const double flow = std::max(x.flow[jet.outlet], 0.0);
    at(outside_, jet.beside) -= jet.per_square * flow * flow;
  }
}

// The flux law E2 of an opening at its sides' temperatures and the head over its height, with derivatives.
struct Equations::OpeningAir {
  physics::FluxLaw law;
  physics::ByLaw forward_ta, forward_tb, backward_ta, backward_tb;  // of the parts of the law
  double span;              // signed: lighter air at a pushes out at the top
  double span_ta, span_tb;  // of |span|
};

namespace {

double inner(const physics::ByLaw& by, const physics::ByLaw& change) {
  return by.alpha * change.alpha + by.upstream * change.upstream + by.inertia * change.inertia +
         by.onset * change.onset;
}

// How the parts of physics::mean_strip move when those of the two directions do.
physics::ByLaw mean_change(const physics::FluxLaw& law, const physics::ByLaw& forward,
                           const physics::ByLaw& backward) {
  const auto weighted = [](double a, double of_a, double b, double of_b) {
    return a + b > 0.0 ? (a * of_a + b * of_b) / (a + b) : 0.0;
  };
  const auto inertia = [](const physics::StripLaw& strip) { return strip.beta + strip.early + strip.late; };
  return {0.5 * (forward.alpha + backward.alpha), 0.5 * (forward.upstream + backward.upstream),
          weighted(inertia(law.forward), forward.inertia, inertia(law.backward), backward.inertia),
          weighted(law.forward.onset, forward.onset, law.backward.onset, backward.onset)};
}

}  // namespace

Equations::OpeningAir Equations::opening_air(const Opening& opening, const OpeningGeometry& geometry,
                                             const Side& a, const Side& b) const {
  OpeningAir air;
  air.law = physics::flux_law(opening.law, a.air, b.air);
  // Half of how a side's V mu/rho moves with its temperature: it is half of the mean, and half of what the
  // upstream side adds.
  const double half = 0.5 * opening.law.viscous;
  const double by_a = half * a.kinematic_t, by_b = half * b.kinematic_t;
  const auto upstream = [](double by, const Side& side) {
    return physics::ByLaw{by, by, -side.density_rate, side.viscosity_rate};
  };
  air.forward_ta = upstream(by_a, a);
  air.forward_tb = {by_b, -by_b, 0.0, 0.0};
  air.backward_tb = upstream(by_b, b);
  air.backward_ta = {by_a, -by_a, 0.0, 0.0};
  air.span = (b.air.density - a.air.density) * geometry.span_lever;
  const double sign = air.span >= 0.0 ? 1.0 : -1.0;
  air.span_ta = -sign * a.density_t * geometry.span_lever;
  air.span_tb = sign * b.density_t * geometry.span_lever;
  return air;
}

const Equations::Side& Equations::air_of(int node) const {
  return node == kOutside ? ambient_air_ : at(node_air_, node);
}

double Equations::pressure_at_lever(const State& x, int node, const Side& air, double lever,
                                    double outside) const {
  return node == kOutside ? outside : x.pressure[node] + (air.air.density - ambient_density_) * lever;
}

void Equations::evaluate_opening(const State& x, int e) {
  const Opening& opening = graph_->openings[e];
  const Ends& ends = ends_[e];
  const Side& a = air_of(ends.a);
  const Side& b = air_of(ends.b);
  const double area = opening.area;
  const OpeningAir air = opening_air(opening, geometry_[e], a, b);
  const double flux = x.flow[e] / area;
  const physics::OpeningState at = physics::opening_at_flux(flux, std::abs(air.span), air.law);
  const physics::GrossFlux& f = at.forward;
  const physics::GrossFlux& g = at.backward;

  // How the head that this flux needs moves with the temperatures: the net flux stays.
  const double head_ta = inner(at.by.forward, air.forward_ta) + inner(at.by.backward, air.backward_ta) +
                         at.by.span * air.span_ta;
  const double head_tb = inner(at.by.forward, air.forward_tb) + inner(at.by.backward, air.backward_tb) +
                         at.by.span * air.span_tb;

  ElementState& s = elements_[e];
  const double outside = graph_->jets.empty() ? opening.outside : outside_[e];
  s.head = pressure_at_lever(x, ends.a, a, ends.lever_a, outside) -
           pressure_at_lever(x, ends.b, b, ends.lever_b, outside);
  s.span = air.span;
  s.imbalance = s.head - at.head;
  s.slope = at.slope / area;
  s.imbalance_ta = a.density_t * ends.lever_a - head_ta;
  s.imbalance_tb = -b.density_t * ends.lever_b - head_tb;

  // Gross flows: through the head (which moves with m and both temperatures) and directly.
  s.forward = area * f.flux;
  s.forward_m = f.d_head * at.slope;
  s.forward_ta = area * (f.d_head * head_ta + f.d_span * air.span_ta + inner(f.by, air.forward_ta));
  s.forward_tb = area * (f.d_head * head_tb + f.d_span * air.span_tb + inner(f.by, air.forward_tb));
  s.backward = area * g.flux;
  s.backward_m = g.d_head * at.slope;
  s.backward_ta = area * (g.d_head * head_ta + g.d_span * air.span_ta + inner(g.by, air.backward_ta));
  s.backward_tb = area * (g.d_head * head_tb + g.d_span * air.span_tb + inner(g.by, air.backward_tb));
  s.exchange = 0.0;
  const double lever = geometry_[e].exchange_lever;
  if ((b.air.density - a.air.density) * lever > 0.0) add_exchange(geometry_[e], air, a, b, s);
  const PlumeStream::Exchange plume = opening.plume.exchange(x.flow[e]);
  s.forward += opening.mixing + plume.flow;
  s.forward_m += plume.slope;
  s.backward += opening.mixing + plume.flow;
  s.backward_m += plume.slope;
}

// Exchange when the heavier air is above (b lies above a where the lever is positive): as much more each way.
void Equations::add_exchange(const OpeningGeometry& geometry, const OpeningAir& air, const Side& a,
                             const Side& b, ElementState& s) const {
  const double lever = geometry.exchange_lever;
  const double through = std::sqrt(s.forward * s.forward + geometry.purging * s.backward * s.backward);
  const physics::StripLaw strip = physics::mean_strip(air.law);
  const physics::ByLaw strip_ta = mean_change(air.law, air.forward_ta, air.backward_ta);
  const physics::ByLaw strip_tb = mean_change(air.law, air.forward_tb, air.backward_tb);
  const physics::Exchange crossing = physics::exchange_under_heavier_air(
      geometry.exchange, (b.air.density - a.air.density) * lever, strip, through);
  const double by_forward = through > 0.0 ? crossing.d_through * s.forward / through : 0.0;
  const double by_backward =
      through > 0.0 ? crossing.d_through * geometry.purging * s.backward / through : 0.0;
  const double by_m = by_forward * s.forward_m + by_backward * s.backward_m;
  const double by_ta = -crossing.d_drive * a.density_t * lever + inner(crossing.by, strip_ta) +
                       by_forward * s.forward_ta + by_backward * s.backward_ta;
  const double by_tb = crossing.d_drive * b.density_t * lever + inner(crossing.by, strip_tb) +
                       by_forward * s.forward_tb + by_backward * s.backward_tb;
  s.exchange = crossing.flow;
  s.forward += crossing.flow;
  s.forward_m += by_m;
  s.forward_ta += by_ta;
  s.forward_tb += by_tb;
  s.backward += crossing.flow;
  s.backward_m += by_m;
  s.backward_ta += by_ta;
  s.backward_tb += by_tb;
}

void Equations::evaluate_fan(const State& x, int e) {
  const auto index = static_cast<std::size_t>(e);
  const FanElement& fan = graph_->fans[index - graph_->openings.size()];
  const Ends& ends = ends_[index];
  const Side& a = air_of(ends.a);
  const Side& b = air_of(ends.b);
  const double flow = x.flow[e];
  // The density at the fan's inlet counts in both directions of flow, so that the law stays smooth.
  const double volume = flow / a.air.density;
  const numerics::CurveValue speed = speed_and_slope(fan, *graph_, x);
  const physics::FanRise rise = fan.curve.rise(volume, speed.value, a.air.density);

  ElementState& s = elements_[index] = ElementState{};
  s.head =
      pressure_at_lever(x, ends.a, a, ends.lever_a, 0.0) - pressure_at_lever(x, ends.b, b, ends.lever_b, 0.0);
  s.imbalance = s.head + rise.pressure;
  s.slope = -rise.slope / a.air.density;
  // rise = (rho/rho0) n^2 f(Q/n) with Q = m/rho:  d/drho = rise/rho - slope Q/rho.
  const double rise_density = (rise.pressure - rise.slope * volume) / a.air.density;
  s.imbalance_ta = a.density_t * ends.lever_a + rise_density * a.density_t;
  s.imbalance_tb = -b.density_t * ends.lever_b;
  // rise = n^2 f(Q/n): d/dn = (2 rise - slope Q) / n; the still rotor's part does not depend on the speed.
  s.imbalance_sensor =
      speed.value > 0.0 ? speed.slope * (2.0 * rise.pressure - rise.slope * volume) / speed.value : 0.0;
  s.forward = std::max(flow, 0.0);
  s.forward_m = flow > 0.0 ? 1.0 : 0.0;
  s.backward = std::max(-flow, 0.0);
  s.backward_m = flow > 0.0 ? 0.0 : -1.0;
}

// Heat into every temperature's lump [W], held or not.
void Equations::heat_balances(const State& x, Eigen::Ref<Eigen::VectorXd> heat) const {
  const double ambient = graph_->ambient.temperature;
  for (int i = 0; i < n_nodes(); ++i) {
    const Node& node = at(graph_->nodes, i);
    heat[i] = node.power - node.wall_conductance * (x.temperature[i] - ambient);
  }
  for (int i = 0; i < n_bodies(); ++i) heat[n_nodes() + i] = at(graph_->bodies, i).power;
  for (int e = 0; e < n_flows(); ++e) {
    const int a = side_a(e);
    const int b = side_b(e);
    const ElementState& s = at(elements_, e);
    const double difference = temperature_of(x, a) - temperature_of(x, b);
    if (a != kOutside) heat[a] -= (heat_capacity_ * s.backward + conductance(e)) * difference;
    if (b != kOutside) heat[b] += (heat_capacity_ * s.forward + conductance(e)) * difference;
  }
  for (const LinkState& link : links_) {
    if (link.from != kOutside) heat[link.from] -= link.heat;
    if (link.into != kOutside) heat[link.into] += link.heat;
  }
}

void Equations::residual(const State& x, Eigen::VectorXd& all) const {
  for (int e = 0; e < n_flows(); ++e) all[e] = at(elements_, e).imbalance;
  auto mass = all.segment(n_flows(), n_nodes());
  mass.setZero();
  for (int e = 0; e < n_flows(); ++e) {
    if (side_a(e) != kOutside) mass[side_a(e)] -= x.flow[e];
    if (side_b(e) != kOutside) mass[side_b(e)] += x.flow[e];
  }
  auto heat = all.tail(n_temperatures());
  heat_balances(x, heat);
  for (int i = 0; i < n_temperatures(); ++i)
    if (is_held(i)) heat[i] = held_residual(x, i) * scales_.heat / scales_.temperature;
}

double Equations::heat_to_hold(const State& x, int temperature) const {
  Eigen::VectorXd heat(n_temperatures());
  heat_balances(x, heat);
  return -heat[temperature];
}

void Equations::hold(int temperature, double value) { at(held_, temperature) = value; }
void Equations::release(int temperature) { at(held_, temperature) = 0.0; }

}  // namespace tuft::network
