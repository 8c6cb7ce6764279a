// Cases of the tree, read and solved, for the tests of the bench.
#pragma once

#include <catch2/catch.hpp>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/experiment/bench_report.hpp"
#include "tests/support/cases.hpp"

namespace tuft::test {

inline casefile::CaseFile case_of(const std::string& name) {
  casefile::ReadResult read = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/" + name + ".yaml");
  REQUIRE(read.errors.empty());
  return read.file;
}

inline int vent_named(const geometry::Case& content, const std::string& name) {
  for (std::size_t v = 0; v < content.device.vents.size(); ++v)
    if (content.device.vents[v].name == name) return static_cast<int>(v);
  FAIL("no vent " << name);
  return -1;
}

inline study::ConditionResult solved(const geometry::Case& content, const std::string& name) {
  study::ConditionResult result = study::predict(content, condition_named(content, name));
  REQUIRE(result.report.converged);
  return result;
}

}  // namespace tuft::test
