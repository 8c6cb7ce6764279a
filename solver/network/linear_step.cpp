#include "solver/network/linear_step.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::network {

LinearStep::LinearStep(const Equations& equations)
    : n_fans_(equations.n_fans()),
      n_nodes_(equations.n_nodes()),
      n_temperatures_(equations.n_temperatures()),
      first_temperature_(n_fans_ + n_nodes_),
      size_(first_temperature_ + n_temperatures_),
      matrix_(size_, size_),
      right_(size_),
      solution_(size_),
      mass_(n_nodes_),
      heat_(n_temperatures_),
      changes_(static_cast<std::size_t>(equations.n_openings())),
      flow_lu_(first_temperature_),
      heat_lu_(n_temperatures_),
      full_lu_(size_),
      correction_(equations.at_rest()) {}

double LinearStep::norm(const Equations& equations, const State& x, bool frozen_temperature) {
  return step_norms(equations, x, Inertia{}, frozen_temperature).steady;
}

LinearStep::StepNorms LinearStep::step_norms(const Equations& equations, const State& x,
                                             const Inertia& inertia, bool frozen_temperature) {
  equations.node_residuals(x, mass_, heat_);
  const Scales& scales = equations.scales();
  StepNorms worst;
  bool finite = true;
  const auto take = [&](double residual, double by_step, double scale) {
    finite = finite && std::isfinite(residual) && std::isfinite(by_step);
    worst.steady = std::max(worst.steady, std::abs(residual) / scale);
    worst.left = std::max(worst.left, std::abs(residual - by_step) / scale);
  };
  for (int e = 0; e < equations.n_flows(); ++e)
    take(equations.element(e).imbalance, inertia.flow * correction_.flow[e], scales.pressure);
  for (int i = 0; i < n_nodes_; ++i) take(mass_[i], 0.0, scales.flow);
  if (!frozen_temperature)
    for (int i = 0; i < n_temperatures_; ++i)
      take(heat_[i], temperature_inertia(equations, i, inertia) * correction_.temperature[i], scales.heat);
  if (!finite) worst = {HUGE_VAL, HUGE_VAL};
  return worst;
}

// A temperature's pseudo-capacity over the step: its wall and a share of the whole flow, so that none is
// without.
double LinearStep::temperature_inertia(const Equations& equations, int index, const Inertia& inertia) const {
  const double wall = index < n_nodes_ ? at(equations.graph().nodes, index).wall_conductance : 0.0;
  return inertia.heat * (wall + equations.heat_capacity() * equations.scales().flow);
}

// Adds to a row what it owes to the change of element e's flow: `factor` times the scaled change. An
// opening's change is expanded by its momentum equation, a fan's is an unknown of its own.
void LinearStep::add_flow_change(const Equations& equations, int row, int e, double factor) {
  if (e >= equations.n_openings()) {
    matrix_(row, e - equations.n_openings()) += factor;
    return;
  }
  const FlowChange& change = at(changes_, e);
  const int a = equations.side_a(e);
  const int b = equations.side_b(e);
  right_[row] -= factor * change.constant;
  if (a != kOutside) {
    matrix_(row, pressure_row(a)) += factor * change.by_pressure;
    matrix_(row, temperature_row(a)) += factor * change.by_ta;
  }
  if (b != kOutside) {
    matrix_(row, pressure_row(b)) -= factor * change.by_pressure;
    matrix_(row, temperature_row(b)) += factor * change.by_tb;
  }
}

void LinearStep::add_mass(const Equations& equations, int e) {
  const int a = equations.side_a(e);
  const int b = equations.side_b(e);
  if (a != kOutside) add_flow_change(equations, pressure_row(a), e, -1.0);
  if (b != kOutside) add_flow_change(equations, pressure_row(b), e, 1.0);
}

void LinearStep::add_heat(const Equations& equations, const State& x, int e) {
  const Scales& scales = equations.scales();
  const ElementState& s = equations.element(e);
  const int a = equations.side_a(e);
  const int b = equations.side_b(e);
  const double kelvins = equations.temperature_of(x, a) - equations.temperature_of(x, b);
  // Through the net flow ...
  const double by_flow = equations.heat_capacity() * kelvins * scales.flow / scales.heat;
  if (a != kOutside) add_flow_change(equations, temperature_row(a), e, -by_flow * s.backward_m);
  if (b != kOutside) add_flow_change(equations, temperature_row(b), e, by_flow * s.forward_m);
  // ... and at a given net flow.
  const double unit = equations.heat_capacity() * scales.temperature / scales.heat;
  const double difference = unit * kelvins;
  const double still = equations.conductance(e) * scales.temperature / scales.heat;
  const double to_a = unit * s.backward + still;
  const double to_b = unit * s.forward + still;
  if (a != kOutside) {
    matrix_(temperature_row(a), temperature_row(a)) -= to_a + difference * s.backward_ta;
    if (b != kOutside) matrix_(temperature_row(a), temperature_row(b)) += to_a - difference * s.backward_tb;
  }
  if (b != kOutside) {
    matrix_(temperature_row(b), temperature_row(b)) += -to_b + difference * s.forward_tb;
    if (a != kOutside) matrix_(temperature_row(b), temperature_row(a)) += to_b + difference * s.forward_ta;
  }
}

// A fan's own momentum equation.
void LinearStep::add_fan(const Equations& equations, int f, double inertia) {
  const Scales& scales = equations.scales();
  const int e = equations.n_openings() + f;
  const ElementState& s = equations.element(e);
  const int a = equations.side_a(e);
  const int b = equations.side_b(e);
  const double per_kelvin = scales.temperature / scales.pressure;
  right_[f] -= s.imbalance / scales.pressure;
  matrix_(f, f) -= (s.slope + inertia) * scales.flow / scales.pressure;
  if (a != kOutside) {
    matrix_(f, pressure_row(a)) += 1.0;
    matrix_(f, temperature_row(a)) += s.imbalance_ta * per_kelvin;
  }
  if (b != kOutside) {
    matrix_(f, pressure_row(b)) -= 1.0;
    matrix_(f, temperature_row(b)) += s.imbalance_tb * per_kelvin;
  }
  const int sensor = at(equations.graph().fans, f).sensor;
  if (sensor != kNoSensor) matrix_(f, temperature_row(sensor)) += s.imbalance_sensor * per_kelvin;
}

// What a heat balance owes to an element's flow and to the temperatures of its sides.
void LinearStep::add_by_element(const Equations& equations, int row, double sign, const ByElement& by) {
  if (by.element < 0) return;
  const Scales& scales = equations.scales();
  const double unit = sign * scales.temperature / scales.heat;
  add_flow_change(equations, temperature_row(row), by.element, sign * by.flow * scales.flow / scales.heat);
  const int a = equations.side_a(by.element);
  const int b = equations.side_b(by.element);
  if (a != kOutside) matrix_(temperature_row(row), temperature_row(a)) += unit * by.ta;
  if (b != kOutside) matrix_(temperature_row(row), temperature_row(b)) += unit * by.tb;
}

// Heat from one temperature to another; the four entries and, for streams, the flow's.
void LinearStep::add_link(const Equations& equations, int index) {
  const Scales& scales = equations.scales();
  const LinkState& s = equations.link(index);
  const double unit = scales.temperature / scales.heat;
  const auto add = [&](int row, double sign) {
    if (row == kOutside) return;
    if (s.from != kOutside) matrix_(temperature_row(row), temperature_row(s.from)) += sign * unit * s.by_from;
    if (s.against != kOutside)
      matrix_(temperature_row(row), temperature_row(s.against)) += sign * unit * s.by_against;
    add_by_element(equations, row, sign, s.stream);
    add_by_element(equations, row, sign, s.outlet);
  };
  add(s.from, -1.0);
  add(s.into, 1.0);
}

void LinearStep::assemble(const Equations& equations, const State& x, const Inertia& inertia,
                          bool frozen_temperature, bool frozen_flow) {
  const Scales& scales = equations.scales();
  matrix_.setZero();
  right_.head(n_fans_).setZero();
  equations.node_residuals(x, mass_, heat_);
  for (int i = 0; i < n_nodes_; ++i) right_[pressure_row(i)] = -mass_[i] / scales.flow;
  for (int i = 0; i < n_temperatures_; ++i) {
    const double wall = i < n_nodes_ ? at(equations.graph().nodes, i).wall_conductance : 0.0;
    right_[temperature_row(i)] = -heat_[i] / scales.heat;
    matrix_(temperature_row(i), temperature_row(i)) -=
        (wall + temperature_inertia(equations, i, inertia)) * scales.temperature / scales.heat;
  }
  for (int e = 0; e < equations.n_openings(); ++e) {
    const ElementState& s = equations.element(e);
    const double conductance = frozen_flow ? 0.0 : 1.0 / ((s.slope + inertia.flow) * scales.flow);
    at(changes_, e) = {conductance * s.imbalance, conductance * scales.pressure,
                       conductance * s.imbalance_ta * scales.temperature,
                       conductance * s.imbalance_tb * scales.temperature};
  }
  for (int e = 0; e < equations.n_flows(); ++e) add_mass(equations, e);
  for (int f = 0; f < n_fans_; ++f) add_fan(equations, f, inertia.flow);
  if (frozen_temperature) return;  // the caller solves the leading block only
  for (int e = 0; e < equations.n_flows(); ++e) add_heat(equations, x, e);
  for (int link = 0; link < equations.n_links(); ++link) add_link(equations, link);
  for (int i = 0; i < n_temperatures_; ++i) {
    if (!equations.is_held(i)) continue;
    matrix_.row(temperature_row(i)).setZero();
    matrix_(temperature_row(i), temperature_row(i)) = -1.0;
    right_[temperature_row(i)] = -equations.held_residual(x, i) / scales.temperature;
  }
}

void LinearStep::recover_flows(const Equations& equations, double inertia) {
  const Scales& scales = equations.scales();
  for (int e = 0; e < equations.n_openings(); ++e) {
    const ElementState& s = equations.element(e);
    const int a = equations.side_a(e);
    const int b = equations.side_b(e);
    double push = s.imbalance;
    if (a != kOutside) push += correction_.pressure[a] + s.imbalance_ta * correction_.temperature[a];
    if (b != kOutside) push += -correction_.pressure[b] + s.imbalance_tb * correction_.temperature[b];
    correction_.flow[e] = push / (s.slope + inertia);
  }
  for (int f = 0; f < n_fans_; ++f) correction_.flow[equations.n_openings() + f] = solution_[f] * scales.flow;
}

bool LinearStep::compute(const Equations& equations, const State& x, const Inertia& inertia,
                         bool frozen_temperature) {
  assemble(equations, x, inertia, frozen_temperature);
  if (frozen_temperature) {
    const int n = first_temperature_;
    flow_lu_.compute(matrix_.topLeftCorner(n, n));
    flow_lu_.solve_into(right_.head(n), solution_.head(n));
  } else {
    full_lu_.compute(matrix_);
    full_lu_.solve_into(right_, solution_);
  }
  const Scales& scales = equations.scales();
  correction_.pressure = solution_.segment(n_fans_, n_nodes_) * scales.pressure;
  if (frozen_temperature)
    correction_.temperature.setZero();
  else
    correction_.temperature = solution_.tail(n_temperatures_) * scales.temperature;
  recover_flows(equations, inertia.flow);
  return correction_.pressure.allFinite() && correction_.temperature.allFinite() &&
         correction_.flow.allFinite();
}

// With every opening's flow fixed its change is nothing: the temperature block then stands alone.
bool LinearStep::compute_heat(const Equations& equations, const State& x) {
  if (n_temperatures_ == 0) return false;
  assemble(equations, x, Inertia{}, false, true);
  const int n = n_temperatures_;
  heat_lu_.compute(matrix_.bottomRightCorner(n, n));
  heat_lu_.solve_into(right_.tail(n), solution_.tail(n));
  correction_.temperature = solution_.tail(n) * equations.scales().temperature;
  return correction_.temperature.allFinite();
}

}  // namespace tuft::network
