#include "geometry/device/spread.hpp"

#include <cmath>

namespace tuft::geometry {

double mean_square(const Value& value) {
  constexpr double kDeviations95 = 1.959963984540054;
  const double a = value.low, b = value.high, m = *value;
  switch (value.spread) {
    case SpreadKind::none:
      break;
    case SpreadKind::normal: {
      const double deviation = 0.5 * (b - a) / kDeviations95;
      return m * m + deviation * deviation;
    }
    case SpreadKind::uniform:
      return (a * a + a * b + b * b) / 3.0;
    case SpreadKind::log_uniform:
      return b > a ? 0.5 * (b * b - a * a) / std::log(b / a) : m * m;
    case SpreadKind::steps:
      return (a * a + a * m + 2.0 * m * m + m * b + b * b) / 6.0;
    case SpreadKind::triangular:
      return (a * a + b * b + m * m + a * b + a * m + b * m) / 6.0;
  }
  return m * m;
}

}  // namespace tuft::geometry
