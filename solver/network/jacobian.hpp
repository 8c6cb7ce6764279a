// The derivatives of the network's equations, one by one: what every matrix of a network is filled from.
#pragma once

#include <utility>

#include "solver/network/equations.hpp"

namespace tuft::network {

/// Calls add(row, column, value) for every derivative of momentum and mass at the state last evaluated; rows
/// as in Equations::residual, columns flows, pressures, temperatures. An entry may come in several parts.
template <typename Add>
void each_flow_slope(const Equations& eq, const Add& add) {
  const int pressures = eq.n_flows(), temperatures = pressures + eq.n_nodes();
  for (int e = 0; e < eq.n_flows(); ++e) {
    const ElementState& s = eq.element(e);
    add(e, e, -s.slope);
    const auto add_side = [&](int node, double sign, double by_temperature) {
      if (node == kOutside) return;
      add(e, pressures + node, sign);
      add(e, temperatures + node, by_temperature);
      add(pressures + node, e, -sign);
    };
    add_side(eq.side_a(e), 1.0, s.imbalance_ta);
    add_side(eq.side_b(e), -1.0, s.imbalance_tb);
    if (e < eq.n_openings()) continue;
    const int sensor = at(eq.graph().fans, e - eq.n_openings()).sensor;
    if (sensor >= 0) add(e, temperatures + sensor, s.imbalance_sensor);
  }
}

/// The same for the heat balances at the state last evaluated, which is `x`, no temperature held.
template <typename Add>
void each_heat_slope(const Equations& eq, const State& x, const Add& add) {
  const int temperatures = eq.n_flows() + eq.n_nodes();
  const double cp = eq.heat_capacity();
  // Unless one of its places is the room.
  const auto by_temperature = [&](int into, int by, double value) {
    if (into != kOutside && by != kOutside) add(temperatures + into, temperatures + by, value);
  };
  for (int i = 0; i < eq.n_nodes(); ++i) by_temperature(i, i, -at(eq.graph().nodes, i).wall_conductance);
  for (int e = 0; e < eq.n_flows(); ++e) {
    const ElementState& s = eq.element(e);
    const int a = eq.side_a(e), b = eq.side_b(e);
    const double warmth = cp * (eq.temperature_of(x, a) - eq.temperature_of(x, b));
    const auto add_carried = [&](int into, double sign, double gross, double by_m, double by_ta,
                                 double by_tb) {
      if (into == kOutside) return;
      const double conductance = cp * gross + eq.conductance(e);
      add(temperatures + into, e, sign * warmth * by_m);
      by_temperature(into, a, sign * (conductance + warmth * by_ta));
      by_temperature(into, b, sign * (-conductance + warmth * by_tb));
    };
    add_carried(a, -1.0, s.backward, s.backward_m, s.backward_ta, s.backward_tb);
    add_carried(b, 1.0, s.forward, s.forward_m, s.forward_ta, s.forward_tb);
  }
  for (int index = 0; index < eq.n_links(); ++index) {
    const LinkState& s = eq.link(index);
    for (const auto& [into, sign] : {std::pair{s.from, -1.0}, std::pair{s.into, 1.0}}) {
      if (into == kOutside) continue;
      by_temperature(into, s.from, sign * s.by_from);
      by_temperature(into, s.against, sign * s.by_against);
      const auto by_element = [&, into = into, sign = sign](const ByElement& by) {
        if (by.element < 0) return;
        add(temperatures + into, by.element, sign * by.flow);
        by_temperature(into, eq.side_a(by.element), sign * by.ta);
        by_temperature(into, eq.side_b(by.element), sign * by.tb);
      };
      by_element(s.stream);
      by_element(s.outlet);
      for (const ByElement& by : s.others) by_element(by);
    }
  }
}

}  // namespace tuft::network
