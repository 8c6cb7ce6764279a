// The head a vent by pressure pays: once, whichever way its air goes (F32).
#include <cstdio>

#include "solver/network/vent_law.hpp"
#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::section;
using namespace tuft::section::test;

namespace {

/// A box in mid-air that a fan, by its curve, draws into through one slot and blows out of by another.
geometry::Case blown_box() {
  geometry::Case c = box({0.2, 0.15, 0.04});
  c.device.vents = {vent("front", Face::front, {0.1, 0.0, 0.02}, 0.1, 0.016),
                    vent("rear", Face::rear, {0.1, 0.15, 0.02}, 0.1, 0.016)};
  c.device.vents[0].behind = {geometry::PlaceKind::fan_inlet, 0};
  c.device.vents[1].behind = {geometry::PlaceKind::zone, 0};
  geometry::Fan fan;
  fan.name = "fan";
  fan.diameter = 0.03;
  fan.thickness = 0.01;
  fan.speed = 50.0;
  fan.curve = {{0.0, 4.0}, {8e-4, 2.0}, {1.6e-3, 0.0}};
  fan.curve_speed = 50.0;
  fan.draws_from = {geometry::PlaceKind::vent, 0};
  fan.blows_into = {geometry::PlaceKind::zone, 0};
  c.device.fans = {fan};
  return c;
}

SectionGiven pressures_of(const study::ConditionResult& network) {
  SectionGiven given;
  for (const study::VentResult& v : network.vents)
    given.vents.push_back({0.0, 0.0, v.temperature_out, true, v.pressure});
  return given;
}

}  // namespace

TEST_CASE("behind two slots and a fan the air takes the network's heads and no other", "[vent][network]") {
  const geometry::Case c = blown_box();
  const study::ConditionResult network = study::predict(c, 0);
  REQUIRE(network.report.converged);
  REQUIRE(network.vents[0].inflow > 6e-4);
  std::printf("flow of the field over the network's, by convection and cell size\n");
  for (const field::Convection scheme : {field::Convection::upwind, field::Convection::limited}) {
    const bool limited = scheme == field::Convection::limited;
    double drawn_before = 1.0;
    for (const double cell : {4e-3, 2e-3, 1e-3}) {
      SectionOptions options;
      options.finest = cell;
      options.scheme = scheme;
      options.march_steps = 0;
      const SectionResult r = solve_section(c, c.conditions[0], pressures_of(network), options);
      INFO(r.message << "; cell " << cell);
      REQUIRE(r.end == SectionEnd::steady);
      REQUIRE(r.first_order != limited);
      const double drawn = 0.1 * r.vents[0].inflow / network.vents[0].inflow;
      const double blown = 0.1 * r.vents[1].outflow / network.vents[1].outflow;
      std::printf("  %-7s %2.0f mm   drawn %.4f   blown %.4f\n", limited ? "limited" : "upwind", 1e3 * cell,
                  drawn, blown);
      CHECK(blown == Approx(1.0).epsilon(0.01));
      CHECK(std::abs(drawn - 1.0) <
            drawn_before);  // upwind loses head where air gathers, less in small cells
      if (limited && cell < 3e-3) CHECK(drawn == Approx(1.0).epsilon(0.01));
      drawn_before = std::abs(drawn - 1.0);
    }
  }
}
