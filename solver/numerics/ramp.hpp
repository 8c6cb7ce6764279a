// A table read by straight lines: fan speed against a sensor's temperature, cover of a lid against its angle.
#pragma once

#include <vector>

namespace tuft::base {

/// Value and slope of a ramp at one place.
struct RampValue {
  double value = 0.0;
  double slope = 0.0;
};

/// Piecewise linear function through points, constant outside the first and the last. A value type;
/// evaluation allocates nothing.
class Ramp {
 public:
  Ramp() = default;
  /// x must rise strictly and match y in number; at least one point. Throws std::invalid_argument otherwise.
  Ramp(std::vector<double> x, std::vector<double> y);

  bool empty() const { return x_.empty(); }
  /// Value and slope; at a corner the slope of the line to its right. @pre !empty()
  RampValue at(double x) const;

  const std::vector<double>& x() const { return x_; }
  const std::vector<double>& y() const { return y_; }

 private:
  std::vector<double> x_, y_;
};

}  // namespace tuft::base
