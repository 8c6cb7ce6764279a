#include "solver/network/stability.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::network {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using network::at;
using network::ElementState;
using network::Equations;
using network::kOutside;
using network::LinkState;
using network::State;
using numerics::kPi;

constexpr double kEndCorrection = 8.0 / (3.0 * kPi);  // radii of air that move along on either side

class Filler {
 public:
  Filler(const Equations& equations, const State& x)
      : eq_(equations),
        x_(x),
        first_pressure_(eq_.n_flows()),
        first_temperature_(first_pressure_ + eq_.n_nodes()) {
    const int n = first_temperature_ + eq_.n_temperatures();
    out_.matrix = Eigen::MatrixXd::Zero(n, n);
    out_.mass = Eigen::VectorXd::Zero(n);
  }

  TransientJacobian fill() {
    for (int e = 0; e < eq_.n_flows(); ++e) {
      add_momentum(e);
      add_mass(e);
      add_carried_heat(e);
    }
    for (int link = 0; link < eq_.n_links(); ++link) add_link(eq_.link(link));
    for (int i = 0; i < eq_.n_nodes(); ++i)
      out_.matrix(heat(i), heat(i)) -= at(eq_.graph().nodes, i).wall_conductance;
    set_masses();
    for (int i = 0; i < eq_.n_temperatures(); ++i)
      if (eq_.is_held(i)) set_held(i);
    set_scales();
    return out_;
  }

 private:
  int pressure(int node) const { return first_pressure_ + node; }
  int heat(int temperature) const { return first_temperature_ + temperature; }
  // Adds an entry unless one of its places is the room.
  void add_heat(int into, int by, double value) {
    if (into != kOutside && by != kOutside) out_.matrix(heat(into), heat(by)) += value;
  }

  void add_momentum(int e) {
    const ElementState& s = eq_.element(e);
    const int a = eq_.side_a(e);
    const int b = eq_.side_b(e);
    out_.matrix(e, e) -= s.slope;
    if (a != kOutside) {
      out_.matrix(e, pressure(a)) += 1.0;
      out_.matrix(e, heat(a)) += s.imbalance_ta;
    }
    if (b != kOutside) {
      out_.matrix(e, pressure(b)) -= 1.0;
      out_.matrix(e, heat(b)) += s.imbalance_tb;
    }
    if (e < eq_.n_openings()) return;
    const int sensor = at(eq_.graph().fans, e - eq_.n_openings()).sensor;
    if (sensor >= 0) out_.matrix(e, heat(sensor)) += s.imbalance_sensor;
  }

  void add_mass(int e) {
    if (eq_.side_a(e) != kOutside) out_.matrix(pressure(eq_.side_a(e)), e) -= 1.0;
    if (eq_.side_b(e) != kOutside) out_.matrix(pressure(eq_.side_b(e)), e) += 1.0;
  }

  void add_carried_heat(int e) {
    const ElementState& s = eq_.element(e);
    const double cp = eq_.heat_capacity();
    const double still = eq_.conductance(e);
    const int a = eq_.side_a(e);
    const int b = eq_.side_b(e);
    const double kelvins = eq_.temperature_of(x_, a) - eq_.temperature_of(x_, b);
    if (a != kOutside) out_.matrix(heat(a), e) -= cp * s.backward_m * kelvins;
    if (b != kOutside) out_.matrix(heat(b), e) += cp * s.forward_m * kelvins;
    add_heat(a, a, -(cp * s.backward + still) - cp * s.backward_ta * kelvins);
    add_heat(a, b, cp * s.backward + still - cp * s.backward_tb * kelvins);
    add_heat(b, a, cp * s.forward + still + cp * s.forward_ta * kelvins);
    add_heat(b, b, -(cp * s.forward + still) + cp * s.forward_tb * kelvins);
  }

  void add_link(const LinkState& s) {
    for (const auto& [into, sign] : {std::pair{s.from, -1.0}, std::pair{s.into, 1.0}}) {
      if (into == kOutside) continue;
      add_heat(into, s.from, sign * s.by_from);
      add_heat(into, s.against, sign * s.by_against);
      for (const auto* by : {&s.stream, &s.outlet}) {
        if (by->element < 0) continue;
        out_.matrix(heat(into), by->element) += sign * by->flow;
        add_heat(into, eq_.side_a(by->element), sign * by->ta);
        add_heat(into, eq_.side_b(by->element), sign * by->tb);
      }
    }
  }

  void set_masses() {
    const network::Graph& graph = eq_.graph();
    for (int e = 0; e < eq_.n_openings(); ++e) {
      const network::Opening& opening = at(graph.openings, e);
      out_.mass[e] = opening_inertance(opening.area, opening.depth);
    }
    for (int f = 0; f < eq_.n_fans(); ++f)
      out_.mass[eq_.n_openings() + f] = fan_inertance(at(graph.fans, f).curve);
    for (int i = 0; i < eq_.n_nodes(); ++i) out_.mass[heat(i)] = at(graph.nodes, i).capacity;
    for (int i = 0; i < eq_.n_bodies(); ++i)
      out_.mass[heat(eq_.n_nodes() + i)] = at(graph.bodies, i).capacity;
  }

  // Its balance is "the temperature is the given one", in the residual's own unit.
  void set_held(int i) {
    out_.matrix.row(heat(i)).setZero();
    out_.matrix(heat(i), heat(i)) = -eq_.scales().heat / eq_.scales().temperature;
    out_.mass[heat(i)] = 0.0;
  }

  void set_scales() {
    const network::Scales& scales = eq_.scales();
    const int flows = eq_.n_flows();
    const int nodes = eq_.n_nodes();
    const int temperatures = eq_.n_temperatures();
    out_.row_scale.resize(out_.mass.size());
    out_.row_scale << Eigen::VectorXd::Constant(flows, scales.pressure),
        Eigen::VectorXd::Constant(nodes, scales.flow), Eigen::VectorXd::Constant(temperatures, scales.heat);
    out_.unit_scale.resize(out_.mass.size());
    out_.unit_scale << Eigen::VectorXd::Constant(flows, scales.flow),
        Eigen::VectorXd::Constant(nodes, scales.pressure),
        Eigen::VectorXd::Constant(temperatures, scales.temperature);
  }

  const Equations& eq_;
  const State& x_;
  int first_pressure_, first_temperature_;
  TransientJacobian out_;
};

// Least sizes that a mode's parts are compared with, as shares of the network's scales.
constexpr double kLeastFlow = 1e-3;
constexpr double kLeastRise = 0.1;

// The reduced unknowns: columns that turn them into changes of flows and temperatures, and rates of both.
struct Reduced {
  MatrixXd matrix;
  MatrixXd flows;         // n_flows x loops: dm = flows * y
  MatrixXd temperatures;  // n_temperatures x free: dT = temperatures * tau
};

// Flows that leave every node's mass balanced, orthonormal when weighed with their inertance.
MatrixXd balanced_flows(const Equations& eq, const TransientJacobian& j) {
  const int flows = eq.n_flows();
  const VectorXd weight = j.mass.head(flows).cwiseSqrt().cwiseInverse();
  if (eq.n_nodes() == 0) return weight.asDiagonal();
  const MatrixXd incidence = j.matrix.block(flows, 0, eq.n_nodes(), flows) * weight.asDiagonal();
  return weight.asDiagonal() * numerics::kernel(incidence);
}

MatrixXd free_temperatures(const Equations& eq, const TransientJacobian& j) {
  std::vector<int> free;
  for (int i = 0; i < eq.n_temperatures(); ++i)
    if (!eq.is_held(i)) free.push_back(i);
  MatrixXd columns = MatrixXd::Zero(eq.n_temperatures(), static_cast<Eigen::Index>(free.size()));
  for (std::size_t k = 0; k < free.size(); ++k) {
    const double capacity = j.mass[eq.n_flows() + eq.n_nodes() + free[k]];
    columns(free[k], static_cast<Eigen::Index>(k)) =
        1.0 / std::sqrt(numerics::require_positive(capacity, "heat capacity"));
  }
  return columns;
}

// With y and tau weighed by the roots of inertance and capacity friction and conduction are symmetric; the
// two kinds are then brought to one size, for the sake of the eigenvalues' last digits.
Reduced reduced(const Equations& eq, const TransientJacobian& j) {
  Reduced r;
  r.flows = balanced_flows(eq, j);
  r.temperatures = free_temperatures(eq, j);
  const int flows = eq.n_flows();
  const int first = flows + eq.n_nodes();
  const int heats = eq.n_temperatures();
  const Eigen::Index n = r.flows.cols(), k = r.temperatures.cols();
  const MatrixXd flow_by_heat = r.flows.transpose() * j.matrix.block(0, first, flows, heats) * r.temperatures;
  const MatrixXd heat_by_flow = r.temperatures.transpose() * j.matrix.block(first, 0, heats, flows) * r.flows;
  const double there = flow_by_heat.norm(), back = heat_by_flow.norm();
  const double ratio = there > 0.0 && back > 0.0 ? std::sqrt(there / back) : 1.0;
  r.matrix.resize(n + k, n + k);
  r.matrix.topLeftCorner(n, n) = r.flows.transpose() * j.matrix.topLeftCorner(flows, flows) * r.flows;
  r.matrix.topRightCorner(n, k) = flow_by_heat / ratio;
  r.matrix.bottomLeftCorner(k, n) = heat_by_flow * ratio;
  r.matrix.bottomRightCorner(k, k) =
      r.temperatures.transpose() * j.matrix.bottomRightCorner(heats, heats) * r.temperatures;
  r.flows *= ratio;
  return r;
}

// Names the largest part of a mode and scales the mode by it.
void describe(const Equations& eq, const State& x, const Eigen::VectorXcd& flow,
              const Eigen::VectorXcd& temperature, Stability& out) {
  const double flow_size =
      std::max(x.flow.size() > 0 ? x.flow.cwiseAbs().maxCoeff() : 0.0, kLeastFlow * eq.scales().flow);
  double rise = kLeastRise * eq.scales().temperature;
  for (double t : x.temperature) rise = std::max(rise, std::abs(t - eq.graph().ambient.temperature));
  Eigen::Index at_flow = 0, at_temperature = 0;
  const double most_flow = flow.size() > 0 ? flow.cwiseAbs().maxCoeff(&at_flow) / flow_size : 0.0;
  const double most_heat =
      temperature.size() > 0 ? temperature.cwiseAbs().maxCoeff(&at_temperature) / rise : 0.0;
  out.place_is_flow = most_flow > most_heat;
  out.place = out.place_is_flow ? network::flow_name(eq.graph(), at_flow)
                                : network::temperature_name(eq.graph(), at_temperature);
  const std::complex<double> largest =
      out.place_is_flow ? flow[at_flow] / flow_size : temperature[at_temperature] / rise;
  out.mode.flow = (flow / largest).real();
  out.mode.temperature = (temperature / largest).real();
  out.mode.pressure = VectorXd::Zero(eq.n_nodes());
}

}  // namespace

double opening_inertance(double area, double depth) {
  numerics::require_positive(area, "area of an opening");
  numerics::require_not_negative(depth, "depth of an opening");
  return (depth + 2.0 * kEndCorrection * std::sqrt(area / kPi)) / area;
}

double fan_inertance(const physics::FanCurve& curve) {
  const double area = curve.free_delivery() * std::sqrt(0.5 * curve.density() / curve.shut_off_pressure());
  return opening_inertance(area, 0.0);
}

Eigen::VectorXd transient_residual(const Equations& equations, const State& x) {
  Eigen::VectorXd mass(equations.n_nodes()), heat(equations.n_temperatures());
  equations.node_residuals(x, mass, heat);
  Eigen::VectorXd residual(equations.n_flows() + mass.size() + heat.size());
  for (int e = 0; e < equations.n_flows(); ++e) residual[e] = equations.element(e).imbalance;
  residual.segment(equations.n_flows(), mass.size()) = mass;
  residual.tail(heat.size()) = heat;
  return residual;
}

TransientJacobian transient_jacobian(const Equations& equations, const State& x) {
  return Filler(equations, x).fill();
}

Eigen::VectorXd packed(const State& x) {
  Eigen::VectorXd u(x.flow.size() + x.pressure.size() + x.temperature.size());
  u << x.flow, x.pressure, x.temperature;
  return u;
}

State unpacked(const Equations& equations, const Eigen::VectorXd& u) {
  State x;
  x.flow = u.head(equations.n_flows());
  x.pressure = u.segment(equations.n_flows(), equations.n_nodes());
  x.temperature = u.tail(equations.n_temperatures());
  return x;
}

Stability stability(const Equations& equations, const State& x) {
  const Reduced r = reduced(equations, transient_jacobian(equations, x));
  Stability out;
  out.mode = equations.at_rest();
  out.mode.temperature.setZero();
  out.stable = true;
  out.growth = -HUGE_VAL;
  const Eigen::Index n = r.flows.cols();
  if (r.matrix.rows() == 0) return out;  // nothing can move
  const numerics::FastestMode mode = numerics::fastest_mode(r.matrix);
  out.growth = mode.growth;
  out.stable = out.growth < 0.0;
  const Eigen::VectorXcd& way = mode.vector;
  describe(equations, x, r.flows * way.head(n), r.temperatures * way.tail(way.size() - n), out);
  return out;
}

}  // namespace tuft::network
