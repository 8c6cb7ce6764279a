#include "solver/network/transient_jacobian.hpp"

#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::heat {
namespace {

using network::ElementState;
using network::Equations;
using network::kOutside;
using network::LinkState;
using network::State;

using base::kPi;
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
      out_.matrix(heat(i), heat(i)) -= eq_.graph().nodes[static_cast<std::size_t>(i)].wall_conductance;
    set_masses();
    for (int i = 0; i < eq_.n_temperatures(); ++i)
      if (eq_.is_held(i)) set_held(i);
    set_scales();
    return out_;
  }

 private:
  int pressure(int node) const { return first_pressure_ + node; }
  int heat(int temperature) const { return first_temperature_ + temperature; }
  double temperature(int index) const {
    return index == kOutside ? eq_.graph().ambient.temperature : x_.temperature[index];
  }

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
    const int sensor = eq_.graph().fans[static_cast<std::size_t>(e - eq_.n_openings())].sensor;
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
    const double kelvins = temperature(a) - temperature(b);
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
      const network::Opening& opening = graph.openings[static_cast<std::size_t>(e)];
      out_.mass[e] = opening_inertance(opening.area, opening.depth);
    }
    for (int f = 0; f < eq_.n_fans(); ++f)
      out_.mass[eq_.n_openings() + f] = fan_inertance(graph.fans[static_cast<std::size_t>(f)].curve);
    for (int i = 0; i < eq_.n_nodes(); ++i)
      out_.mass[heat(i)] = graph.nodes[static_cast<std::size_t>(i)].capacity;
    for (int i = 0; i < eq_.n_bodies(); ++i)
      out_.mass[heat(eq_.n_nodes() + i)] = graph.bodies[static_cast<std::size_t>(i)].capacity;
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

}  // namespace

double opening_inertance(double area, double depth) {
  base::require_positive(area, "area of an opening");
  base::require_not_negative(depth, "depth of an opening");
  return (depth + 2.0 * kEndCorrection * std::sqrt(area / kPi)) / area;
}

double fan_inertance(const elements::FanCurve& curve) {
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

}  // namespace tuft::heat
