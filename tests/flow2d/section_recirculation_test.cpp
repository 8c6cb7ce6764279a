// What the intakes take back: conserved, bounded, mirrored, and handed on to the network.
#include "solver/flow2d/section_recirculation.hpp"
#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// Two outlets and an intake under the device, over a table.
geometry::Case three_vents() {
  geometry::Case c = box({0.2, 0.15, 0.02});
  c.device.vents = {vent("rear", Face::rear, {0.1, 0.15, 0.01}, 0.1, 0.008),
                    vent("front", Face::front, {0.1, 0.0, 0.01}, 0.1, 0.008),
                    vent("base", Face::base, {0.08, 0.06, 0.0}, 0.1, 0.03)};
  c.device.feet = 6e-3;
  c.supports[0].kind = geometry::SupportKind::hard;
  return c;
}

SectionBoundaryData three_flows() {
  SectionBoundaryData given;
  given.vents = {{0.0, 3e-4, 315.0}, {0.0, 2e-4, 305.0}, {4e-4, 0.0, 0.0}};
  return given;
}

/// The device turned left for right along y.
geometry::Case mirrored(geometry::Case c) {
  for (geometry::Vent& v : c.device.vents) {
    v.centre.y() = c.device.size.y() - v.centre.y();
    if (v.face == Face::front)
      v.face = Face::rear;
    else if (v.face == Face::rear)
      v.face = Face::front;
  }
  return c;
}

double back(const SectionResult& r, int outlet, int intake) {
  for (const Recirculation& e : r.recirculation)
    if (e.outlet == outlet && e.intake == intake) return e.in_plane;
  FAIL("the pair is missing");
  return 0.0;
}

}  // namespace

TEST_CASE("tracers are bounded, add to one, and nothing of them is lost", "[tracer]") {
  const geometry::Case c = three_vents();
  const SectionResult r = solve_section(c, c.conditions[0], three_flows());
  INFO(r.message);
  REQUIRE(r.usable());
  CHECK(r.tracer < 1e-10);
  REQUIRE(r.tracers.size() == 2);
  const int nx = r.part.nx(), ny = r.part.ny();
  for (const Tracer& t : r.tracers) {
    for (double share : t.share.values()) {
      CHECK(share >= 0.0);
      CHECK(share <= 1.0);
    }
    // What leaves through the rims and what the intake takes is what the outlet gives.
    double left = 0.0;
    const auto leaves = [&](double speed, int i, int j, double width) {
      if (speed > 0.0) left += speed * width * r.density(i, j) * t.share(i, j);
    };
    for (int j = 0; j < ny; ++j) {
      const double w = r.y[static_cast<std::size_t>(j) + 1] - r.y[static_cast<std::size_t>(j)];
      leaves(-r.u_face(0, j), 0, j, w);
      leaves(r.u_face(nx, j), nx - 1, j, w);
    }
    for (int i = 0; i < nx; ++i) {
      const double w = r.x[static_cast<std::size_t>(i) + 1] - r.x[static_cast<std::size_t>(i)];
      leaves(-r.v_face(i, 0), i, 0, w);
      leaves(r.v_face(i, ny), i, ny - 1, w);
    }
    const double taken = back(r, t.outlet, 2) * r.vents[2].inflow;
    CHECK(left + taken == Approx(r.vents[static_cast<std::size_t>(t.outlet)].outflow).epsilon(1e-8));
  }
  // The air drawn is as warm as its parts say, but for heat that moves on its own.
  const double room = r.ambient_temperature;
  const double mixed = room + back(r, 0, 2) * (315.0 - room) + back(r, 1, 2) * (305.0 - room);
  CHECK(r.vents[2].drawn == Approx(mixed).margin(0.05 * (mixed - room) + 0.05));
  CHECK(r.recirculation[0].facing == Approx(0.08 / 0.1));
}

TEST_CASE("a device and its mirror image take back the same", "[tracer]") {
  const geometry::Case c = three_vents();
  const SectionResult a = solve_section(c, c.conditions[0], three_flows());
  const geometry::Case m = mirrored(c);
  const SectionResult b = solve_section(m, m.conditions[0], three_flows());
  REQUIRE(a.end == SectionEnd::steady);
  REQUIRE(b.end == SectionEnd::steady);
  CHECK(back(b, 0, 2) == Approx(back(a, 0, 2)).margin(1e-6));
  CHECK(back(b, 1, 2) == Approx(back(a, 1, 2)).margin(1e-6));
}

TEST_CASE("an intake in the way of a jet takes it back, one far from it does not", "[tracer]") {
  geometry::Case c = box({0.2, 0.15, 0.1});
  c.device.vents = {vent("low", Face::rear, {0.1, 0.15, 0.02}, 0.1, 0.01),
                    vent("above", Face::rear, {0.1, 0.15, 0.06}, 0.1, 0.02),
                    vent("far", Face::front, {0.1, 0.0, 0.02}, 0.1, 0.02)};
  SectionBoundaryData given;
  given.vents = {
      {0.0, 1e-4, 330.0}, {3e-4, 0.0, 0.0}, {3e-4, 0.0, 0.0}};  // a slow warm outlet rises into the intake
  const SectionResult r = solve_section(c, c.conditions[0], given);
  INFO(r.message);
  REQUIRE(r.usable());
  CHECK(back(r, 0, 1) > 0.2);
  CHECK(back(r, 0, 1) <= 1.0 / 3.0 + 1e-9);  // all there is of it
  CHECK(back(r, 0, 2) < 0.01);
}

TEST_CASE("fractions become entries of the case", "[handback]") {
  geometry::Case c = three_vents();
  c.device.vents[2].recirculates = {{0, 0.9}, {1, 0.05}};
  SectionResult r;
  r.end = SectionEnd::steady;
  r.vents.resize(3);
  r.recirculation = {{0, 2, 0.5, 0.8}};
  geometry::Case out = with_recirculation(c, r);
  REQUIRE(out.device.vents[2].recirculates.size() == 2);
  CHECK(out.device.vents[2].recirculates[0].vent == 1);
  CHECK(*out.device.vents[2].recirculates[0].share == 0.05);
  CHECK(out.device.vents[2].recirculates[1].vent == 0);
  CHECK(*out.device.vents[2].recirculates[1].share == Approx(0.4));
  r.recirculation = {{0, 2, 1.0, 1.0}};  // no more than the other leaves
  out = with_recirculation(c, r);
  CHECK(*out.device.vents[2].recirculates[1].share == Approx(0.95));
  r.recirculation = {{0, 2, 1e-9, 1.0}};
  CHECK(with_recirculation(c, r).device.vents[2].recirculates.size() == 1);

  // The uncertainty goes along, as an input that samples vary, and never beyond what there is.
  r.recirculation = {{0, 2, 0.5, 0.8, 0.05, 0.02, true}};
  out = with_recirculation(c, r);
  const geometry::Value share = out.device.vents[2].recirculates[1].share;
  CHECK(share.spread == geometry::SpreadKind::uniform);
  CHECK(share.low == Approx(0.8 * 0.43));
  CHECK(share.high == Approx(0.8 * 0.57));
  REQUIRE(share.input >= 0);
  CHECK(out.inputs[static_cast<std::size_t>(share.input)].key == "vents.base.recirculates.rear");
  CHECK(out.inputs[static_cast<std::size_t>(share.input)].prior.high == share.high);
  CHECK(with_recirculation(out, r).inputs.size() == out.inputs.size());
  CHECK(*at_bound(out, r, true).device.vents[2].recirculates[1].share == share.high);
  CHECK(*at_bound(out, r, false).device.vents[2].recirculates[1].share == share.low);
  CHECK(*at_bound(out, r, true).device.vents[2].recirculates[0].share == 0.05);
  r.recirculation = {{0, 2, 0.9, 1.0, 0.3, 0.0, true}};
  CHECK(with_recirculation(c, r).device.vents[2].recirculates[1].share.high == Approx(0.95));
  r.recirculation = {{0, 2, 0.3, 1.0}};  // no uncertainty known: from none to twice as much
  CHECK(with_recirculation(c, r).device.vents[2].recirculates[1].share.low == 0.0);
  CHECK(with_recirculation(c, r).device.vents[2].recirculates[1].share.high == Approx(0.6));
  r.end = SectionEnd::not_converged;
  CHECK(with_recirculation(c, r).device.vents[2].recirculates.size() == 2);
}

TEST_CASE("a second solve of the network with the section's fractions is warmer", "[handback]") {
  const geometry::Case c = case_named("slim-notebook");
  int k = 0;
  while (c.conditions[static_cast<std::size_t>(k)].name != "lid-closed") ++k;
  const study::ConditionResult first = study::predict(c, k);
  REQUIRE(first.report.converged);
  const SectionResult r = solve_section(c, c.conditions[static_cast<std::size_t>(k)], given_by(first));
  INFO(r.message);
  REQUIRE(r.usable());
  const geometry::Case again = with_recirculation(c, r);
  const study::ConditionResult second = study::predict(again, k);
  REQUIRE(second.report.converged);
  // Under the closed lid the hinge blows into the gap that the keyboard draws from.
  const std::size_t keyboard = 2, hinge = 4;
  REQUIRE(c.device.vents[keyboard].name == "keyboard");
  REQUIRE(c.device.vents[hinge].name == "hinge-outlet");
  double share = 0.0;
  for (const auto& t : again.device.vents[keyboard].recirculates)
    if (t.vent == static_cast<int>(hinge)) share = *t.share;
  CHECK(share > 0.05);
  CHECK(second.vents[hinge].temperature_out > first.vents[hinge].temperature_out + 0.1);
}
