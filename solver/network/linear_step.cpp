#include "solver/network/linear_step.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::network {

LinearStep::LinearStep(const Equations& equations)
    : n_fans_(equations.n_fans()),
      n_nodes_(equations.n_nodes()),
      size_(n_fans_ + 2 * n_nodes_),
      matrix_(size_, size_),
      right_(size_),
      solution_(size_),
      mass_(n_nodes_),
      heat_(n_nodes_),
      flow_lu_(n_fans_ + n_nodes_),
      full_lu_(size_),
      correction_(equations.at_rest()) {}

double LinearStep::norm(const Equations& equations, const State& x, bool frozen_temperature) {
  const Inertia none;
  return step_norm(equations, x, none, frozen_temperature);
}

double LinearStep::step_norm(const Equations& equations, const State& x, const Inertia& inertia,
                             bool frozen_temperature) {
  equations.node_residuals(x, mass_, heat_);
  const Scales& scales = equations.scales();
  double worst = 0.0;
  bool finite = true;
  const auto take = [&](double value) {
    finite = finite && std::isfinite(value);
    worst = std::max(worst, std::abs(value));
  };
  for (int e = 0; e < equations.n_flows(); ++e)
    take((equations.element(e).imbalance - inertia.flow * correction_.flow[e]) / scales.pressure);
  for (int i = 0; i < n_nodes_; ++i) take(mass_[i] / scales.flow);
  if (!frozen_temperature)
    for (int i = 0; i < n_nodes_; ++i)
      take((heat_[i] - node_inertia(equations, i, inertia) * correction_.temperature[i]) / scales.heat);
  return finite ? worst : HUGE_VAL;
}

// A node's pseudo-capacity over the step: its wall and a share of the whole flow, so that no node is without.
double LinearStep::node_inertia(const Equations& equations, int node, const Inertia& inertia) const {
  const double wall = equations.graph().nodes[static_cast<std::size_t>(node)].wall_conductance;
  return inertia.heat * (wall + equations.heat_capacity() * equations.scales().flow);
}

// Columns and rows: fans 0.., pressures n_fans.., temperatures n_fans + n_nodes...
// Unknowns are scaled by Scales, rows too, so that partial pivoting compares like with like.
void LinearStep::add_opening(const Equations& equations, const State& x, int e, double inertia) {
  const Scales& scales = equations.scales();
  const ElementState& s = equations.element(e);
  const double conductance = 1.0 / (s.slope + inertia);
  const int a = equations.side_a(e);
  const int b = equations.side_b(e);
  const int pa = n_fans_ + a, pb = n_fans_ + b;
  const int ta = pa + n_nodes_, tb = pb + n_nodes_;
  // dm = conductance (imbalance + dP_a - dP_b + imbalance_ta dT_a + imbalance_tb dT_b)
  const double m0 = conductance * s.imbalance / scales.flow;
  const double mp = conductance * scales.pressure / scales.flow;
  const double mta = conductance * s.imbalance_ta * scales.temperature / scales.flow;
  const double mtb = conductance * s.imbalance_tb * scales.temperature / scales.flow;
  const auto add_row = [&](int row, double factor) {
    right_[row] -= factor * m0;
    if (a != kOutside) {
      matrix_(row, pa) += factor * mp;
      matrix_(row, ta) += factor * mta;
    }
    if (b != kOutside) {
      matrix_(row, pb) -= factor * mp;
      matrix_(row, tb) += factor * mtb;
    }
  };
  if (a != kOutside) add_row(pa, -1.0);
  if (b != kOutside) add_row(pb, 1.0);

  const double ambient = equations.graph().ambient.temperature;
  const double difference = equations.heat_capacity() * ((a == kOutside ? ambient : x.temperature[a]) -
                                                         (b == kOutside ? ambient : x.temperature[b]));
  const double to_heat = difference * scales.flow / scales.heat;
  if (a != kOutside) add_row(ta, -to_heat * s.backward_m);
  if (b != kOutside) add_row(tb, to_heat * s.forward_m);
}

void LinearStep::add_fan(const Equations& equations, const State& x, int f, double inertia) {
  const Scales& scales = equations.scales();
  const int e = equations.n_openings() + f;
  const ElementState& s = equations.element(e);
  const int a = equations.side_a(e);
  const int b = equations.side_b(e);
  const int pa = n_fans_ + a, pb = n_fans_ + b;
  const int ta = pa + n_nodes_, tb = pb + n_nodes_;
  right_[f] -= s.imbalance / scales.pressure;
  matrix_(f, f) -= (s.slope + inertia) * scales.flow / scales.pressure;
  const double ambient = equations.graph().ambient.temperature;
  const double difference = equations.heat_capacity() * ((a == kOutside ? ambient : x.temperature[a]) -
                                                         (b == kOutside ? ambient : x.temperature[b]));
  const double to_heat = difference * scales.flow / scales.heat;
  if (a != kOutside) {
    matrix_(f, pa) += 1.0;
    matrix_(f, ta) += s.imbalance_ta * scales.temperature / scales.pressure;
    matrix_(pa, f) -= 1.0;
    matrix_(ta, f) -= to_heat * s.backward_m;
  }
  if (b != kOutside) {
    matrix_(f, pb) -= 1.0;
    matrix_(f, tb) += s.imbalance_tb * scales.temperature / scales.pressure;
    matrix_(pb, f) += 1.0;
    matrix_(tb, f) += to_heat * s.forward_m;
  }
}

// What temperature does to the heat carried at given net flows.
void LinearStep::add_advection(const Equations& equations, const State& x, int e) {
  const Scales& scales = equations.scales();
  const ElementState& s = equations.element(e);
  const int a = equations.side_a(e);
  const int b = equations.side_b(e);
  const int ta = n_fans_ + n_nodes_ + a, tb = n_fans_ + n_nodes_ + b;
  const double ambient = equations.graph().ambient.temperature;
  const double unit = equations.heat_capacity() * scales.temperature / scales.heat;
  const double difference =
      unit * ((a == kOutside ? ambient : x.temperature[a]) - (b == kOutside ? ambient : x.temperature[b]));
  const double still = equations.conductance(e) * scales.temperature / scales.heat;
  const double to_a = unit * s.backward + still;
  const double to_b = unit * s.forward + still;
  if (a != kOutside) {
    matrix_(ta, ta) -= to_a + difference * s.backward_ta;
    if (b != kOutside) matrix_(ta, tb) += to_a - difference * s.backward_tb;
  }
  if (b != kOutside) {
    matrix_(tb, tb) += -to_b + difference * s.forward_tb;
    if (a != kOutside) matrix_(tb, ta) += to_b + difference * s.forward_ta;
  }
}

void LinearStep::assemble(const Equations& equations, const State& x, const Inertia& inertia,
                          bool frozen_temperature) {
  const Scales& scales = equations.scales();
  matrix_.setZero();
  equations.node_residuals(x, mass_, heat_);
  for (int i = 0; i < n_nodes_; ++i) {
    right_[n_fans_ + i] = -mass_[i] / scales.flow;
    right_[n_fans_ + n_nodes_ + i] = -heat_[i] / scales.heat;
    const Node& node = equations.graph().nodes[static_cast<std::size_t>(i)];
    matrix_(n_fans_ + n_nodes_ + i, n_fans_ + n_nodes_ + i) -=
        (node.wall_conductance + node_inertia(equations, i, inertia)) * scales.temperature / scales.heat;
  }
  right_.head(n_fans_).setZero();
  for (int e = 0; e < equations.n_openings(); ++e) add_opening(equations, x, e, inertia.flow);
  for (int f = 0; f < n_fans_; ++f) add_fan(equations, x, f, inertia.flow);
  if (frozen_temperature) return;  // the caller solves the leading block only
  for (int e = 0; e < equations.n_flows(); ++e) add_advection(equations, x, e);
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
    const int n = n_fans_ + n_nodes_;
    flow_lu_.compute(matrix_.topLeftCorner(n, n));
    solution_.head(n) = flow_lu_.solve(right_.head(n));
  } else {
    full_lu_.compute(matrix_);
    solution_ = full_lu_.solve(right_);
  }
  const Scales& scales = equations.scales();
  correction_.pressure = solution_.segment(n_fans_, n_nodes_) * scales.pressure;
  if (frozen_temperature)
    correction_.temperature.setZero();
  else
    correction_.temperature = solution_.segment(n_fans_ + n_nodes_, n_nodes_) * scales.temperature;
  recover_flows(equations, inertia.flow);
  return correction_.pressure.allFinite() && correction_.temperature.allFinite() &&
         correction_.flow.allFinite();
}

}  // namespace tuft::network
