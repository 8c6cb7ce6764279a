// The cases of the tree, read, for tests of their models.
#pragma once

#include <string>
#include <vector>

#include "tests/support/cases.hpp"

namespace tuft::test {

inline std::vector<std::string> case_names() {
  return {"slim-notebook", "handheld-console", "fanless-router", "mini-desktop"};
}

}  // namespace tuft::test
