// The devices of cases/, as tests read them.
#pragma once

#include <catch2/catch.hpp>
#include <numeric>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"

namespace tuft::test {

/// cases/NAME.yaml; fails where it has errors.
inline geometry::Case case_named(const std::string& name) {
  const casefile::ReadResult read =
      casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/" + name + ".yaml");
  REQUIRE(read.errors.empty());
  return read.file.content;
}

/// Index of a condition; fails where there is none of that name.
inline int condition_named(const geometry::Case& c, const std::string& name) {
  for (std::size_t k = 0; k < c.conditions.size(); ++k)
    if (c.conditions[k].name == name) return static_cast<int>(k);
  FAIL("no condition " << name);
  return -1;
}

/// Indices of all conditions, in the order of the case.
inline std::vector<int> every_condition(const geometry::Case& c) {
  std::vector<int> every(c.conditions.size());
  std::iota(every.begin(), every.end(), 0);
  return every;
}

}  // namespace tuft::test
