// What is doubtful, and what an instrument answers with.
#pragma once

namespace tuft::instruments {

/// How a number is known; the words of docs/theory.md.
enum class Known { Confirmed, Derived, FromMemory, Judgement };

/// A value with the interval it is believed to lie in (central 95 %); low <= nominal <= high.
struct Range {
  double nominal = 0.0;
  double low = 0.0;
  double high = 0.0;

  /// A quarter of the interval: the standard deviation it would have if it were normal.
  double deviation() const { return 0.25 * (high - low); }
};

/// What an instrument shows for one true value, as a distribution. `mean` and `deviation` hold for readings
/// that are taken; `detection` is the probability that there is one at all (that the vane turns).
struct Reading {
  double mean = 0.0;
  double deviation = 0.0;  ///< standard deviation
  double detection = 1.0;  ///< 0 .. 1
};

/// Probability that a standard normal variable is below x.
double normal_below(double x);

}  // namespace tuft::instruments
