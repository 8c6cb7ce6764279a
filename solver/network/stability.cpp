#include "solver/network/stability.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <utility>
#include <vector>

#include "solver/network/jacobian.hpp"
#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::network {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using numerics::kPi;

constexpr double kEndCorrection = 8.0 / (3.0 * kPi);  // radii of air that move along on either side

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
  const double flow_size = std::max(x.flow.lpNorm<Eigen::Infinity>(), kLeastFlow * eq.scales().flow);
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

double opening_inertance(double area, double depth) {
  numerics::require_positive(area, "area of an opening");
  numerics::require_not_negative(depth, "depth of an opening");
  return (depth + 2.0 * kEndCorrection * std::sqrt(area / kPi)) / area;
}

double fan_inertance(const physics::FanCurve& curve) {
  const double area = curve.free_delivery() * std::sqrt(0.5 * curve.density() / curve.shut_off_pressure());
  return opening_inertance(area, 0.0);
}

namespace {

// The diagonal of M.
VectorXd masses(const Equations& equations) {
  const Graph& graph = equations.graph();
  const int first = equations.n_flows() + equations.n_nodes();  // temperature
  VectorXd mass = VectorXd::Zero(first + equations.n_temperatures());
  int row = 0;
  for (const Opening& opening : graph.openings) mass[row++] = opening_inertance(opening.area, opening.depth);
  for (const FanElement& fan : graph.fans) mass[row++] = fan_inertance(fan.curve);
  row = first;
  for (const Node& node : graph.nodes) mass[row++] = node.capacity;
  for (const Body& body : graph.bodies) mass[row++] = body.capacity;
  for (int i = 0; i < equations.n_temperatures(); ++i)
    if (equations.is_held(i)) mass[first + i] = 0.0;
  return mass;
}

// What stands on the diagonal of a held temperature: its balance is "the temperature is the given one", in
// the residual's own unit.
double held_slope(const Equations& equations) {
  return -equations.scales().heat / equations.scales().temperature;
}

}  // namespace

TransientJacobian transient_jacobian(const Equations& equations, const State& x) {
  const int first = equations.n_flows() + equations.n_nodes();  // temperature
  const int n = first + equations.n_temperatures();
  TransientJacobian out{MatrixXd::Zero(n, n), masses(equations)};
  const auto add = [&](int row, int column, double value) { out.matrix(row, column) += value; };
  each_flow_slope(equations, add);
  each_heat_slope(equations, x, add);
  for (int i = 0; i < equations.n_temperatures(); ++i) {
    if (!equations.is_held(i)) continue;
    out.matrix.row(first + i).setZero();
    out.matrix(first + i, first + i) = held_slope(equations);
  }
  return out;
}

namespace {

// A growth rate and its mode, as far as the iteration got.
struct RealMode {
  double growth = -HUGE_VAL;
  double left = HUGE_VAL;  // share of the mode that is not one
  VectorXd shape;
};

// The mode whose growth is nearest a rate above nought, by inverse iteration in the norm that M gives.
RealMode mode_near(const Equations& equations, const State& x, double rate, const VectorXd& mass,
                   LinearStep& step) {
  constexpr int kTurns = 60;
  constexpr double kEnough = 1e-6;
  RealMode mode;
  if (!step.factor_implicit(equations, x, rate * mass)) return mode;
  VectorXd v(mass.size());
  for (Eigen::Index i = 0; i < v.size(); ++i)
    v[i] = equations.unit_scale()[i] * std::cos(1.0 + 3.0 * static_cast<double>(i));
  for (int i = 0; i < kTurns && mode.left > kEnough; ++i) {
    v /= std::sqrt(v.dot(mass.cwiseProduct(v)));
    const VectorXd weighed = mass.cwiseProduct(v);
    const VectorXd next = step.solve_implicit(equations, weighed);
    const double factor = weighed.dot(next);
    if (!next.allFinite() || factor == 0.0) return mode;
    const VectorXd off = next / factor - v;
    mode = {rate - 1.0 / factor, std::sqrt(off.dot(mass.cwiseProduct(off))), next};
    v = next;
  }
  return mode;
}

}  // namespace

VectorXd implicit_change(const Equations& equations, const State& x, double rate, LinearStep& step) {
  if (!step.factor_implicit(equations, x, rate * masses(equations))) return {};
  return step.solve_implicit(equations, equations.residual(x));
}

bool is_large(const Equations& equations) {
  return equations.n_flows() + equations.n_nodes() + equations.n_temperatures() >= numerics::kSparseFrom;
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

namespace {

// Of a network too large for all eigenvalues: the fastest of the modes found from rates of a hundredth to a
// hundred a second. Modes that swing are not looked for.
Stability large_stability(const Equations& equations, const State& x) {
  constexpr double kIsMode = 0.1;
  const VectorXd mass = masses(equations);
  LinearStep step(equations);
  RealMode fastest;
  for (const double rate : {0.01, 1.0, 100.0}) {
    RealMode mode = mode_near(equations, x, rate, mass, step);
    if (mode.left < kIsMode && mode.growth > fastest.growth) fastest = std::move(mode);
  }
  Stability out;
  out.mode = equations.at_rest();
  out.mode.temperature.setZero();
  out.growth = fastest.growth;
  out.stable = out.growth < 0.0;
  out.known = fastest.shape.size() > 0;
  if (out.known)
    describe(equations, x, fastest.shape.head(equations.n_flows()).cast<std::complex<double>>(),
             fastest.shape.tail(equations.n_temperatures()).cast<std::complex<double>>(), out);
  return out;
}

}  // namespace

Stability stability(const Equations& equations, const State& x) {
  if (is_large(equations)) return large_stability(equations, x);
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
