#include "solver/physics/fan.hpp"

#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

using numerics::kPi;

void check_points(const std::vector<FanPoint>& points) {
  if (points.size() < 2) throw std::invalid_argument("fan curve: at least two points are needed");
  if (points.front().flow != 0.0) throw std::invalid_argument("fan curve: the first flow must be 0");
  if (!(points.front().pressure > 0.0))
    throw std::invalid_argument("fan curve: the pressure at zero flow must be > 0");
  if (!(points.back().pressure < points[points.size() - 2].pressure))
    throw std::invalid_argument("fan curve: the last point must lie below the one before it");
}

/// Flow at which a curve that ends below zero pressure crosses zero, by bisection to the last digit.
double crossing(const numerics::MonotoneCubic& curve) {
  std::size_t i = curve.x().size() - 1;
  while (curve.y()[i - 1] < 0.0) --i;  // ends: the first pressure is > 0
  double low = curve.x()[i - 1], high = curve.x()[i];
  while (true) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) return middle;
    (curve(middle).value >= 0.0 ? low : high) = middle;
  }
}

/// Free delivery if the curve went straight on from its last point; its end slope is < 0.
double straight_zero_flow(const numerics::MonotoneCubic& curve) {
  const double p = curve.y().back();
  return p < 0.0 ? crossing(curve) : curve.x().back() - p / curve.slopes().back();
}

/// Free delivery with the continuation p1 + s x - k x^2 past the last point.
double zero_flow(const numerics::MonotoneCubic& curve, double k) {
  const double p = curve.y().back(), s = curve.slopes().back();
  return p < 0.0 ? crossing(curve) : curve.x().back() + 2.0 * p / (std::sqrt(s * s + 4.0 * k * p) - s);
}

// JUDGEMENT: chosen so that a 52 mm x 5 mm blower at 4600 rpm gives 2 L/s freely and 120 Pa at most, inside
// the common range of notebook blowers, 1.4-2.8 L/s and 100-300 Pa (common practice, no source). The flow
// goes with the impeller's rim area pi D t.
constexpr double blower_flow = 0.20;      // free delivery over (pi D t U)
constexpr double blower_pressure = 1.30;  // shut-off pressure over (rho U^2 / 2)

// Geometric means of 15 axial fans of 30 to 92 mm in their makers' data sheets (tests/published/
// fan_data_sheets_test.cpp), with the frame's size for the diameter: flow 0.215 with a scatter of 1.19,
// pressure 0.377 with 1.13 (one standard deviation, as factors). Free delivery over ((pi/4) D^2 U).
constexpr double axial_flow = 0.215;
constexpr double axial_pressure = 0.377;

// Shapes [-]: flow over free delivery, pressure over shut-off. A blower's falls smoothly; an axial fan's has
// the flat stretch of the stalled blades (judgement).
const std::vector<FanPoint> blower_shape = {{0.0, 1.0}, {0.25, 0.92}, {0.5, 0.74}, {0.75, 0.44}, {1.0, 0.0}};
const std::vector<FanPoint> axial_shape = {{0.0, 1.0},  {0.2, 0.80},  {0.4, 0.62},
                                           {0.5, 0.58}, {0.75, 0.36}, {1.0, 0.0}};

}  // namespace

FanCurve::FanCurve(numerics::MonotoneCubic curve, double speed, double density)
    : curve_(std::move(curve)), speed_(speed), density_(density) {
  const double free = straight_zero_flow(curve_);
  resistance_ = locked_rotor_loss * shut_off_pressure() / (free * free);
  backward_resistance_ = resistance_;
  free_delivery_ = zero_flow(curve_, resistance_);
}

FanCurve FanCurve::from_points(const std::vector<FanPoint>& points, double speed, double density) {
  check_points(points);
  std::vector<double> flow, pressure;
  for (const FanPoint& point : points) {
    flow.push_back(point.flow);
    pressure.push_back(point.pressure);
  }
  return {numerics::MonotoneCubic(std::move(flow), std::move(pressure)),
          numerics::require_positive(speed, "fan curve speed"),
          numerics::require_positive(density, "fan curve density")};
}

FanCurve FanCurve::scaled(double flow_factor, double pressure_factor) const {
  std::vector<FanPoint> scaled_points = points();
  for (FanPoint& point : scaled_points) {
    point.flow *= numerics::require_positive(flow_factor, "flow factor");
    point.pressure *= numerics::require_positive(pressure_factor, "pressure factor");
  }
  return from_points(scaled_points, speed_, density_);
}

FanCurve FanCurve::with_resistance(double factor, double backwards) const {
  FanCurve out = *this;
  out.resistance_ *= numerics::require_positive(factor, "factor on a fan's resistance");
  out.backward_resistance_ =
      out.resistance_ * numerics::require_positive(backwards, "factor on a fan's backward resistance");
  out.free_delivery_ = zero_flow(out.curve_, out.resistance_);
  return out;
}

FanRise FanCurve::rise(double volume_flow, double speed, double density) const {
  const double n = speed / speed_;
  const double per_density = density / density_;
  const double end = n * curve_.x().back();
  FanRise at_own_density;
  if (volume_flow >= end) {
    // n^2 f(Q/n) multiplied out, so that n = 0 needs no care.
    const double excess = volume_flow - end;
    const double slope = n * curve_.slopes().back();
    at_own_density.pressure = n * n * curve_.y().back() + (slope - resistance_ * excess) * excess;
    at_own_density.slope = slope - 2.0 * resistance_ * excess;
  } else if (volume_flow <= 0.0) {
    const double slope = n * curve_.slopes().front();
    at_own_density.pressure =
        n * n * curve_.y().front() + (slope + backward_resistance_ * volume_flow) * volume_flow;
    at_own_density.slope = slope + 2.0 * backward_resistance_ * volume_flow;
  } else {  // 0 < Q < n q1, hence n > 0
    const numerics::CurveValue f = curve_(volume_flow / n);
    at_own_density.pressure = n * n * f.value;
    at_own_density.slope = n * f.slope;
  }
  return {per_density * at_own_density.pressure, per_density * at_own_density.slope};
}

std::vector<FanPoint> FanCurve::points() const {
  std::vector<FanPoint> result;
  for (std::size_t i = 0; i < curve_.x().size(); ++i) result.push_back({curve_.x()[i], curve_.y()[i]});
  return result;
}

double tip_speed(double diameter, double speed) { return kPi * diameter * speed; }

FanCurve FanCurve::typical(FanKind kind, double diameter, double thickness, double speed) {
  const double d = numerics::require_positive(diameter, "fan diameter");
  const double t = numerics::require_positive(thickness, "fan thickness");
  const double u = tip_speed(d, numerics::require_positive(speed, "fan speed"));
  const bool blower = kind == FanKind::blower;
  const double free = blower ? blower_flow * kPi * d * t * u : axial_flow * 0.25 * kPi * d * d * u;
  const double shut = (blower ? blower_pressure : axial_pressure) * 0.5 * standard_fan_density * u * u;
  std::vector<FanPoint> points = blower ? blower_shape : axial_shape;
  for (FanPoint& point : points) point = {point.flow * free, point.pressure * shut};
  return from_points(points, speed);
}

}  // namespace tuft::physics
