// Every default is a class of things: a value with a spread, marked as assumed, listed with a sentence.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/quantity.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using tuft::casefile::test::assumed;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;
using tuft::casefile::test::two_zones;

namespace {

void check_assumed(const ReadResult& result, const std::string& key, const Value& value, SpreadKind kind,
                   double nominal, double low, double high) {
  CAPTURE(key);
  CHECK(value.origin == Origin::assumed);
  CHECK(value.spread == kind);
  CHECK(*value == Approx(nominal).margin(1e-12));
  CHECK(value.low == Approx(low).margin(1e-12));
  CHECK(value.high == Approx(high).margin(1e-12));
  const Assumption assumption = assumed(result, key);
  CHECK(assumption.key == key);
  CHECK_FALSE(assumption.value.empty());
  CHECK_FALSE(assumption.sentence.empty());
}

}  // namespace

TEST_CASE("a small case: one zone, four seams, one load, flat on the table") {
  const ReadResult result = read(small_case());
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(result.warnings.empty());
  const Case& content = result.file.content;
  REQUIRE(content.device.zones.size() == 1);
  CHECK(content.device.zones[0].name == "inside");
  CHECK(content.device.zones[0].size == content.device.size);
  CHECK(content.device.vents.size() == 6);
  REQUIRE(content.loads.size() == 1);
  CHECK(content.loads[0].name == "idle");
  CHECK(content.loads[0].powers.empty());
  REQUIRE(content.conditions.size() == 1);
  CHECK(content.conditions[0].name == "flat-table-idle");
  for (const char* key : {"zones", "leaks", "loads", "conditions"}) CHECK(assumed(result, key).key == key);
}

TEST_CASE("device, room, walls and seams") {
  const ReadResult result = read(small_case());
  const Device& device = result.file.content.device;
  const Room& room = result.file.content.room;
  check_assumed(result, "device.feet", device.feet, SpreadKind::triangular, 1.5e-3, 1e-3, 2.5e-3);
  check_assumed(result, "room.temperature", room.temperature, SpreadKind::triangular, 294.15, 291.15, 298.15);
  check_assumed(result, "room.altitude", room.altitude, SpreadKind::triangular, 100, 0, 500);
  check_assumed(result, "room.humidity", room.relative_humidity, SpreadKind::triangular, 0.45, 0.3, 0.6);
  const double surface = 2 * (0.2 * 0.1 + 0.2 * 0.02 + 0.1 * 0.02);
  check_assumed(result, "zones.inside.walls", device.zones[0].wall_conductance, SpreadKind::log_uniform,
                6 * surface, 3 * surface, 12 * surface);
  CHECK(device.vents[2].name == "seam-left");
  check_assumed(result, "leaks.seam-left.area", device.vents[2].leak_area, SpreadKind::log_uniform,
                0.05e-3 * 0.1, 0.05e-3 * 0.1 / 3, 0.05e-3 * 0.1 * 3);
  CHECK(*device.vents[5].leak_area == Approx(0.05e-3 * 0.2));  // rear
  check_assumed(result, "vents.in.blocked", device.vents[0].blocked, SpreadKind::triangular, 0, 0, 0.1);
}

TEST_CASE("covers by kind") {
  const char* const kinds[] = {"perforated", "mesh", "louvre", "slots"};
  const double open[][3] = {{0.25, 0.4, 0.55}, {0.3, 0.45, 0.6}, {0.3, 0.5, 0.7}, {0.35, 0.5, 0.65}};
  for (int i = 0; i < 4; ++i) {
    const std::string vent =
        std::string("  x: {face: top, centre: [50 mm, 50 mm], size: [9 mm, 9 mm], cover: ") + kinds[i] +
        "}\n";
    const ReadResult result = read(small_case(vent));
    INFO(messages(result));
    REQUIRE(result.errors.empty());
    const Cover& cover = result.file.content.device.vents[2].cover;
    check_assumed(result, "vents.x.cover.open", cover.open_ratio, SpreadKind::triangular, open[i][1],
                  open[i][0], open[i][2]);
    CHECK(cover.hole.origin == Origin::assumed);
    CHECK(cover.thickness.origin == Origin::assumed);
  }
  const ReadResult none = read(small_case("  x: {face: top, centre: [50 mm, 50 mm], size: [9 mm, 9 mm]}\n"));
  REQUIRE(none.errors.empty());
  CHECK(none.file.content.device.vents[2].cover.kind == CoverKind::perforated);
  CHECK(assumed(none, "vents.x.cover").value == "perforated");
}

TEST_CASE("the wall around a bare opening has a thickness that can be given, and is else assumed and listed") {
  const std::string vent = "  x: {face: top, centre: [50 mm, 50 mm], size: [9 mm, 9 mm], cover: ";
  const ReadResult bare = read(small_case(vent + "open}\n"));
  INFO(messages(bare));
  REQUIRE(bare.errors.empty());
  check_assumed(bare, "vents.x.cover.thickness", bare.file.content.device.vents[2].cover.thickness,
                SpreadKind::triangular, 1e-3, 0.6e-3, 2e-3);
  const ReadResult given = read(small_case(vent + "{kind: open, thickness: 3 mm}}\n"));
  INFO(messages(given));
  REQUIRE(given.errors.empty());
  CHECK(*given.file.content.device.vents[2].cover.thickness == Approx(3e-3));
}

TEST_CASE("the foam's permeability is that of 20 mm that pass 500..3000 mm/s at 100 Pa") {
  // K = mu v L / dp with mu = 1.82e-5 Pa s at 20 °C (Sutherland, U.S. Standard Atmosphere 1976): the
  // geometric mean of the two ends, and the factor from it to either.
  const Quantity read_back =
      read_quantity(find_key("vents.*.cover.permeability")->defaults.at(0).value, Dimension::permeability);
  REQUIRE(read_back.ok());
  const double low = 1.82e-5 * 0.5 * 0.02 / 100;
  const double high = 1.82e-5 * 3.0 * 0.02 / 100;
  CHECK(*read_back.value == Approx(std::sqrt(low * high)).epsilon(0.03));
  CHECK(read_back.value.low == Approx(low).epsilon(0.03));
  CHECK(read_back.value.high == Approx(high).epsilon(0.03));
}

TEST_CASE("upholstery spans 30..500 mm/s at 100 Pa") {
  const Quantity read_back =
      read_quantity(find_key("supports.*.permeability")->defaults.at(0).value, Dimension::velocity);
  REQUIRE(read_back.ok());
  CHECK(read_back.value.low == Approx(0.030).epsilon(0.02));
  CHECK(read_back.value.high == Approx(0.500).epsilon(0.02));
}

TEST_CASE("supports by kind") {
  const ReadResult result =
      read(small_case("supports: {bed: soft, lap: lap, riser: stand, desk: hard, hook: wall}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const std::vector<Support>& supports = result.file.content.supports;
  check_assumed(result, "supports.bed.sink", supports[0].sink, SpreadKind::triangular, 8e-3, 3e-3, 15e-3);
  check_assumed(result, "supports.bed.covers", supports[0].covered, SpreadKind::triangular, 0.8, 0.5, 0.95);
  check_assumed(result, "supports.lap.covers", supports[1].covered, SpreadKind::triangular, 0.4, 0.2, 0.65);
  check_assumed(result, "supports.lap.thickness", supports[1].thickness, SpreadKind::log_uniform, 2e-3, 1e-3,
                4e-3);
  check_assumed(result, "supports.riser.gap", supports[2].gap, SpreadKind::triangular, 0.04, 0.025, 0.08);
  CHECK(supports[2].gap_given);  // a stand lifts the device off its feet
  check_assumed(result, "supports.desk.edge-gap", supports[3].edge_gap, SpreadKind::log_uniform, 0.3e-3,
                0.15e-3, 0.6e-3);
  CHECK_FALSE(supports[3].gap_given);
  CHECK_FALSE(supports[4].gap_given);
  CHECK(assumed(result, "supports.hook.gap").value == "the device's feet");
}

TEST_CASE("fans, fins and lid") {
  const ReadResult result =
      read(small_case("fans: {a: {kind: blower, diameter: 50 mm, draws-from: inside, blows-into: out},\n"
                      "       b: {kind: axial, diameter: 30 mm, draws-from: inside, blows-into: stack}}\n"
                      "fins: {stack: {channels: 20, height: 5 mm, length: 20 mm, exits-into: inside}}\n"
                      "lid: {}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Device& device = result.file.content.device;
  check_assumed(result, "fans.a.speed", device.fans[0].speed, SpreadKind::triangular, 75, 50, 5500.0 / 60);
  check_assumed(result, "fans.b.thickness", device.fans[1].thickness, SpreadKind::triangular, 15e-3, 8e-3,
                25e-3);
  CHECK(device.fans[0].flow_factor.origin == Origin::assumed);
  CHECK(device.fans[0].curve.empty());
  CHECK(device.fans[0].centre == device.zones[0].centre);
  CHECK(assumed(result, "fans.a.at").value == "[100 mm, 50 mm, 10 mm]");
  check_assumed(result, "fins.stack.gap", device.fin_stacks[0].gap, SpreadKind::triangular, 1.1e-3, 0.9e-3,
                1.5e-3);
  check_assumed(result, "fins.stack.walls", device.fin_stacks[0].wall_conductance, SpreadKind::log_uniform,
                0.15, 0.06, 0.375);
  check_assumed(result, "lid.clearance", device.lid.clearance, SpreadKind::triangular, 1e-3, 0.5e-3, 2e-3);
  REQUIRE(device.lid.hides_hinge.size() == 3);
  CHECK(device.lid.hides_hinge[0].share == Approx(0.95));
  CHECK(device.lid.hides_hinge[1].angle == Approx(M_PI / 2));
  CHECK(device.lid.hides_hinge[2].share == Approx(0.5));
  CHECK(assumed(result, "lid.hides-hinge").key == "lid.hides-hinge");
}

TEST_CASE("a curve without a speed was taken at the fan's") {
  const ReadResult result = read(small_case(
      "fans: {a: {kind: blower, diameter: 50 mm, speed: 3000 rpm, draws-from: inside, blows-into: out,\n"
      "  curve: {points: [[0 L/s, 100 Pa], [1 L/s, 0 Pa]]}}}\n"));
  REQUIRE(result.errors.empty());
  CHECK(result.file.content.device.fans[0].curve_speed == Approx(50));
  CHECK(assumed(result, "fans.a.curve.speed").value == "3000 rpm");
  CHECK(assumed(result, "fans.a.curve.density").value == "1.2 kg/m3");
}

TEST_CASE("the role thresholds of the table are those of the type") {
  const RoleThresholds read_ones = read(small_case()).file.content.thresholds;
  const RoleThresholds own;
  CHECK(read_ones.still_velocity == Approx(own.still_velocity));
  CHECK(read_ones.idle_share == Approx(own.idle_share));
  CHECK(read_ones.idle_velocity == Approx(own.idle_velocity));
  CHECK(read_ones.both_ways_ratio == Approx(own.both_ways_ratio));
  CHECK(read_ones.margin == own.margin);
}

TEST_CASE("passages") {
  const ReadResult result = read(two_zones());
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Passage& door = result.file.content.device.passages[0];
  CHECK(door.normal == 0);
  CHECK(door.centre.isApprox(Vec3(0.08, 0.05, 0.01)));
  check_assumed(result, "passages.door.length", door.length, SpreadKind::triangular, 2e-3, 0, 0.01);
  check_assumed(result, "passages.door.bends", door.bends, SpreadKind::triangular, 0, 0, 1);
  CHECK(assumed(result, "passages.door.across").value == "x");
  CHECK(assumed(result, "passages.door.at").value == "[80 mm, 50 mm, 10 mm]");
}

TEST_CASE("every default of the table can be read, lies in its range, has a spread and a sentence") {
  for (const Key& key : key_table()) {
    for (const Default& fallback : key.defaults) {
      CAPTURE(key.path, fallback.when, fallback.value);
      CHECK_FALSE(fallback.value.empty());
      CHECK_FALSE(fallback.why.empty());
      if (key.type != Type::quantity) continue;
      const Quantity value = read_quantity(fallback.value, key.dimension);
      if (!value.ok()) continue;  // found by a rule that the text tells
      const bool open = key.low.at(0) == '>';
      const Quantity low = read_quantity(open ? key.low.substr(1) : key.low, key.dimension);
      const Quantity high = read_quantity(key.high, key.dimension);
      REQUIRE(low.ok());
      REQUIRE(high.ok());
      CHECK((open ? value.value.low > *low.value : value.value.low >= *low.value - 1e-12));
      CHECK(value.value.high <= *high.value + 1e-12);
      const bool a_count = key.dimension == Dimension::number;
      if (!key.exact && !a_count) CHECK(value.value.spread != SpreadKind::none);
    }
  }
}

TEST_CASE("every key of the table has a sentence, and every quantity a range") {
  for (const Key& key : key_table()) {
    CAPTURE(key.path);
    CHECK_FALSE(key.says.empty());
    if (key.type == Type::quantity || key.type == Type::quantities) {
      // Points hold two dimensions, checked by the reader.
      const bool point = key.path == "fans.*.curve.points[]" || key.path == "fans.*.speed-control.speeds[]";
      CHECK(key.low.empty() == point);
    }
    CHECK(find_key(key.path) == &key);
  }
}
