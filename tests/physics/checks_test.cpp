#include "solver/numerics/checks.hpp"

#include <catch2/catch.hpp>
#include <limits>
#include <stdexcept>

using namespace tuft::numerics;

TEST_CASE("numbers that cannot be are refused by name") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double inf = std::numeric_limits<double>::infinity();
  CHECK(require_positive(2.0, "gap") == 2.0);
  CHECK(require_not_negative(0.0, "length") == 0.0);
  CHECK(require_within(1.0, 0.0, 1.0, "open ratio") == 1.0);
  CHECK_THROWS_WITH(require_positive(0.0, "gap"), "gap = 0: must be finite and > 0");
  CHECK_THROWS_WITH(require_not_negative(-1.0, "length"), "length = -1: must be finite and >= 0");
  CHECK_THROWS_WITH(require_within(0.0, 0.0, 1.0, "open ratio"), "open ratio = 0: must be > 0 and <= 1");
  CHECK_THROWS_AS(require_within(nan, 0.0, 1.0, "open ratio"), std::invalid_argument);
  CHECK_THROWS_AS(require_positive(inf, "gap"), std::invalid_argument);
  CHECK_THROWS_AS(require_finite(nan, "flow"), std::invalid_argument);
}

TEST_CASE("all_finite finds the one that is not") {
  double values[] = {1.0, 2.0, 3.0};
  CHECK(all_finite(values, 3));
  CHECK(all_finite(nullptr, 0));
  values[2] = std::numeric_limits<double>::infinity();
  CHECK_FALSE(all_finite(values, 3));
  CHECK(all_finite(values, 2));
}
