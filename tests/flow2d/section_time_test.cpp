// Means in time: where a steady state exists they are that state, whenever they start.
#include <memory>

#include "solver/flow2d/section_run.hpp"
#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// The flow of one model alone.
Found found_of(SectionModel* model, const SectionOptions& options) {
  flow2d::SingleGridTask task({&model->problem});
  flow2d::Driver driver(&task, flow2d::thick_air_first());
  flow2d::Fields rough = task.start(0);
  driver.approach(0, false, options.newton, &rough);
  return find_flow(*model, &driver, 0, rough, options, 0.15);
}

/// A run in time watched until it is long enough, or for so many steps.
std::unique_ptr<ShareMonitor> monitored(SectionModel* model, const flow2d::State& start, int most_steps) {
  flow2d::Flow flow;
  flow.layers = {&model->problem};
  flow2d::MarchOptions steps;
  steps.passage = 0.15 / flow2d::scales_of(model->problem, nullptr).velocity;
  steps.shortest_share = 0.02;
  auto monitor = std::make_unique<ShareMonitor>(*model, start, 0.15);
  flow2d::March march(flow, {{start}, {}}, steps);
  for (int k = 0; k < most_steps; ++k) {
    const flow2d::MarchStep step = march.step(1e9);
    REQUIRE(step.good);
    monitor->passed(march, step);
    if (monitor->take(march, step)) break;
  }
  return monitor;
}

}  // namespace

TEST_CASE("a mean in time of a flow that settles is its steady state, wherever it starts", "[time]") {
  const geometry::Case c = slotted_box();
  SectionBoundaryData given;
  given.vents = {{0.0, 2e-4, 320.0}, {3e-4, 0.0, 0.0}};
  SectionOptions options;
  options.finest = 4e-3;
  SectionModel model = make_model(c, c.conditions[0], given, Plane{0, 0.1}, options, 1.0);
  const Found steady = found_of(&model, options);
  INFO(steady.message);
  REQUIRE(steady.end == SectionEnd::steady);
  REQUIRE(steady.drawn.outlets == std::vector<int>{0});
  const double share = steady.drawn.share(0, 1);

  const auto held = monitored(&model, steady.fields.state, 600);
  CHECK(held->long_enough);
  CHECK(held->passages == 2);
  CHECK(held->fluctuation < 1e-3);
  CHECK(held->window.drawn.share(0, 1) == Approx(share).margin(1e-4));
  CHECK(held->window.tracers.error < 1e-9);

  // From the state of other flows it comes to the same mean.
  SectionBoundaryData more = given;
  more.vents[0].outflow *= 1.1;
  more.vents[1].inflow *= 1.1;
  SectionModel other = make_model(c, c.conditions[0], more, Plane{0, 0.1}, options, 1.0);
  const Found there = found_of(&other, options);
  REQUIRE(there.end == SectionEnd::steady);
  const auto begun = monitored(&model, there.fields.state, 600);
  CHECK(begun->begins > 0.0);
  CHECK(begun->long_enough);
  CHECK(begun->by_start[0][1] <= 0.005);
  CHECK(begun->window.drawn.share(0, 1) == Approx(share).margin(0.005));

  // From still air some steps are too few, and that is said.
  CHECK_FALSE(monitored(&model, flow2d::still_state(model.problem), 40)->long_enough);
  CHECK_FALSE(monitored(&model, steady.fields.state, 5)->is_mean());  // no passage at all: no mean
}

TEST_CASE("where no steps find a steady state a run in time does", "[time]") {
  const geometry::Case c = slotted_box();
  SectionBoundaryData given;
  given.vents = {{0.0, 2e-4, 320.0}, {3e-4, 0.0, 0.0}};
  SectionOptions options;
  options.finest = 4e-3;
  SectionModel model = make_model(c, c.conditions[0], given, Plane{0, 0.1}, options, 1.0);
  const Found steady = found_of(&model, options);
  options.newton.max_steps = 3;  // none of the stages gets anywhere
  const Found run = found_of(&model, options);
  INFO(run.message);
  CHECK(run.marched_steps > 0);
  REQUIRE(run.end != SectionEnd::not_converged);
  CHECK(run.drawn.share(0, 1) == Approx(steady.drawn.share(0, 1)).margin(0.005));
  CHECK_THAT(run.message, Catch::Contains("no steady state at first: ") && Catch::Contains("steps in time"));
}
