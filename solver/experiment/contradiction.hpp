// Readings that can't be true together with the description, or with one another.
#pragma once

#include <vector>

#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/rows.hpp"

namespace tuft::belief {

/// A reading and what it is set against: the description alone, or the description and one other reading.
struct Contradiction {
  int observation = 0;
  int against = -1;          ///< number of the other reading; -1: the description
  double expected = 0.0;     ///< median of what the instrument would be shown [unit of the reading]
  doubt::Interval interval;  ///< central 90 % of it
  double tail = 1.0;         ///< two-sided probability of a reading as far off (D13)
};

/// Every reading against the description, and those that it lets one expect against each other reading alone
/// (D23). `base[i]` are log-weights of points drawn from the description, `likelihood(i, j)` of reading j,
/// `shown[j][i]` what point i shows its instrument. Those against the description first, then pairs, each
/// once; by falling strength within the two.
std::vector<Contradiction> contradictions(const std::vector<double>& base, const doubt::Rows& likelihood,
                                          const std::vector<doubt::ErrorModel>& errors,
                                          const std::vector<double>& readings,
                                          const std::vector<std::vector<double>>& shown);

}  // namespace tuft::belief
