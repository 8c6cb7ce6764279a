// Every section of the full sample arrives in the case as written.
#include <catch2/catch.hpp>

#include <cmath>

#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using tuft::casefile::test::full_case;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;

namespace {

constexpr double kDegree = 3.14159265358979323846 / 180;

const ReadResult& full() {
  static const ReadResult result = read(full_case());
  return result;
}
const Case& content() { return full().file.content; }
const Device& whole_device() { return content().device; }

void check_value(const Value& value, SpreadKind kind, double nominal, double low, double high) {
  CHECK(value.spread == kind);
  CHECK(*value == Approx(nominal).margin(1e-15));
  CHECK(value.low == Approx(low).margin(1e-15));
  CHECK(value.high == Approx(high).margin(1e-15));
}

}  // namespace

TEST_CASE("the full sample reads without a word") {
  INFO(messages(full()));
  CHECK(full().errors.empty());
  CHECK(full().warnings.empty());
  CHECK(full().file.path == "case.yaml");
  CHECK(full().file.text == full_case());
}

TEST_CASE("device and room") {
  CHECK(whole_device().name == "Slim notebook (invented)");
  CHECK(whole_device().size.isApprox(Vec3(0.312, 0.221, 0.016)));
  check_value(whole_device().feet, SpreadKind::normal, 1.8e-3, 1.6e-3, 2e-3);
  check_value(content().room.temperature, SpreadKind::normal, 294.15, 293.15, 295.15);
  CHECK(*content().room.altitude == 120.0);
  CHECK(*content().room.relative_humidity == Approx(0.45));
}

TEST_CASE("zones and passages") {
  REQUIRE(whole_device().zones.size() == 3);
  const Zone& bay = whole_device().zones[0];
  CHECK(bay.name == "fan-bay");
  CHECK(bay.centre.isApprox(Vec3(0.0605, 0.165, 0.008)));
  CHECK(bay.size.isApprox(Vec3(0.119, 0.110, 0.014)));
  check_value(bay.wall_conductance, SpreadKind::log_uniform, 0.3, 0.2, 0.45);
  REQUIRE(whole_device().passages.size() == 2);
  const Passage& passage = whole_device().passages[0];
  CHECK(passage.name == "bay-to-board");
  CHECK(passage.zone_a == 0);
  CHECK(passage.zone_b == 1);
  CHECK(passage.normal == 0);
  CHECK(passage.centre.isApprox(Vec3(0.12, 0.17, 0.01)));
  CHECK(*passage.width == Approx(0.06));
  CHECK(*passage.height == Approx(0.005));
  CHECK(*passage.length == Approx(0.01));
  CHECK(*passage.bends == 1.0);
}

TEST_CASE("vents") {
  REQUIRE(whole_device().vents.size() == 9);  // 7 vents, 2 leaks
  const Vent& grille = whole_device().vents[0];
  CHECK(grille.name == "base-grille");
  CHECK(grille.face == Face::base);
  CHECK(grille.centre.isApprox(Vec3(0.07, 0.16, 0)));
  CHECK(grille.width == Approx(0.07));
  CHECK(grille.height == Approx(0.048));
  CHECK(grille.cover.kind == CoverKind::perforated);
  check_value(grille.cover.open_ratio, SpreadKind::normal, 0.42, 0.37, 0.47);
  CHECK(*grille.cover.hole == Approx(1.6e-3));
  CHECK(*grille.cover.thickness == Approx(1e-3));
  CHECK(*grille.blocked == Approx(0.05));
  CHECK(grille.behind.kind == PlaceKind::zone);
  CHECK(grille.behind.index == 0);
  check_value(whole_device().vents[1].cover.open_ratio, SpreadKind::triangular, 0.02, 0.01, 0.04);
  CHECK(whole_device().vents[1].centre.isApprox(Vec3(0.2, 0.15, 0.016)));
  const Vent& outlet = whole_device().vents[2];
  CHECK(outlet.cover.kind == CoverKind::louvre);
  CHECK(outlet.behind.kind == PlaceKind::fins);
  CHECK(outlet.centre.isApprox(Vec3(0, 0.165, 0.008)));
  CHECK(*whole_device().vents[3].cover.open_ratio == 0.5);
  CHECK(whole_device().vents[3].centre.isApprox(Vec3(0.312, 0.17, 0.008)));
  const Vent& hinge = whole_device().vents[4];
  CHECK(hinge.face == Face::hinge);
  CHECK(hinge.centre.isApprox(Vec3(0.22, 0.221, 0.016)));
  CHECK(hinge.cover.kind == CoverKind::open);
  CHECK(whole_device().vents[5].cover.kind == CoverKind::foam);
  CHECK(*whole_device().vents[5].cover.permeability == Approx(4.5e-9));
  const Vent& assist = whole_device().vents[6];
  CHECK(assist.cover.loss_given);
  check_value(assist.cover.loss, SpreadKind::normal, 3.2, 2.7, 3.7);
  CHECK(assist.behind.kind == PlaceKind::fan_outlet);
  CHECK(assist.behind.index == 1);
}

TEST_CASE("leaks") {
  const Vent& seam = whole_device().vents[7];
  CHECK(seam.is_leak);
  CHECK(seam.name == "seam");
  check_value(seam.leak_area, SpreadKind::log_uniform, 20e-6, 20e-6 / 3, 60e-6);
  CHECK(seam.behind.index == 1);
  const Vent& front = whole_device().vents[8];
  CHECK(front.width == Approx(0.312));
  CHECK(front.height == Approx(0.016));
  CHECK(*front.leak_area == Approx(0.05e-3 * 0.312));
  CHECK(front.behind.index == 2);  // the battery's box lies nearest
}

TEST_CASE("fans and fins") {
  REQUIRE(whole_device().fans.size() == 2);
  const Fan& main = whole_device().fans[0];
  CHECK(main.kind == FanKind::blower);
  CHECK(*main.diameter == Approx(0.052));
  check_value(main.speed, SpreadKind::normal, 4600.0 / 60, 4500.0 / 60, 4700.0 / 60);
  REQUIRE(main.curve.size() == 4);
  CHECK(main.curve[1].flow == Approx(0.8e-3));
  CHECK(main.curve[1].pressure == Approx(185));
  CHECK(main.curve_speed == Approx(4600.0 / 60));
  CHECK(main.curve_density == Approx(1.2));
  check_value(main.flow_factor, SpreadKind::normal, 1, 0.95, 1.05);
  check_value(main.pressure_factor, SpreadKind::normal, 1, 0.92, 1.08);
  CHECK(main.draws_from.kind == PlaceKind::zone);
  CHECK(main.blows_into.kind == PlaceKind::fins);
  CHECK(main.centre.isApprox(Vec3(0.07, 0.16, 0.008)));
  const Fan& small = whole_device().fans[1];
  CHECK(small.kind == FanKind::axial);
  CHECK(small.blows_into.kind == PlaceKind::vent);
  CHECK(small.blows_into.index == 6);
  check_value(small.flow_factor, SpreadKind::normal, 1, 0.65, 1.35);
  check_value(small.pressure_factor, SpreadKind::normal, 1, 0.7, 1.3);
  REQUIRE(whole_device().fin_stacks.size() == 1);
  const FinStack& fins = whole_device().fin_stacks[0];
  CHECK(*fins.count == 50);
  CHECK(*fins.gap == Approx(1.1e-3));
  CHECK(fins.exit_zone == -1);
}

TEST_CASE("sources and lid") {
  REQUIRE(whole_device().sources.size() == 2);
  const Source& processor = whole_device().sources[0];
  REQUIRE(processor.shares.size() == 2);
  CHECK(processor.shares[0].into.kind == PlaceKind::fins);
  CHECK(*processor.shares[0].share == Approx(0.85));
  CHECK(processor.shares[1].into.kind == PlaceKind::zone);
  CHECK(processor.shares[1].into.index == 1);
  CHECK_FALSE(processor.is_placed);
  const Source& battery = whole_device().sources[1];
  CHECK(battery.is_placed);
  CHECK(battery.centre.isApprox(Vec3(0.161, 0.056, 0.013)));
  CHECK(battery.size.isApprox(Vec3(0.28, 0.09, 0.004)));
  CHECK(whole_device().lid.present);
  CHECK(*whole_device().lid.angle == Approx(110 * kDegree));
  REQUIRE(whole_device().lid.hides_hinge.size() == 3);
  CHECK(whole_device().lid.hides_hinge[2].angle == Approx(135 * kDegree));
  CHECK(whole_device().lid.hides_hinge[2].share == Approx(0.5));
}

TEST_CASE("poses and supports") {
  const std::vector<Pose>& poses = content().poses;
  REQUIRE(poses.size() == 4);  // the three of the file, and flat, which a condition names
  CHECK(poses[0].name == "propped");
  CHECK(poses[0].to_world.isApprox(tilted("", Vec3::UnitX(), 12 * kDegree).to_world));
  CHECK(poses[1].to_world.isApprox(tilted("", Vec3(1, 1, 0).normalized(), 30 * kDegree).to_world));
  CHECK(poses[2].name == "bench");
  CHECK(poses[2].to_world == named_pose("on-left-edge").to_world);
  CHECK(poses[3].name == "flat");
  const std::vector<Support>& supports = content().supports;
  REQUIRE(supports.size() == 5);
  CHECK(supports[0].kind == SupportKind::hard);
  CHECK(supports[0].gap_given);
  CHECK(*supports[0].gap == Approx(1.8e-3));
  check_value(supports[0].edge_gap, SpreadKind::log_uniform, 0.3e-3, 0.15e-3, 0.6e-3);
  CHECK(supports[1].kind == SupportKind::soft);
  check_value(supports[1].sink, SpreadKind::triangular, 0.01, 0.005, 0.02);
  check_value(supports[1].permeability, SpreadKind::log_uniform, 0.1, 0.1 / 3, 0.3);
  CHECK(supports[1].covers == std::vector<int>{2});
  CHECK_FALSE(supports[1].touches_given);
  CHECK(supports[2].kind == SupportKind::lap);
  CHECK(supports[3].kind == SupportKind::stand);
  CHECK(supports[4].name == "air");
}

TEST_CASE("loads") {
  REQUIRE(content().loads.size() == 2);
  const Load& idle = content().loads[0];
  REQUIRE(idle.powers.size() == 2);
  CHECK(*idle.powers[0].power == 3);
  REQUIRE(idle.fans.size() == 2);
  check_value(idle.fans[0].speed, SpreadKind::normal, 0.4 * 4600 / 60, 0.4 * 4500 / 60, 0.4 * 4700 / 60);
  CHECK(idle.fans[1].state == FanState::stopped);
  const Load& stress = content().loads[1];
  check_value(stress.powers[0].power, SpreadKind::normal, 35, 31.5, 38.5);
  check_value(stress.powers[1].power, SpreadKind::uniform, 2, 1, 3);
  REQUIRE(stress.fans.size() == 1);  // full is what a fan does unless told otherwise
  CHECK(*stress.fans[0].speed == Approx(35));
}

TEST_CASE("conditions, sweeps and roles") {
  REQUIRE(content().conditions.size() == 6);
  const Condition& use = content().conditions[0];
  CHECK(use.name == "use");
  CHECK(content().poses[static_cast<std::size_t>(use.pose)].name == "flat");
  CHECK(content().supports[static_cast<std::size_t>(use.support)].name == "table");
  CHECK(use.load == 1);
  CHECK(use.lid_given);
  CHECK(*use.lid_angle == Approx(110 * kDegree));
  CHECK_FALSE(content().conditions[1].lid_given);
  CHECK(content().conditions[5].name == "flat-table-stress-lid0");  // written out in a claim
  REQUIRE(content().sweeps.size() == 1);
  CHECK(content().sweeps[0].condition == 1);
  CHECK(content().sweeps[0].axis == Vec3::UnitY());
  CHECK(content().sweeps[0].to == Approx(360 * kDegree));
  CHECK(content().thresholds.idle_velocity == Approx(0.05));
  CHECK(content().thresholds.still_velocity == Approx(0.0005));
  CHECK(content().thresholds.margin == 1.5);
}

TEST_CASE("claims") {
  const std::vector<Claim>& claims = content().claims;
  REQUIRE(claims.size() == 7);
  CHECK(claims[0].id == "grille-draws");
  CHECK(claims[0].say == "The base grille takes air in on a table");
  CHECK(claims[0].kind == ClaimKind::role);
  CHECK(claims[0].role == Role::intake);
  CHECK_FALSE(claims[0].any);
  CHECK(claims[0].when == 0);
  CHECK(claims[1].any);
  CHECK(claims[2].kind == ClaimKind::none_has_role);
  CHECK(claims[2].vents == std::vector<int>{4});
  CHECK(claims[3].kind == ClaimKind::draws_more);
  CHECK(claims[3].than == std::vector<int>({3, 1}));
  CHECK(claims[3].factor == 1.5);
  CHECK(claims[3].when == 5);
  CHECK(claims[4].kind == ClaimKind::gives_more);
  CHECK(claims[4].factor == 1.0);
  CHECK(claims[5].kind == ClaimKind::share);
  CHECK(claims[5].low == Approx(0.4));
  CHECK(claims[5].high == 1.0);
  CHECK(claims[6].kind == ClaimKind::changes_role);
  CHECK(claims[6].vents == std::vector<int>{7});  // a leak
  CHECK(claims[6].against == 1);
}
