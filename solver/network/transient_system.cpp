#include "solver/network/transient_system.hpp"

#include <limits>
#include <stdexcept>

#include "solver/network/audit.hpp"
#include "solver/network/solve.hpp"
#include "solver/numerics/checks.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::network {

namespace {

// Scaled residual of a settled flow: that of a steady solve. A fan sets the scale of pressure, and once it
// stands still the flow depends on a thousandth of that.
constexpr double kSettledFlow = 1e-11;
constexpr int kMostFlowSteps = 12;
constexpr double kWorse = 10.0;  // a Newton step may raise the residual by so much once in a while

}  // namespace

QuasiSteady::QuasiSteady(const Graph& graph)
    : graph_(&graph),
      equations_(graph),
      step_(equations_, MatrixStorage::dense),
      accepted_(equations_.at_rest()),
      x_(accepted_),
      capacity_(equations_.n_temperatures()),
      heat_(equations_.n_temperatures()),
      residual_(equations_.residual_scale().size()),
      flow_lu_(step_.first_temperature()) {
  const std::string fault = connection_fault(graph);
  if (!fault.empty()) throw std::invalid_argument(fault);
  int i = 0;
  for (const Node& node : graph.nodes)
    capacity_[i++] = numerics::require_positive(node.capacity, ("capacity of " + node.name).c_str());
  for (const Body& body : graph.bodies)
    capacity_[i++] = numerics::require_positive(body.capacity, ("capacity of " + body.name).c_str());
}

void QuasiSteady::start_from(const State& near) {
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
  equations_.residual(x_, residual_);
  heat_ = residual_.tail(size());
}

// Plain Newton steps: the flow is near, as temperatures moved little since it was accepted.
bool QuasiSteady::newton() {
  evaluate();
  if (equations_.n_flows() == 0) return heat_.allFinite();
  double norm = step_.norm(equations_, x_, true);
  const double first = norm;
  for (int round = 0; norm > kSettledFlow; ++round) {
    if (round == kMostFlowSteps || !(norm <= kWorse * first)) return false;
    if (!step_.compute(equations_, x_, Inertia{}, true)) return false;
    x_.flow += step_.correction().flow;
    x_.pressure += step_.correction().pressure;
    evaluate();
    norm = step_.norm(equations_, x_, true);
  }
  return heat_.allFinite();
}

bool QuasiSteady::switch_on() {
  if (equations_.n_flows() > 0) {
    Solver solver(*graph_);
    Options options;
    options.frozen_temperature = true;
    if (!solver.solve(options).converged()) return false;
    start_from(solver.state());
  }
  fresh_ = false;
  return true;
}

// The long way, where a fan has stopped or the flow turned over.
bool QuasiSteady::march() {
  Solver solver(*graph_);
  State start = accepted_;
  start.temperature = x_.temperature;
  Options options;
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

double QuasiSteady::given() const { return total_power(*graph_); }

double QuasiSteady::left() const {
  double sum = 0.0;
  each_way_out(equations_, x_, [&](bool, double heat) { sum += heat; });
  return sum;
}

const Eigen::MatrixXd& QuasiSteady::heat_slope() {
  if (slope_known_) return slope_;
  step_.compute(equations_, x_, Inertia{}, false);  // only its matrix is wanted
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

System::System(QuasiSteady& heat, Controls& controls, double ambient)
    : heat_(&heat),
      controls_(&controls),
      ambient_(ambient),
      n_(heat.size()),
      temperature_(n_),
      rate_(n_),
      slope_(n_, n_) {}

Eigen::VectorXd System::temperatures(const Eigen::Ref<const Eigen::VectorXd>& y) const {
  return y.head(n_).array() + ambient_;
}

bool System::rates(const Eigen::Ref<const Eigen::VectorXd>& y, Eigen::Ref<Eigen::VectorXd> rate) {
  temperature_ = y.head(n_).array() + ambient_;
  if (!heat_->settle(temperature_)) return false;
  rate.head(n_) = temperature_rates();
  rate[n_] = controls_->given();
  rate[n_ + 1] = heat_->left();
  return rate.allFinite();
}

const Eigen::VectorXd& System::temperature_rates() {
  rate_ = heat_->heat().cwiseQuotient(heat_->capacity());
  for (int index : controls_->held_temperatures()) rate_[index] = 0.0;
  return rate_;
}

const Eigen::MatrixXd& System::temperature_jacobian() {
  slope_ = heat_->capacity().cwiseInverse().asDiagonal() * heat_->heat_slope();
  for (int index : controls_->held_temperatures()) slope_.row(index).setZero();
  return slope_;
}

bool System::jacobian(const Eigen::Ref<const Eigen::VectorXd>& y, Eigen::Ref<Eigen::MatrixXd> slope) {
  temperature_ = y.head(n_).array() + ambient_;
  if (!heat_->settle(temperature_)) return false;
  slope.setZero();
  const Eigen::MatrixXd& own = temperature_jacobian();
  slope.topLeftCorner(n_, n_) = own;
  // A held source's power is what its balance lacks.
  slope.row(n_).head(n_).setZero();
  const Eigen::MatrixXd& heat_slope = heat_->heat_slope();
  for (int index : controls_->held_temperatures()) slope.row(n_).head(n_) -= heat_slope.row(index);
  slope.row(n_ + 1).head(n_) = slope.row(n_).head(n_) - heat_->capacity().transpose() * own;
  return slope.allFinite();
}

bool System::roots(const Eigen::Ref<const Eigen::VectorXd>& y, double* values) {
  temperature_ = y.head(n_).array() + ambient_;
  if (controls_->roots_need_heat() && !heat_->settle(temperature_)) return false;
  controls_->roots(temperature_, values);
  return true;
}

double Distance::with_old_factors() {
  const Eigen::VectorXd& rates = system_->temperature_rates();
  if (rates.size() == 0) return 0.0;
  const Eigen::VectorXd distance = factors_.solve(-rates);
  return distance.allFinite() ? distance.cwiseAbs().maxCoeff() : std::numeric_limits<double>::infinity();
}

double Distance::fresh() {
  Eigen::MatrixXd slope = system_->temperature_jacobian();
  for (int index : controls_->held_temperatures()) slope(index, index) = -1.0;
  if (slope.rows() > 0) factors_.compute(slope);
  age_ = 0;
  return with_old_factors();
}

bool Distance::within(double kelvin) {
  // Old factors are good enough to say that it is still far.
  constexpr double kFar = 3.0;
  if (age_++ < kOld && with_old_factors() > kFar * kelvin) return false;
  return fresh() <= kelvin;
}

double fastest_growth(System& system, const Controls& controls) {
  const Eigen::MatrixXd& slope = system.temperature_jacobian();
  std::vector<int> free;
  for (int i = 0; i < static_cast<int>(slope.rows()); ++i)
    if (!controls.holds(i)) free.push_back(i);
  if (free.empty()) return -std::numeric_limits<double>::infinity();
  const Eigen::MatrixXd part = slope(free, free);
  return numerics::fastest_growth(part);
}

}  // namespace tuft::network
