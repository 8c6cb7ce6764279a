#include "solver/network/transient_system.hpp"

#include <algorithm>
#include <limits>

#include "solver/numerics/dense.hpp"

namespace tuft::transient {

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
  ++n_rates;
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
  return base::fastest_growth(part);
}

}  // namespace tuft::transient
