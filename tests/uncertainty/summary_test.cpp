#include "solver/uncertainty/weights.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tuft::uncertainty;

TEST_CASE("moments of a small sample by hand") {
  // Values 1 2 4: mean 7/3, squares off it 16/9 + 1/9 + 25/9 = 14/3, over 2.
  const Moments plain = moments({1.0, 2.0, 4.0});
  CHECK(plain.mean == Approx(7.0 / 3.0).epsilon(1e-15));
  CHECK(plain.deviation == Approx(std::sqrt(7.0 / 3.0)).epsilon(1e-15));
  // The scale of the weights does not matter.
  const Moments scaled = moments({1.0, 2.0, 4.0}, {0.2, 0.2, 0.2});
  CHECK(scaled.deviation == Approx(plain.deviation).epsilon(1e-14));
  const Moments single = moments({3.0, 9.0}, {1.0, 0.0});
  CHECK(single.mean == 3.0);
  CHECK(single.deviation == 0.0);
  CHECK(moments({5.0}).deviation == 0.0);
}

TEST_CASE("quantiles of a small sample by hand") {
  // Equal weights sit at 1/6, 1/2, 5/6.
  const auto q = quantiles({4.0, 1.0, 2.0}, {0.0, 1.0 / 6.0, 1.0 / 3.0, 0.5, 2.0 / 3.0, 1.0});
  CHECK(q[0] == 1.0);
  CHECK(q[1] == Approx(1.0));
  CHECK(q[2] == Approx(1.5));
  CHECK(q[3] == Approx(2.0));
  CHECK(q[4] == Approx(3.0));
  CHECK(q[5] == 4.0);
  // Weights 1 and 3 sit at 1/8 and 5/8: the middle lies 3/4 of the way.
  CHECK(quantiles({0.0, 8.0}, {0.5}, {1.0, 3.0})[0] == Approx(6.0));
  // A point without weight is not there.
  CHECK(quantiles({-100.0, 1.0, 2.0}, {0.0}, {0.0, 1.0, 1.0})[0] == 1.0);
  const Interval middle = central_interval({1.0, 2.0, 3.0, 4.0}, 0.5);
  CHECK(middle.low == Approx(1.5));
  CHECK(middle.high == Approx(3.5));
}

TEST_CASE("samples that make no sense are refused") {
  CHECK_THROWS_WITH(moments({}), "sample: at least one value is needed");
  CHECK_THROWS_WITH(moments({std::nan("")}), "sample: every value must be finite");
  CHECK_THROWS_WITH(moments({1.0}, {1.0, 1.0}), "sample: as many weights as values are needed");
  CHECK_THROWS_WITH(moments({1.0}, {-1.0}), "weight = -1: must be finite and >= 0");
  CHECK_THROWS_WITH(moments({1.0}, {0.0}), "sample: at least one weight must be above 0");
  CHECK_THROWS_WITH(quantiles({1.0}, {1.5}), "quantile at 1.5: must be within 0 and 1");
  CHECK_THROWS_WITH(central_interval({1.0}, 1.0), "level = 1: must be > 0 and < 1");
}
