#include "solver/network/fan_speed.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <utility>
#include <vector>

#include "solver/network/assemble.hpp"
#include "solver/numerics/checks.hpp"

namespace tuft::network {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

// Where a table takes a speed on its way to its point `above`; infinite before its first and beyond its last.
double place_of(double speed, const numerics::Ramp& table, std::vector<double>::const_iterator above) {
  const std::vector<double>&x = table.x(), &y = table.y();
  if (above == y.begin()) return -kNever;
  if (above == y.end()) return kNever;
  const std::size_t i = above - y.begin();
  return x[i - 1] + (speed - y[i - 1]) / (y[i] - y[i - 1]) * (x[i] - x[i - 1]);
}

}  // namespace

FanOrder order_to(const geometry::Device& device, const geometry::Load& load, int fan) {
  const geometry::Fan& of_device = at(device.fans, fan);
  for (const geometry::FanSetting& setting : load.fans) {
    if (setting.fan != fan) continue;
    return {setting.state == geometry::FanState::stopped ? 0.0 : *setting.speed,
            of_device.speed_control.given && setting.state == geometry::FanState::speed_control};
  }
  return {*of_device.speed, of_device.speed_control.given};
}

numerics::CurveValue speed_and_slope(const FanElement& fan, const Graph& graph, const State& x) {
  if (fan.sensor == kNoSensor) return {fan.speed, 0.0};
  return fan.speed_control.at(fan.sensor == kOutside ? graph.ambient.temperature : x.temperature[fan.sensor]);
}

void speed_up(FanElement& fan, double factor) {
  fan.speed *= factor;
  if (fan.sensor == kNoSensor) return;
  std::vector<double> speeds = fan.speed_control.y();
  for (double& speed : speeds) speed *= factor;
  fan.speed_control = numerics::Ramp(fan.speed_control.x(), speeds);
}

numerics::Ramp slowing_table(const numerics::Ramp& table, double hysteresis) {
  std::vector<double> x = table.x();
  for (double& value : x) value -= hysteresis;
  return {x, table.y()};
}

PlayOperator::PlayOperator(numerics::Ramp table, double hysteresis)
    : table_(std::move(table)),
      hysteresis_(numerics::require_not_negative(hysteresis, "hysteresis of a fan")) {
  if (table_.empty()) throw std::invalid_argument("a fan that follows a temperature needs a table");
  if (!std::is_sorted(table_.y().begin(), table_.y().end()))
    throw std::invalid_argument("the speeds of a fan's table must not fall");
  falling_ = slowing_table(table_, hysteresis_);
}

double PlayOperator::clamped(double speed, double temperature) const {
  return std::clamp(speed, least(temperature), most(temperature));
}

double PlayOperator::goes_up_at(double speed) const {
  const std::vector<double>& y = table_.y();
  return place_of(speed, table_, std::upper_bound(y.begin(), y.end(), speed));
}

double PlayOperator::goes_down_at(double speed) const {
  const std::vector<double>& y = falling_.y();
  return place_of(speed, falling_, std::lower_bound(y.begin(), y.end(), speed));
}

}  // namespace tuft::network
