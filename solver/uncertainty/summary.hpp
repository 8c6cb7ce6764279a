// A weighted sample in a few numbers.
#pragma once

#include <vector>

#include "solver/uncertainty/rows.hpp"

namespace tuft::doubt {

/// Mean and standard deviation of a weighted sample (D7).
struct Moments {
  double mean = 0.0;
  double deviation = 0.0;  ///< of the variable, not of the mean; 0 if the weight lies on one point
};

/// `weight` need not sum to 1; empty: all equal. Throws std::invalid_argument if the sample is empty, sizes
/// differ, a number is not finite, a weight is negative or all are 0.
Moments moments(const std::vector<double>& value, const std::vector<double>& weight = {});

/// The values below which the parts `part` (each within 0 .. 1) of the weight lie (D7). Ends are the smallest
/// and the largest value of positive weight. Throws as moments(), or if a part is outside 0 .. 1.
std::vector<double> quantiles(const std::vector<double>& value, const std::vector<double>& part,
                              const std::vector<double>& weight = {});

/// The central interval that holds `level` of the weight. Throws as quantiles(), or unless 0 < level < 1.
Interval central_interval(const std::vector<double>& value, double level,
                          const std::vector<double>& weight = {});

}  // namespace tuft::doubt
