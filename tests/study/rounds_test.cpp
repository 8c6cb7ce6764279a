// Section and network by turns: fractions that no longer change, and the uncertainty that goes with them.
#include "solver/study/section_rounds.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "solver/flow2d/section_recirculation.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::study;
using tuft::test::case_named;
using tuft::test::condition_named;

TEST_CASE("network and section are told of each other until the fractions settle") {
  const geometry::Case c = case_named("slim-notebook");
  const study::ConditionResult first = study::predict(c, condition_named(c, "lid-closed"));
  REQUIRE(first.report.converged);
  RoundsOptions options;
  options.section.finest = 2e-3;
  const Rounds r = recirculation_rounds(c, first, options);
  REQUIRE(r.section.usable());
  CHECK(r.settled);
  REQUIRE(r.apart.size() >= 2);
  CHECK(r.apart.front() > 0.05);  // the hinge blows into the gap that the keyboard draws from
  CHECK(r.apart.back() <= options.tolerance);
  REQUIRE(r.network.report.converged);
  REQUIRE(r.lowest.report.converged);
  REQUIRE(r.highest.report.converged);

  // Whoever solves the section with the last network's flows finds the fractions again.
  options.section.plane = r.section.plane;
  const flow2d::SectionResult again =
      flow2d::solve_section(c, c.conditions[static_cast<std::size_t>(first.condition)],
                            section_boundary_data(r.network), options.section);
  REQUIRE(again.recirculation.size() == r.section.recirculation.size());
  for (std::size_t k = 0; k < again.recirculation.size(); ++k)
    CHECK(again.recirculation[k].fraction() == Approx(r.section.recirculation[k].fraction()).margin(1e-9));

  // More drawn again is warmer, and the uncertainty brackets what is told.
  const std::size_t keyboard = 2;
  REQUIRE(c.device.vents[keyboard].name == "keyboard");
  CHECK(r.network.vents[keyboard].temperature_in > first.vents[keyboard].temperature_in + 0.1);
  CHECK(r.lowest.vents[keyboard].temperature_in <= r.network.vents[keyboard].temperature_in + 1e-9);
  CHECK(r.highest.vents[keyboard].temperature_in >= r.network.vents[keyboard].temperature_in - 1e-9);
  CHECK(r.highest.vents[keyboard].temperature_in > r.lowest.vents[keyboard].temperature_in);
}

TEST_CASE("rounds that may not go on say how far apart they are") {
  const geometry::Case c = case_named("slim-notebook");
  const study::ConditionResult first = study::predict(c, condition_named(c, "lid-closed"));
  RoundsOptions options;
  options.section.finest = 2e-3;
  options.most = 1;
  options.tolerance = 1e-9;
  const Rounds r = recirculation_rounds(c, first, options);
  CHECK_FALSE(r.settled);
  CHECK(r.apart.size() == 2);
  CHECK(r.apart.back() > options.tolerance);
}
