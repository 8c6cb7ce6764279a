// A vent that is taped shut changes nothing: it takes no part of a zone's air, and none of its heat (N8).
#include <catch2/catch.hpp>

#include "solver/study/predict.hpp"
#include "tests/support/chassis.hpp"

using namespace tuft;

namespace {

// Air [K] in a box without a way for heat but its openings in the top and the rear.
double air_of(bool with_shut_vent) {
  geometry::Case c = test::box({0.2, 0.3, 0.04});
  c.device.zones[0].wall_conductance = 0.0;
  c.device.vents = {test::vent("top", geometry::Face::top, {0.1, 0.22, 0.04}, 0.1, 0.04),
                    test::vent("rear", geometry::Face::rear, {0.1, 0.3, 0.02}, 0.1, 0.02)};
  if (with_shut_vent) {
    geometry::Vent shut = test::vent("shut", geometry::Face::base, {0.1, 0.08, 0.0}, 0.1, 0.04);
    shut.blocked = 1.0;
    c.device.vents.push_back(shut);
  }
  geometry::Source source;
  source.name = "board";
  source.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  c.device.sources = {source};
  geometry::SourcePower given;
  given.source = 0;
  given.power = 5.0;
  c.loads[0].powers = {given};
  const study::ConditionResult result = study::predict(c, 0);
  INFO(result.report.reason);
  REQUIRE(result.report.converged);
  return result.zones[0].temperature;
}

}  // namespace

TEST_CASE("a vent that is taped shut leaves the air as warm as it was", "[derived]") {
  CHECK(air_of(true) == Approx(air_of(false)).epsilon(1e-12));
}
