// Where the network is exact (still, deep air between openings) the layers give its answer.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/flow2d/layer_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;
using geometry::Face;

namespace {

/// A deep box with a row of slots along the front and one along the rear, its fan drawing through the top.
geometry::Case slot_rows() {
  geometry::Case c = box({0.24, 0.16, 0.08});
  for (int k = 0; k < 4; ++k)
    c.device.vents.push_back(vent("front-" + std::to_string(k), Face::front, {0.03 + 0.06 * k, 0.0, 0.04},
                                  0.03, 0.004 + 0.002 * k));
  c.device.vents.push_back(vent("rear", Face::rear, {0.12, 0.16, 0.04}, 0.1, 0.006));
  c.device.vents.push_back(vent("fan-vent", Face::top, {0.12, 0.08, 0.08}, 0.04, 0.04));
  c.device.vents.back().behind = {geometry::PlaceKind::fan_inlet, 0};
  c.device.fans = {fan_into_zone(5, 8.0, 5e-4)};
  return c;
}

}  // namespace

TEST_CASE("a row of slots of known resistance shares the flow as in the network, to 1 %", "[network]") {
  const geometry::Case c = slot_rows();
  const PlanResult r = solved(c, 0.01);
  INFO(r.message);
  REQUIRE(r.converged());
  for (std::size_t v = 0; v < r.vents.size(); ++v) {
    INFO(c.device.vents[v].name);
    CHECK(r.vents[v].outflow == Approx(r.network_vents[v].outflow).epsilon(0.01));
    CHECK(r.vents[v].inflow == Approx(r.network_vents[v].inflow).epsilon(0.01));
  }
  CHECK(r.vents[5].inflow > 1e-4);
  CHECK(r.fans[0].flow == Approx(r.vents[5].inflow));
}

TEST_CASE("warm air in a box stood upright draws and blows as in the network", "[network]") {
  // Slots low and high in the pose: left side down. Inside, the network's air is well mixed; the layer's is
  // warmer above, so the flows agree to the share that stratification makes of them.
  geometry::Case c = box({0.2, 0.12, 0.06});
  c.device.vents = {vent("left", Face::left, {0.0, 0.06, 0.03}, 0.06, 0.01),
                    vent("right", Face::right, {0.2, 0.06, 0.03}, 0.06, 0.01)};
  c.poses = {geometry::named_pose("on-left-edge")};
  LayerBoundaryData given;
  given.zones = {5.0};
  const PlanResult r = solved(c, 0.01, given);
  INFO(r.message);
  REQUIRE(r.converged());
  CHECK(r.vents[0].inflow > 0.0);
  CHECK(r.vents[0].outflow < 0.05 * r.vents[0].inflow);
  CHECK(r.vents[1].outflow == Approx(r.vents[0].inflow - r.vents[0].outflow + r.vents[1].inflow));
  CHECK(r.vents[1].outflow == Approx(r.network_vents[1].outflow).epsilon(0.25));
  // All heat leaves with the air: 5 W = flow cp (T_out - T_amb).
  const double carried = 1006.0 * r.vents[1].outflow * (r.vents[1].temperature_out - r.ambient_temperature);
  CHECK(carried == Approx(5.0).epsilon(0.02));
}

TEST_CASE("a draught drives the layers as it drives the network: at free vents and at the rim of a gap",
          "[network]") {
  // Deep, cold air between openings that resist much more than it does.
  geometry::Case c = box({0.2, 0.12, 0.06});
  c.device.vents = {vent("left", Face::left, {0.0, 0.06, 0.03}, 0.03, 0.004),
                    vent("right", Face::right, {0.2, 0.06, 0.03}, 0.03, 0.004)};
  c.room.draught.speed = 0.5;
  c.room.draught.from = 1.2;
  const auto check = [](const PlanResult& r, double epsilon) {
    INFO(r.message);
    REQUIRE(r.converged());
    CHECK(r.through_flow > 0.0);
    for (std::size_t v = 0; v < r.vents.size(); ++v) {
      CHECK(r.vents[v].outflow == Approx(r.network_vents[v].outflow).epsilon(epsilon));
      CHECK(r.vents[v].inflow == Approx(r.network_vents[v].inflow).epsilon(epsilon));
    }
  };
  check(solved(c, 0.01), 0.01);

  // A slot in the base over a gap of 20 mm, which takes next to no pressure: nearly that of its mouths.
  c.device.vents[0] = vent("base", Face::base, {0.1, 0.06, 0.0}, 0.03, 0.004);
  geometry::Support table;
  table.kind = geometry::SupportKind::hard;
  table.gap_given = true;
  table.gap = 0.02;
  c.supports = {table};
  const PlanResult r = solved(c, 0.01);
  INFO(r.message);
  REQUIRE(r.converged());
  CHECK(r.network_vents[1].inflow > 0.0);
  CHECK(r.vents[1].inflow == Approx(r.network_vents[1].inflow).epsilon(0.25));
}

TEST_CASE("a fin stack takes the network's pressure whatever the cells", "[network]") {
  geometry::Case c = box({0.2, 0.12, 0.04});
  geometry::FinStack fins;
  fins.name = "fins";
  fins.count = 31.0;
  fins.gap = 1.1e-3;
  fins.height = 0.009;
  fins.length = 0.021;
  fins.centre = {0.0105, 0.06, 0.02};
  c.device.fin_stacks = {fins};
  c.device.vents = {vent("outlet", Face::left, {0.0, 0.06, 0.02}, 0.042, 0.009),
                    vent("inlet", Face::top, {0.12, 0.06, 0.04}, 0.09, 0.08)};
  c.device.vents[0].behind = {geometry::PlaceKind::fins, 0};
  geometry::Fan fan = fan_into_zone(0, 60.0, 2e-3);
  fan.draws_from = {geometry::PlaceKind::zone, 0};
  fan.blows_into = {geometry::PlaceKind::fins, 0};
  fan.centre = {0.05, 0.06, 0.02};
  c.device.fans = {fan};
  LayerBoundaryData given;
  given.fin_stacks = {10.0};
  for (const double cell : {0.01, 0.006}) {
    INFO(cell);
    const PlanResult r = solved(c, cell, given);
    INFO(r.message);
    REQUIRE(r.converged());
    CHECK(r.vents[0].outflow == Approx(r.network_vents[0].outflow).epsilon(0.01));
    CHECK(r.vents[0].temperature_out == Approx(r.network_vents[0].temperature_out).margin(0.3));
  }
}

TEST_CASE("a passage between two zones takes what the network's does", "[network]") {
  geometry::Case c = box({0.24, 0.12, 0.06});
  geometry::Zone& left = c.device.zones[0];
  left.name = "left";
  left.size.x() = 0.12;
  left.centre.x() = 0.06;
  geometry::Zone right = left;
  right.name = "right";
  right.centre.x() = 0.18;
  c.device.zones.push_back(right);
  geometry::Passage passage;
  passage.name = "slot";
  passage.zone_b = 1;
  passage.centre = {0.12, 0.06, 0.03};
  passage.width = 0.03;
  passage.height = 0.004;
  passage.length = 0.01;
  c.device.passages = {passage};
  c.device.vents = {vent("out", Face::right, {0.24, 0.06, 0.03}, 0.06, 0.02),
                    vent("fan-vent", Face::left, {0.0, 0.06, 0.03}, 0.05, 0.04)};
  c.device.vents[0].behind = {geometry::PlaceKind::zone, 1};
  c.device.vents[1].behind = {geometry::PlaceKind::fan_inlet, 0};
  c.device.fans = {fan_into_zone(1, 8.0, 4e-4)};
  const PlanResult r = solved(c, 0.01);
  INFO(r.message);
  REQUIRE(r.converged());
  REQUIRE(r.passages.size() == 1);
  CHECK(r.passages[0].flow == Approx(r.network_vents[0].outflow).epsilon(0.01));
  CHECK(r.vents[0].outflow == Approx(r.passages[0].flow));
}
