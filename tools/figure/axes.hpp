// Ticks at round numbers, and the scale from values to pixels.
#pragma once

#include <string>
#include <vector>

namespace tuft::figure {

/// What an axis measures.
enum class AxisKind {
  plain,  ///< any number; steps of 1, 2 or 5 times a power of ten
  time,   ///< seconds; ticks in s, min or h, at steps people count time in
  angle   ///< degrees; steps of 1, 2, 5, 10, 15, 30, 45, 90 or 180
};

/// Ticks of an axis.
struct Ticks {
  double low = 0.0, high = 0.0;     ///< ends of the axis, in the unit of the values
  std::vector<double> at;           ///< rising, within [low, high]
  std::vector<std::string> labels;  ///< one a tick
  std::string unit;                 ///< time: "s", "min" or "h"; angle: "°"; plain: empty
};

/// Whether the ends of an axis stay where the values end, or move out to the next tick.
enum class Ends { kept, widened };

/// Round ticks for values from `low` to `high`, at most `most` (>= 2) of them. Equal or nearly equal ends are
/// moved apart first. Throws std::invalid_argument unless both ends are finite, low <= high and most >= 2.
Ticks nice_ticks(AxisKind kind, double low, double high, int most, Ends ends);

/// The same, with fewer of them where their labels of that size do not fit side by side into a width [px].
Ticks fitting_ticks(AxisKind kind, double low, double high, int most, Ends ends, double width, double size);

/// A number with so many decimals and a true minus sign; "0" has none.
std::string tick_label(double value, int decimals);

/// Whether none of them is infinite or no number.
bool finite(const std::vector<double>& values);

/// A straight scale.
struct Scale {
  double low = 0.0, high = 1.0;   ///< values, low < high
  double start = 0.0, end = 1.0;  ///< their pixels
  double at(double value) const { return start + (value - low) / (high - low) * (end - start); }
};

}  // namespace tuft::figure
