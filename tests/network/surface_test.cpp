// What lies close to a face: which face, how far, and the ways out of the gap.
#include "solver/network/surface.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "solver/study/predict.hpp"
#include "tests/network/chassis.hpp"

using namespace tuft;
using namespace tuft::geometry;
using namespace tuft::network;

namespace {

Support hard() {
  Support support;
  support.kind = SupportKind::hard;
  return support;
}

constexpr double kDegree = 3.14159265358979323846 / 180.0;

}  // namespace

TEST_CASE("the face that looks down rests on the surface; without feet only unevenness is left") {
  const Device device = testing::test_chassis().device;
  const auto flat = resting_surface(device, Pose{}, hard());
  REQUIRE(flat);
  CHECK(flat->face == Face::base);
  CHECK(flat->gap_at({0.1, 0.1, 0.0}) == Approx(4e-3));
  const auto edge = resting_surface(device, named_pose("on-left-edge"), hard());
  REQUIRE(edge);
  CHECK(edge->face == Face::left);
  CHECK(edge->gap_at({0.0, 0.1, 0.01}) == Approx(0.3e-3));
  CHECK(resting_surface(device, named_pose("upside-down"), hard())->face == Face::top);
  Support air;
  CHECK(!resting_surface(device, Pose{}, air));
}

TEST_CASE("a tipped device opens its gap like a wedge from its lowest edge") {
  const Device device = testing::test_chassis().device;
  const double angle = 10.0 * kDegree;
  // Turned about x by a positive angle the rear edge rises; the front edge stays on the table.
  const auto surface = resting_surface(device, tilted("propped", Vec3::UnitX(), angle), hard());
  REQUIRE(surface);
  CHECK(surface->gap_at({0.1, 0.0, 0.0}) == Approx(4e-3));
  CHECK(surface->gap_at({0.1, 0.2, 0.0}) == Approx(4e-3 + 0.2 * std::sin(angle)));
}

TEST_CASE("soft surfaces take the gap away and stay below zero at nothing") {
  const Device device = testing::test_chassis().device;
  Support soft;
  soft.kind = SupportKind::soft;
  soft.sink = 3e-3;
  soft.permeability = 0.1;
  CHECK(resting_surface(device, Pose{}, soft)->gap_at({0.1, 0.1, 0}) == Approx(1e-3));
  soft.sink = 9e-3;
  CHECK(resting_surface(device, Pose{}, soft)->gap_at({0.1, 0.1, 0}) == 0.0);
}

TEST_CASE("a device on a wall hangs by its base whatever its pose") {
  const Device device = testing::test_chassis().device;
  Support wall;
  wall.kind = SupportKind::wall;
  CHECK(resting_surface(device, named_pose("on-front-edge"), wall)->face == Face::base);
}

TEST_CASE("a closed lid lies over the top face, an open one does not") {
  Device device = testing::test_chassis().device;
  device.lid.present = true;
  device.lid.clearance = 1e-3;
  const auto closed = closed_lid(device, 0.0);
  REQUIRE(closed);
  CHECK(closed->face == Face::top);
  CHECK(closed->gap_at({0.1, 0.05, 0.018}) == Approx(1e-3));
  const auto ajar = closed_lid(device, 5.0 * kDegree);
  REQUIRE(ajar);
  CHECK(ajar->gap_at({0.1, 0.02, 0.018}) == Approx(1e-3 + 0.2 * std::tan(5.0 * kDegree)));
  CHECK(!closed_lid(device, 100.0 * kDegree));
}

TEST_CASE("ways out of a gap: four, shut where the gap is") {
  const Device device = testing::test_chassis().device;
  const auto surface = resting_surface(device, Pose{}, hard());
  const auto ways = ways_to_edges(device, *surface, device.vents[testing::kSpare]);
  CHECK(ways.size() == 4);
  Support shut = hard();
  shut.gap_given = true;
  shut.gap = 0.0;
  CHECK(ways_to_edges(device, *resting_surface(device, Pose{}, shut), device.vents[testing::kSpare]).empty());
}

TEST_CASE("the smaller the gap under the device, the less the grille draws") {
  double before = 0.0;
  for (double gap : {0.0, 0.5e-3, 1e-3, 2e-3, 4e-3, 8e-3, 40e-3}) {
    Case content = testing::test_chassis();
    content.supports[1].gap_given = true;
    content.supports[1].gap = gap;
    const auto result = study::predict(content, testing::add_condition(content, "flat", 1, 0));
    INFO("gap " << gap);
    REQUIRE(result.report.converged);
    CHECK(result.vents[testing::kGrille].inflow >= before);
    before = result.vents[testing::kGrille].inflow;
    if (gap == 0.0) CHECK(before == 0.0);
  }
}

TEST_CASE("a very large gap is as good as none") {
  Case content = testing::test_chassis();
  content.supports[1].gap_given = true;
  content.supports[1].gap = 1.0;
  const auto far = study::predict(content, testing::add_condition(content, "flat", 1, 0));
  const auto air = study::predict(content, testing::add_condition(content, "flat", 0, 0));
  CHECK(far.vents[testing::kGrille].inflow == Approx(air.vents[testing::kGrille].inflow).epsilon(1e-3));
  CHECK(far.fans[0].volume_flow == Approx(air.fans[0].volume_flow).epsilon(1e-3));
}

TEST_CASE("the more air passes the fabric, the more a vent pressed into it draws") {
  double before = 0.0;
  for (double permeability : {0.0, 0.01, 0.05, 0.2, 1.0}) {
    Case content = testing::test_chassis();
    content.supports[2].permeability = permeability;
    const auto result = study::predict(content, testing::add_condition(content, "flat", 2, 0));
    REQUIRE(result.report.converged);
    CHECK(result.vents[testing::kGrille].inflow >= before);
    before = result.vents[testing::kGrille].inflow;
  }
  CHECK(before > 0.0);
}

TEST_CASE("the more of a vent is pressed shut on bedding, the less it draws") {
  double before = 1e9;
  for (double covered : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    Case content = testing::test_chassis();
    content.supports[2].covered = covered;
    const auto result = study::predict(content, testing::add_condition(content, "flat", 2, 0));
    INFO("covered " << covered);
    REQUIRE(result.report.converged);
    CHECK(result.vents[testing::kGrille].inflow <= before);
    before = result.vents[testing::kGrille].inflow;
  }
}

TEST_CASE("splitting a vent in two that touch changes little on a table") {
  Case whole = testing::test_chassis();
  Case halves = testing::test_chassis();
  Vent& first = halves.device.vents[testing::kSpare];
  first.width *= 0.5;
  Vent second = first;
  first.centre.x() -= 0.5 * first.width;
  second.centre.x() += 0.5 * first.width;
  second.name = "spare-2";
  halves.device.vents.push_back(second);
  const auto a = study::predict(whole, testing::add_condition(whole, "flat", 1, 0));
  const auto b = study::predict(halves, testing::add_condition(halves, "flat", 1, 0));
  const double both = b.vents[testing::kSpare].inflow + b.vents.back().inflow;
  // Two gap spaces with a way between them stand for one: the lumping of the gap shows, and no more.
  CHECK(both == Approx(a.vents[testing::kSpare].inflow).epsilon(0.12));
  // One half must not blow out what the other draws.
  CHECK(b.vents.back().outflow == 0.0);
}

TEST_CASE("a seam on the resting face breathes where there is a gap, and is shut where there is none") {
  for (double gap : {0.0, 1e-3, 0.1}) {
    Case content = testing::test_chassis();
    content.supports[1].gap_given = true;
    content.supports[1].gap = gap;
    Vent& seam = content.device.vents[testing::kSeamLeft];
    seam.face = Face::base;
    seam.centre = {0.2, 0.1, 0.0};
    seam.width = 0.1;
    seam.height = 0.1;
    seam.leak_area = 1e-4;
    const auto result = study::predict(content, testing::add_condition(content, "flat", 1, 0));
    REQUIRE(result.report.converged);
    INFO("gap " << gap);
    if (gap == 0.0)
      CHECK(result.vents[testing::kSeamLeft].inflow == 0.0);
    else
      CHECK(result.vents[testing::kSeamLeft].inflow > 0.0);
  }
}

TEST_CASE("a seam that fills its face still resists where the air turns out of the gap") {
  geometry::Case content = testing::test_chassis();
  geometry::Vent seam = content.device.vents[testing::kSeamRight];
  seam.face = geometry::Face::right;
  seam.width = content.device.size.y();
  seam.height = content.device.size.z();
  seam.centre = {content.device.size.x(), 0.5 * seam.width, 0.5 * seam.height};
  network::Surface surface;
  surface.face = geometry::Face::right;
  surface.gap = 0.3e-3;
  const auto ways = network::ways_to_edges(content.device, surface, seam);
  REQUIRE(ways.size() == 4);
  // A millimetre between plates: 12 l/h^2.
  for (const network::GapWay& way : ways) CHECK(way.law.viscous > 0.9 * 12.0 * 1e-3 / (0.3e-3 * 0.3e-3));
}

TEST_CASE("a gap given for a soft surface is the clear gap, sunk in or not") {
  const Device device = testing::test_chassis().device;
  Support soft;
  soft.kind = SupportKind::soft;
  soft.sink = 9e-3;
  soft.gap_given = true;
  soft.gap = 2e-3;
  CHECK(resting_surface(device, Pose{}, soft)->gap_at({0.1, 0.1, 0}) == Approx(2e-3));
}

TEST_CASE("what vents are called does not matter to the ways between them") {
  Case content = testing::test_chassis();
  Case renamed = testing::test_chassis();
  renamed.device.vents[testing::kSpare].name = "a-spare";  // now before the grille
  for (Case* c : {&content, &renamed}) c->poses[0] = tilted("flat", Vec3::UnitX(), 30.0 * kDegree);
  const auto a = study::predict(content, testing::add_condition(content, "flat", 1, 1));
  const auto b = study::predict(renamed, testing::add_condition(renamed, "flat", 1, 1));
  for (std::size_t v = 0; v < a.vents.size(); ++v)
    CHECK(b.vents[v].pressure == Approx(a.vents[v].pressure).margin(1e-10));
}

TEST_CASE("a seam of hardly any area opens no way for the air under the device, however far it runs") {
  double drawn[2];
  for (const bool seamed : {false, true}) {
    Case content = testing::test_chassis();
    Vent seam = content.device.vents[testing::kSeamLeft];
    seam.name = "seam-base";
    seam.face = Face::base;
    seam.centre = {0.16, 0.11, 0.0};
    seam.width = 0.32;
    seam.height = 0.22;
    seam.leak_area = 1e-9;
    if (seamed) content.device.vents.push_back(seam);
    const auto result = study::predict(content, testing::add_condition(content, "flat", 1, 0));
    REQUIRE(result.report.converged);
    drawn[seamed ? 1 : 0] = result.vents[testing::kGrille].inflow;
  }
  CHECK(drawn[1] == Approx(drawn[0]).epsilon(1e-4));
}

TEST_CASE("with every vent and seam taped shut the fan moves nothing, and that is an answer") {
  Case content = testing::test_chassis();
  for (Vent& vent : content.device.vents) {
    vent.blocked = 1.0;
    vent.leak_area = 0.0;
  }
  const auto result = study::predict(content, testing::add_condition(content, "flat", 0, 0));
  // No way out of any space: refused with the reason, not solved.
  CHECK(!result.report.converged);
  CHECK(result.report.reason.find("no open way to the outside") != std::string::npos);
}
