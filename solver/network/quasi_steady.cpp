#include "solver/network/quasi_steady.hpp"

#include <cmath>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/network/solve.hpp"

namespace tuft::transient {
namespace {

using network::kOutside;

// Scaled residual of a settled flow: that of a steady solve. A fan sets the scale of pressure, and once it
// stands still the flow hangs on a thousandth of that.
constexpr double kTolerance = 1e-11;
constexpr int kMostSteps = 12;
constexpr double kWorse = 10.0;  // a Newton step may raise the residual by so much once in a while

}  // namespace

QuasiSteady::QuasiSteady(const network::Graph& graph)
    : graph_(&graph),
      equations_(graph),
      step_(equations_),
      accepted_(equations_.at_rest()),
      x_(accepted_),
      capacity_(equations_.n_temperatures()),
      heat_(equations_.n_temperatures()),
      mass_(equations_.n_nodes()),
      flow_lu_(step_.first_temperature()) {
  const std::string fault = network::connection_fault(graph);
  if (!fault.empty()) throw std::invalid_argument(fault);
  int i = 0;
  for (const network::Node& node : graph.nodes)
    capacity_[i++] = base::require_positive(node.capacity, ("capacity of " + node.name).c_str());
  for (const network::Body& body : graph.bodies)
    capacity_[i++] = base::require_positive(body.capacity, ("capacity of " + body.name).c_str());
}

void QuasiSteady::start_from(const network::State& near) {
  accepted_.flow = near.flow;
  accepted_.pressure = near.pressure;
  settled_ = fresh_ = false;
}

bool QuasiSteady::settle(const Eigen::VectorXd& temperature) {
  if (settled_ && temperature == x_.temperature) return true;
  if (fresh_ && !switch_on()) return false;
  x_.flow = accepted_.flow;
  x_.pressure = accepted_.pressure;
  x_.temperature = temperature;
  slope_known_ = false;
  settled_ = newton() || march();
  return settled_;
}

void QuasiSteady::accept() {
  accepted_.flow = x_.flow;
  accepted_.pressure = x_.pressure;
}

void QuasiSteady::evaluate() {
  equations_.evaluate(x_);
  equations_.node_residuals(x_, mass_, heat_);
}

// Plain Newton steps: the flow is near, as temperatures moved little since it was accepted.
bool QuasiSteady::newton() {
  evaluate();
  if (equations_.n_flows() == 0) return heat_.allFinite();
  double norm = step_.norm(equations_, x_, true);
  const double first = norm;
  for (int round = 0; norm > kTolerance; ++round) {
    if (round == kMostSteps || !(norm <= kWorse * first)) return false;
    if (!step_.compute(equations_, x_, network::Inertia{}, true)) return false;
    x_.flow += step_.correction().flow;
    x_.pressure += step_.correction().pressure;
    evaluate();
    norm = step_.norm(equations_, x_, true);
  }
  return heat_.allFinite();
}

bool QuasiSteady::switch_on() {
  if (equations_.n_flows() > 0) {
    network::Solver solver(*graph_);
    network::Options options;
    options.frozen_temperature = true;
    if (!solver.solve(options).converged()) return false;
    start_from(solver.state());
  }
  fresh_ = false;
  return true;
}

// The long way, where a fan has stopped or the flow turned over.
bool QuasiSteady::march() {
  network::Solver solver(*graph_);
  network::State start = accepted_;
  start.temperature = x_.temperature;
  network::Options options;
  options.frozen_temperature = true;
  if (!solver.solve_from(start, options).converged()) {
    start.flow.setZero();
    start.pressure.setZero();
    if (!solver.solve_from(start, options).converged()) return false;
  }
  x_.flow = solver.state().flow;
  x_.pressure = solver.state().pressure;
  evaluate();
  return heat_.allFinite();
}

double QuasiSteady::given() const {
  double sum = 0.0;
  for (const network::Node& node : graph_->nodes) sum += node.power;
  for (const network::Body& body : graph_->bodies) sum += body.power;
  return sum;
}

double QuasiSteady::left() const {
  const double ambient = graph_->ambient.temperature;
  const double cp = equations_.heat_capacity();
  double sum = 0.0;
  for (int e = 0; e < equations_.n_flows(); ++e) {
    const int a = equations_.side_a(e);
    const int b = equations_.side_b(e);
    if ((a == kOutside) == (b == kOutside)) continue;
    const network::ElementState& element = equations_.element(e);
    const double leaving = a == kOutside ? element.backward : element.forward;
    const int inside = a == kOutside ? b : a;
    sum += (cp * leaving + equations_.conductance(e)) * (x_.temperature[inside] - ambient);
  }
  for (int i = 0; i < equations_.n_nodes(); ++i)
    sum += graph_->nodes[static_cast<std::size_t>(i)].wall_conductance * (x_.temperature[i] - ambient);
  for (int index = 0; index < equations_.n_links(); ++index) {
    const network::LinkState& way = equations_.link(index);
    if ((way.from == kOutside) == (way.into == kOutside)) continue;
    sum += way.into == kOutside ? way.heat : -way.heat;
  }
  return sum;
}

const Eigen::MatrixXd& QuasiSteady::heat_slope() {
  if (slope_known_) return slope_;
  step_.compute(equations_, x_, network::Inertia{}, false);  // only its matrix is wanted
  const Eigen::MatrixXd& matrix = step_.matrix();
  const int n_flow = step_.first_temperature();
  const int n = size();
  slope_ = matrix.bottomRightCorner(n, n);
  if (n_flow > 0) {
    flow_lu_.compute(matrix.topLeftCorner(n_flow, n_flow));
    following_ = flow_lu_.solve_columns(matrix.topRightCorner(n_flow, n));
    // Where the flow is about to turn over, its answer to warmth has no bound: leave it out there.
    if (following_.allFinite()) slope_.noalias() -= matrix.bottomLeftCorner(n, n_flow) * following_;
  }
  slope_known_ = true;
  slope_ *= equations_.scales().heat / equations_.scales().temperature;
  return slope_;
}

}  // namespace tuft::transient
