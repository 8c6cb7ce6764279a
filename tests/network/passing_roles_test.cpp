// A role that comes and goes within two degrees of turning is a passing one.
#include <catch2/catch.hpp>
#include <cmath>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"

using namespace tuft;

TEST_CASE(
    "turned by single degrees, roles of one degree are passing, longer ones and those at the ends are not",
    "[passing]") {
  auto file = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/fanless-router.yaml");
  REQUIRE(file.errors.empty());
  geometry::Case content = file.file.content;
  constexpr double kDegree = 3.14159265358979323846 / 180.0;
  content.sweeps[0].from = 0.0;
  content.sweeps[0].to = 10.0 * kDegree;
  content.sweeps[0].step = kDegree;
  const study::SweepResult sweep = study::predict_sweep(content, 0);
  REQUIRE(sweep.points.size() == 11);
  int passing = 0;
  for (std::size_t vent = 0; vent < content.device.vents.size(); ++vent) {
    const auto role = [&](std::size_t i) { return sweep.points[i].result.vents[vent].role; };
    for (std::size_t i = 0; i < sweep.points.size(); ++i) {
      // One degree wide: another role both before and after.
      const bool alone =
          i > 0 && i + 1 < sweep.points.size() && role(i) != role(i - 1) && role(i) != role(i + 1);
      INFO("vent " << vent << " at " << i << " degrees");
      CHECK(sweep.points[i].result.vents[vent].passing == alone);
      passing += alone ? 1 : 0;
    }
  }
  CHECK(passing > 0);
}
