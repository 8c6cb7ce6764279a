// What was measured: the rows of cases/measured/values.csv and trends.csv.
#pragma once

#include <string>
#include <vector>

namespace tuft::measured {

/// One measured value, in the unit of its row; `low` to `high` is the range in which the true one is taken to
/// lie.
struct Value {
  std::string file;       ///< of the case, without ".yaml"
  std::string condition;  ///< name of the condition
  std::string quantity;   ///< what it is (quantity.hpp)
  std::string of;         ///< vent, zone or patch of skin
  std::string against;    ///< a condition or vent: the value is a share of what that has; empty: it is not
  double measured = 0.0, low = 0.0, high = 0.0;
  std::string unit;
  bool counts = false;  ///< the geometry is known: it counts for coverage; else for its trend only
  std::string source;   ///< what in the source it comes from
};

/// A published trend: a claim of a case, and whether the experiment says it is true.
struct Trend {
  std::string file, claim;
  bool published = true;
};

/// Reads the rows below the heading. Throws std::runtime_error with file, line and what is wrong: another
/// heading, a missing column, a number that is none, a range that does not hold its value, an unknown kind.
std::vector<Value> read_values(const std::string& path);
std::vector<Trend> read_trends(const std::string& path);

}  // namespace tuft::measured
