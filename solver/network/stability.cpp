#include "solver/network/stability.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::heat {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using network::Equations;
using network::State;

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
  return weight.asDiagonal() * base::kernel(incidence);
}

MatrixXd free_temperatures(const Equations& eq, const TransientJacobian& j) {
  std::vector<int> free;
  for (int i = 0; i < eq.n_temperatures(); ++i)
    if (!eq.is_held(i)) free.push_back(i);
  MatrixXd columns = MatrixXd::Zero(eq.n_temperatures(), static_cast<Eigen::Index>(free.size()));
  for (std::size_t k = 0; k < free.size(); ++k) {
    const double capacity = j.mass[eq.n_flows() + eq.n_nodes() + free[k]];
    columns(free[k], static_cast<Eigen::Index>(k)) =
        1.0 / std::sqrt(base::require_positive(capacity, "heat capacity"));
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

std::string flow_name(const network::Graph& graph, Eigen::Index e) {
  const auto i = static_cast<std::size_t>(e);
  return i < graph.openings.size() ? graph.openings[i].name : graph.fans[i - graph.openings.size()].name;
}

std::string temperature_name(const network::Graph& graph, Eigen::Index t) {
  const auto i = static_cast<std::size_t>(t);
  return i < graph.nodes.size() ? graph.nodes[i].name : graph.bodies[i - graph.nodes.size()].name;
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
  out.place =
      out.place_is_flow ? flow_name(eq.graph(), at_flow) : temperature_name(eq.graph(), at_temperature);
  const std::complex<double> largest =
      out.place_is_flow ? flow[at_flow] / flow_size : temperature[at_temperature] / rise;
  out.mode.flow = (flow / largest).real();
  out.mode.temperature = (temperature / largest).real();
  out.mode.pressure = VectorXd::Zero(eq.n_nodes());
}

}  // namespace

Stability stability(const Equations& equations, const State& x) {
  const Reduced r = reduced(equations, transient_jacobian(equations, x));
  Stability out;
  out.mode = equations.at_rest();
  out.mode.temperature.setZero();
  out.stable = true;
  out.growth = -HUGE_VAL;
  const Eigen::Index n = r.flows.cols();
  if (r.matrix.rows() == 0) return out;  // nothing can move
  const base::FastestMode mode = base::fastest_mode(r.matrix);
  out.growth = mode.growth;
  out.frequency = mode.frequency;
  out.stable = out.growth < 0.0;
  const Eigen::VectorXcd& way = mode.vector;
  describe(equations, x, r.flows * way.head(n), r.temperatures * way.tail(way.size() - n), out);
  return out;
}

}  // namespace tuft::heat
