// What stands behind a vent, what reaches what, and what is told about it.
#include <catch2/catch.hpp>

#include "geometry/casefile/boxes.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using tuft::casefile::test::assumed;
using tuft::casefile::test::first_error;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;
using tuft::casefile::test::two_zones;

namespace {

bool has_warning(const ReadResult& result, const std::string& part) {
  for (const Diagnostic& warning : result.warnings) {
    if (warning.message.find(part) != std::string::npos) return true;
  }
  return false;
}

Zone box(Vec3 from, Vec3 to) {
  Zone zone;
  zone.centre = 0.5 * (from + to);
  zone.size = (to - from).cwiseAbs();
  return zone;
}

}  // namespace

TEST_CASE("a vent opens into the zone just inside it") {
  const ReadResult result = read(two_zones());
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Device& device = result.file.content.device;
  CHECK(device.vents[0].behind.index == 0);
  CHECK(device.vents[1].behind.index == 1);
  CHECK(assumed(result, "vents.in.behind").value == "bay");
  CHECK(device.vents[2].behind.index == 0);  // seams: left
  CHECK(device.vents[3].behind.index == 1);  // right
}

TEST_CASE("a seam along two zones alike opens into the first by name, in whatever order they stand") {
  Zone left = box({0.0, 0.0, 0.0}, {0.1, 0.1, 0.1}), right = box({0.1, 0.0, 0.0}, {0.2, 0.1, 0.1});
  left.name = "bay";
  right.name = "annex";
  Device device;
  const Vec3 border(0.1, 0.0, 0.05);
  for (const bool turned : {false, true}) {
    device.zones = turned ? std::vector<Zone>{right, left} : std::vector<Zone>{left, right};
    CHECK(device.zones[static_cast<std::size_t>(nearest_zone(device, border))].name == "annex");
    CHECK(device.zones[static_cast<std::size_t>(nearest_zone(device, {0.05, 0.0, 0.05}))].name == "bay");
  }
}

TEST_CASE("boxes drawn inside the walls still lie behind their vents") {
  std::string text = two_zones();
  const std::string from = "to: [80 mm, 0 mm, 0 mm]", inset = "to: [80 mm, 2 mm, 2 mm]";
  text.replace(text.find("from: [200 mm, 100 mm, 20 mm]"), 29, "from: [197 mm, 98 mm, 18 mm]");
  text.replace(text.find(from), from.size(), inset);
  const ReadResult result = read(text);
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(result.file.content.device.vents[1].behind.index == 1);
}

TEST_CASE("a vent on the border of two zones, or over none, is asked about") {
  std::string vents = two_zones();
  vents.insert(vents.find("zones:"),
               "  mid: {face: base, centre: [80 mm, 50 mm], size: [20 mm, 20 mm], cover: open}\n");
  CHECK(first_error(vents) ==
        "6:3 the vent lies at the border of several zones: bay, board; write `behind:` with a zone or fins");
  std::string none = two_zones();
  const std::string to = "to: [80 mm, 100 mm, 20 mm]";
  none.replace(none.find(to), to.size(), "to: [80 mm, 40 mm, 20 mm]");
  CHECK(
      first_error(none) ==
      "4:3 no zone's box lies just inside the vent (zones: bay, board); write `behind:` with a zone or fins");
}

TEST_CASE("boxes and faces") {
  Device device;
  device.size = Vec3(0.2, 0.1, 0.02);
  device.zones = {box(Vec3(0, 0, 0), Vec3(0.1, 0.1, 0.02)), box(Vec3(0.1, 0, 0), Vec3(0.2, 0.1, 0.02))};
  CHECK(distance_to(device.zones[0], Vec3(0.13, 0.05, 0.06)) == Approx(0.05));  // 3-4-5
  CHECK(distance_to(device.zones[0], Vec3(0.05, 0.05, 0.01)) == 0.0);
  CHECK(outer_surface(device, device.zones[0]) == Approx(2 * 0.1 * 0.1 + 2 * 0.1 * 0.02 + 0.1 * 0.02));
  CHECK(common_volume(device.zones[0], device.zones[1]) == 0.0);
  CHECK(common_volume(device.zones[0], box(Vec3(0.05, 0.05, 0), Vec3(0.15, 0.15, 0.01))) ==
        Approx(0.05 * 0.05 * 0.01));
  CHECK(zones_behind(device, Face::top, Vec3(0.15, 0.05, 0.02)) == std::vector<int>{1});
  CHECK(zones_behind(device, Face::top, Vec3(0.1, 0.05, 0.02)) == std::vector<int>({0, 1}));
  CHECK(nearest_zone(device, Vec3(0.19, 0, 0)) == 1);
  CHECK(nearest_zone(device, Vec3(0.1, 0, 0)) == 0);  // the first of equals
}

TEST_CASE("zones without a way to the outside") {
  std::string text = two_zones("leaks: {}\n");
  text.erase(text.find("passages:"), text.find("leaks:") - text.find("passages:"));
  text.replace(text.find("size: [40 mm, 10 mm], cover: open}\nzones"), 34,
               "size: [40 mm, 10 mm], cover: open, behind: bay}");
  CHECK(first_error(text) ==
        "8:3 zone 'board' is not connected to the outside; give it a vent, a leak or a passage");
  // A fan that blows into it is a way.
  CHECK(first_error(text + "fans: {f: {kind: axial, diameter: 2 cm, draws-from: bay, blows-into: board}}\n")
            .empty());
}

TEST_CASE("a fan sits behind its vent") {
  const ReadResult result =
      read(small_case("fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Device& device = result.file.content.device;
  CHECK(device.vents[0].behind.kind == PlaceKind::fan_inlet);
  CHECK(device.vents[1].behind.kind == PlaceKind::fan_outlet);
  CHECK(device.fans[0].centre == device.vents[0].centre);
}

TEST_CASE("fins leave into the vents that name them") {
  std::string text = small_case(
      "fans: {f: {kind: blower, diameter: 4 cm, draws-from: inside, blows-into: stack}}\n"
      "fins: {stack: {channels: 20, gap: 1 mm, height: 5 mm, length: 20 mm}}\n");
  CHECK(first_error(text).find("the fins have no outlet") != std::string::npos);
  text.replace(text.find("cover: open}\nfans"), 12, "cover: open, behind: stack}");
  const ReadResult result = read(text);
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(result.file.content.device.vents[1].behind.kind == PlaceKind::fins);
  CHECK(result.file.content.device.fin_stacks[0].centre == result.file.content.device.vents[1].centre);
}

TEST_CASE("overlaps are warned of") {
  CHECK(has_warning(read(small_case("  more: {face: left, centre: [60 mm, 10 mm], size: [40 mm, 8 mm]}\n")),
                    "overlaps the vent 'in' by 240 mm2"));
  CHECK_FALSE(has_warning(
      read(small_case("  more: {face: left, centre: [90 mm, 10 mm], size: [20 mm, 8 mm]}\n")), "overlaps"));
  std::string zones = two_zones();
  const std::string to = "to: [80 mm, 100 mm, 20 mm]";
  zones.replace(zones.find(to), to.size(), "to: [90 mm, 100 mm, 20 mm]");
  CHECK(has_warning(read(zones), "overlaps the zone 'bay' by 20 cm3"));
}

TEST_CASE("every combination of poses, supports and loads, if no condition is written") {
  const ReadResult result =
      read(small_case("poses: {a: on-left-edge, b: flat}\nsupports: {bed: soft}\nloads: {x: {}, y: {}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  std::vector<std::string> names;
  for (const Condition& condition : result.file.content.conditions) names.push_back(condition.name);
  CHECK(names == std::vector<std::string>({"a-bed-x", "a-bed-y", "b-bed-x", "b-bed-y"}));
}

TEST_CASE("a claim's own condition is added once") {
  const std::string claim =
      "say: So it is, vents: in, role: intake, when: {pose: on-rear-edge, support: air}}\n";
  const ReadResult result = read(small_case("claims:\n  - {id: a, " + claim + "  - {id: b, " + claim));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  REQUIRE(result.file.content.conditions.size() == 2);
  CHECK(result.file.content.conditions[1].name == "on-rear-edge-air-idle");
  CHECK(result.file.content.claims[0].when == 1);
  CHECK(result.file.content.claims[1].when == 1);
}
