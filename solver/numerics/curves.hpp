// Curves through given points: a smooth one that never overshoots, and straight lines.
#pragma once

#include <vector>

namespace tuft::numerics {

/// The interval of rising places that x lies in; the first or the last for what lies beyond. @pre at least
/// two places
int interval_of(const std::vector<double>& places, double x);

/// A curve's value and slope at one place.
struct CurveValue {
  double value = 0.0;
  double slope = 0.0;  ///< d value / d x
};

/// Piecewise cubic Hermite curve with a continuous slope through points, by Fritsch & Carlson, "Monotone
/// piecewise cubic interpolation", SIAM J. Numer. Anal. 17 (1980) 238-246 (method written down from memory).
///
/// Between two points the curve stays between their values, so a rising run of points gives a rising curve.
/// The points as a whole need not be monotone: at a local extremum the slope is zero and the hump is kept
/// with its top at the point. Points on a straight line give that line. Outside the points the curve goes on
/// as the straight line of its end slope.
///
/// Built once; evaluation allocates nothing.
class MonotoneCubic {
 public:
  /// The curve that is 0 everywhere.
  MonotoneCubic() = default;

  /// x strictly rising, at least two points, all finite; throws std::invalid_argument otherwise.
  MonotoneCubic(std::vector<double> x, std::vector<double> y);

  CurveValue operator()(double x) const;

  const std::vector<double>& x() const { return x_; }
  const std::vector<double>& y() const { return y_; }
  const std::vector<double>& slopes() const { return slope_; }

 private:
  std::vector<double> x_, y_, slope_;
};

// A table read by straight lines: fan speed against a sensor's temperature, cover of a lid against its angle.

/// Piecewise linear function through points, constant outside the first and the last. A value type;
/// evaluation allocates nothing.
class Ramp {
 public:
  Ramp() = default;
  /// x must rise strictly and match y in number; at least one point. Throws std::invalid_argument otherwise.
  Ramp(std::vector<double> x, std::vector<double> y);

  bool empty() const { return x_.empty(); }
  /// Value and slope; at a corner the slope of the line to its right. @pre !empty()
  CurveValue at(double x) const;

  const std::vector<double>& x() const { return x_; }
  const std::vector<double>& y() const { return y_; }

 private:
  std::vector<double> x_, y_;
};

}  // namespace tuft::numerics
