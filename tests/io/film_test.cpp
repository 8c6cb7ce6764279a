// Points of air as frames of a loop.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/figure/xml.hpp"
#include "tests/io/field_runs.hpp"
#include "tools/io/tracer_film.hpp"

using namespace tuft;
using namespace tuft::io;
using Catch::Matchers::Contains;

namespace {

/// The channel of the shared tests as a run: 0.2 m long, 1 m/s.
FieldRun channel_run() {
  FieldRun field = test::rooms();
  field.run.content.device = test::channel_device();
  field.run.conditions[0].vents.resize(2);
  field.comparison.vents.resize(2);
  field.plan = test::channel();
  return field;
}

}  // namespace

TEST_CASE("slowed so that most air is to be seen for some seconds, by round numbers") {
  CHECK(slowing(4.0) == 1.0);
  CHECK(slowing(0.4) == Approx(10.0));
  CHECK(slowing(0.21) == Approx(20.0));
  CHECK(slowing(0.7) == Approx(5.0));
  CHECK(slowing(40.0) == Approx(0.1));
  CHECK(slowing_words(20.0) == "slowed 20 times");
  CHECK(slowing_words(1.0) == "in real time");
  CHECK(slowing_words(0.5) == "2 times as fast as in reality");
}

TEST_CASE("in a uniform channel points move as far as the clock of the frames says") {
  const FieldRun field = channel_run();
  FilmOptions options;
  options.frames = 24;
  const std::vector<figure::FieldMap> maps = tracer_maps(field, options);
  REQUIRE(maps.size() == 24);
  // 0.2 s through the channel: slowed 20 times, so that a frame is 1/480 s and a point moves 1/480 m.
  CHECK_THAT(maps[12].title, Contains("slowed 20 times"));
  CHECK_THAT(maps[12].subtitle, Contains("0.025 s of 0.050 s, in a loop at 24 frames a second"));
  const double step = 1.0 / 480.0;
  int followed = 0;
  for (const figure::MapDot& dot : maps[0].dots) {
    CHECK(dot.at.x == Approx(dot.value).margin(1e-9));  // 1 m/s from the left edge
    if (dot.at.x + step > 0.2) continue;
    const bool there = std::any_of(maps[1].dots.begin(), maps[1].dots.end(), [&](const figure::MapDot& next) {
      return std::abs(next.at.x - dot.at.x - step) < 1e-9 && std::abs(next.at.y - dot.at.y) < 1e-9;
    });
    CHECK(there);
    ++followed;
    REQUIRE(dot.tail.size() >= 2);
    CHECK(dot.tail.back().x == Approx(dot.at.x));
    CHECK(dot.at.x - dot.tail.front().x == Approx(std::min(3.0 * step, dot.at.x)).margin(1e-9));
  }
  CHECK(followed > 200);
  // As many at any time: what comes in goes out.
  for (const figure::FieldMap& map : maps)
    CHECK(std::abs(static_cast<double>(map.dots.size()) - 320.0) < 16.0);
}

TEST_CASE("a loop closes: after its period every point is where another was") {
  flow2d::Track track;
  for (int k = 0; k <= 10; ++k) track.points.push_back({0, 0.1 * k, 0.0, 0.1 * k, k == 0 || k == 7});
  const auto at = [&](double time) { return seen_points({track}, 0, 0.25, time, 0.05); };
  const auto a = at(0.1), b = at(0.1 + 0.25);
  CHECK(a.size() == 4);  // one every 0.25 s of its second
  REQUIRE(b.size() == a.size());
  for (std::size_t k = 0; k < a.size(); ++k) CHECK(a[k].x == Approx(b[k].x).margin(1e-9));
  // Through a gate a point does not slide, and its tail does not reach back.
  for (const SeenPoint& seen : at(0.17)) {
    CHECK((seen.age < 0.6 || seen.age >= 0.7 || seen.x == Approx(0.6)));
    for (const figure::Place& place : seen.tail) CHECK((seen.age < 0.7 || place.x >= 0.7 - 1e-12));
  }
  CHECK(seen_points({track}, 1, 0.25, 0.1, 0.05).empty());
}

TEST_CASE("points in slow air are left out, and those that have just set out are not") {
  std::vector<SeenPoint> points(4);
  points[0].age = 1.0, points[0].tail = {{0.0, 0.0}, {0.3, 0.0}, {0.3, 0.4}};  // 0.7 m in 0.1 s
  points[1].age = 1.0, points[1].tail = {{0.0, 0.0}, {0.05, 0.0}};             // 0.5 m/s
  points[2].age = 0.01, points[2].tail = {{0.0, 0.0}, {0.02, 0.0}};            // young, but 2 m/s
  points[3].age = 0.0, points[3].tail = {{0.0, 0.0}};
  leave_out_slow(points, 1.0, 0.1);
  REQUIRE(points.size() == 3);
  CHECK(points[0].tail.size() == 3);
  CHECK(points[1].age == 0.01);
  CHECK(points[2].age == 0.0);
  leave_out_slow(points, 0.0, 0.1);
  CHECK(points.size() == 3);
}

TEST_CASE("frames of a device: no text on text, clock and speed told, points in the air, the same twice") {
  const FieldRun& field = test::rooms();
  FilmOptions options;
  options.frames = 4;
  options.points = 80;
  const std::vector<figure::FieldMap> maps = tracer_maps(field, options), again = tracer_maps(field, options);
  for (std::size_t k = 0; k < maps.size(); ++k) {
    const std::string document = figure::field_map(maps[k]);
    CHECK(document == figure::field_map(again[k]));
    for (const std::string& fault : test::text_faults(document)) FAIL_CHECK(fault);
    CHECK_THAT(document,
               Contains("in a loop at 24 frames a second") && Contains("Since the air came in [s]"));
    const auto dots = test::having(test::all(test::parsed(document), "g"), "data-part", "dots");
    REQUIRE(dots.size() == 1);
    CHECK(test::all(dots[0], "circle").size() == maps[k].dots.size());
    const flow2d::LayerFields& layer = field.plan.layers[0];
    for (const figure::MapDot& dot : maps[k].dots)
      CHECK(layer.solid(std::min(23, static_cast<int>(dot.at.x / test::kCell)),
                        std::min(15, static_cast<int>(dot.at.y / test::kCell))) == 0);
    // Points pass the fan and the passage: there are some in both rooms.
    CHECK(std::any_of(maps[k].dots.begin(), maps[k].dots.end(), [](const auto& d) { return d.at.x < 0.1; }));
    CHECK(std::any_of(maps[k].dots.begin(), maps[k].dots.end(), [](const auto& d) { return d.at.x > 0.15; }));
  }
  FieldRun still = channel_run();
  still.plan.vents[0].cells.clear();
  CHECK_THROWS_AS(tracer_maps(still), NothingFlows);
}
