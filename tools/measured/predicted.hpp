// What the program predicts of what was measured, with the interval of its own sampling.
#pragma once

#include <string>
#include <vector>

#include "tools/measured/values.hpp"

namespace tuft::measured {

/// A measured value beside its prediction. The interval holds 90 % of the samples of everything that the case
/// is uncertain in, as `tuft check` and `tuft study` sample it.
struct Compared {
  Value value;
  double predicted = 0.0;        ///< of the nominal case, in the row's unit
  double low = 0.0, high = 0.0;  ///< 5 % and 95 % of the samples
  int solved = 0;                ///< samples with a solution

  bool inside() const { return low <= value.measured && value.measured <= high; }
  bool touches() const { return low <= value.high && value.low <= high; }  ///< the ranges overlap
};

/// A published trend beside the program's.
struct Judged {
  Trend trend;
  std::string say;       ///< the claim
  bool nominal = false;  ///< true for the case as written
  double share = 0.0;    ///< of the samples in which it is true [-]

  /// Whether the program says what was published, by most of its samples.
  bool agrees() const { return (share >= 0.5) == trend.published; }
};

struct Comparison {
  std::vector<Compared> values;  ///< in the order of values.csv
  std::vector<Judged> trends;    ///< in the order of trends.csv
};

/// Values that count, and how many of them the 90 % interval holds.
struct Coverage {
  int counted = 0, inside = 0, touched = 0;
};
Coverage coverage(const std::vector<Compared>& values);

/// Reads, solves and samples all cases of a folder. The same folder gives the same numbers. Throws
/// std::runtime_error where a file is wrong or a nominal case has no solution.
Comparison compare(const std::string& folder);

}  // namespace tuft::measured
