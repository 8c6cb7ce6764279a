// The cases of the tree, read, for tests of their models.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"

namespace tuft::test {

inline std::vector<std::string> case_names() {
  return {"slim-notebook", "handheld-console", "fanless-router", "mini-desktop"};
}

inline geometry::Case case_named(const std::string& name) {
  const casefile::ReadResult read =
      casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/" + name + ".yaml");
  REQUIRE(read.errors.empty());
  return read.file.content;
}

}  // namespace tuft::test
