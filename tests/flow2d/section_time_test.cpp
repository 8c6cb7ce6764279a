// Means in time: where a steady state exists they are that state, whenever they start.
#include "solver/flow2d/section_find.hpp"
#include "solver/flow2d/section_run.hpp"
#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::section;
using namespace tuft::section::test;

TEST_CASE("a mean in time of a flow that settles is its steady state, wherever it starts", "[time]") {
  const geometry::Case c = slotted_box();
  SectionGiven given;
  given.vents = {{0.0, 2e-4, 320.0}, {3e-4, 0.0, 0.0}};
  SectionOptions options;
  options.finest = 4e-3;
  const Model model = make_model(c, c.conditions[0], given, Plane{0, 0.1}, options, 1.0);
  const Found steady = find_flow(model, rough_start(model, options), options, 0.15);
  INFO(steady.message);
  REQUIRE(steady.end == SectionEnd::steady);
  REQUIRE(steady.drawn.outlets == std::vector<int>{0});
  const double share = steady.drawn.share(0, 1);

  RunOptions wanted;
  wanted.body = 0.15;
  const Run held = run_in_time(model, steady.fields.state, wanted);
  REQUIRE(held.finite);
  CHECK(held.long_enough);
  CHECK(held.passages == 2);
  CHECK(held.fluctuation < 1e-3);
  CHECK(held.drawn.share(0, 1) == Approx(share).margin(1e-4));
  CHECK(held.tracers.error < 1e-9);

  // From the state of other flows it comes to the same mean.
  SectionGiven more = given;
  more.vents[0].outflow *= 1.1;
  more.vents[1].inflow *= 1.1;
  const Model other = make_model(c, c.conditions[0], more, Plane{0, 0.1}, options, 1.0);
  const Found there = find_flow(other, steady.fields.state, options, 0.15);
  REQUIRE(there.end == SectionEnd::steady);
  const Run begun = run_in_time(model, there.fields.state, wanted);
  REQUIRE(begun.finite);
  CHECK(begun.begins > 0.0);
  CHECK(begun.long_enough);
  CHECK(begun.by_start[0][1] <= wanted.tolerance);
  CHECK(begun.drawn.share(0, 1) == Approx(share).margin(wanted.tolerance));

  // From still air a few hundred steps are too few, and that is said.
  wanted.max_steps = 600;
  const Run early = run_in_time(model, field::still_state(model.problem), wanted);
  CHECK_FALSE(early.long_enough);

  wanted.max_steps = 10;  // no passage at all: no mean
  CHECK(run_in_time(model, steady.fields.state, wanted).passages == 0);
}
