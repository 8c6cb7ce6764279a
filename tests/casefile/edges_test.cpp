// Distances to edges in place of centres, and things without a place.
#include <catch2/catch.hpp>

#include "geometry/device/unplaced.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using Catch::Matchers::Contains;
using tuft::casefile::test::assumed;
using tuft::casefile::test::first_error;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;

namespace {

// A vent of 40 x 10 mm on the small box of 200 x 100 x 20 mm.
ReadResult with_vent(const std::string& keys) {
  return read(small_case("  v: {" + keys + ", size: [40 mm, 10 mm]}\n"));
}
Vec3 centre_of_vent(const std::string& keys) {
  const ReadResult result = with_vent(keys);
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  return result.file.content.device.vents[2].centre;
}
std::string vent_error(const std::string& keys) {
  return first_error(small_case("  v: {" + keys + ", size: [40 mm, 10 mm]}\n"));
}

}  // namespace

TEST_CASE("a vent's distances to edges are those of its nearest side") {
  CHECK(centre_of_vent("face: base, from-left: 12 mm, from-front: 8 mm").isApprox(Vec3(0.032, 0.013, 0.0)));
  CHECK(centre_of_vent("face: top, from-right: 12 mm, from-rear: 8 mm").isApprox(Vec3(0.168, 0.087, 0.02)));
  CHECK(centre_of_vent("face: rear, from-right: 0 mm, from-base: 4 mm").isApprox(Vec3(0.18, 0.1, 0.009)));
  CHECK((centre_of_vent("face: left, from-rear: 1 cm, from-top: 6 mm") - Vec3(0.0, 0.07, 0.009)).norm() <
        1e-12);
}

TEST_CASE("on the hinge one distance is enough") {
  const ReadResult result =
      read(small_case("  h: {face: hinge, from-left: 30 mm, size: [40 mm, 5 mm]}\nlid: {}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(result.file.content.device.vents[2].centre.x() == Approx(0.05));
}

TEST_CASE("a vent with a centre and with distances is the same") {
  const Vec3 a = centre_of_vent("face: front, centre: [60 mm, 8 mm]");
  CHECK((a - centre_of_vent("face: front, from-left: 40 mm, from-base: 3 mm")).norm() < 1e-12);
}

TEST_CASE("what contradicts itself or says too little is told in words") {
  CHECK_THAT(vent_error("face: base, from-left: 1 mm, from-front: 1 mm, centre: [30 mm, 20 mm]"),
             Contains("`centre` says already where it is; take one of them out"));
  CHECK_THAT(vent_error("face: base, from-left: 1 mm, from-right: 1 mm, from-front: 1 mm"),
             Contains("from-left says already where it lies along x"));
  CHECK_THAT(vent_error("face: base, from-left: 1 mm"),
             Contains("nothing says where it lies along y; write from-front or from-rear"));
  CHECK_THAT(vent_error("face: left, from-left: 1 mm, from-front: 1 mm, from-base: 1 mm"),
             Contains("what lies on the left face has no from-left"));
  CHECK_THAT(vent_error("face: base, from-left: 170 mm, from-front: 1 mm"), Contains("beyond the base face"));
  CHECK_THAT(vent_error("face: base"), Contains("the key 'centre' is missing"));
  CHECK_THAT(messages(with_vent("face: base, from-lft: 1 mm, from-front: 1 mm")),
             Contains("did you mean 'from-left'?"));
  CHECK_THAT(vent_error("face: base, from-left: 1 mm ± 1 mm, from-front: 1 mm"), Contains("has a spread"));
}

TEST_CASE("fans and fins lie by the sides of impeller and stack") {
  const ReadResult result =
      read(small_case("fins: {s: {channels: 20, gap: 1 mm, height: 8 mm, length: 15 mm, fin-thickness: 0.2 "
                      "mm, exits-into: inside,\n"
                      "           from-right: 5 mm, from-rear: 10 mm, from-base: 3 mm}}\n"
                      "fans: {f: {kind: blower, diameter: 40 mm, thickness: 6 mm, draws-from: in, "
                      "blows-into: s, from-left: 12 mm,\n"
                      "           from-front: 8 mm, from-base: 2 mm}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Device& device = result.file.content.device;
  CHECK(device.fans[0].centre.isApprox(Vec3(0.032, 0.028, 0.005)));
  CHECK(device.fans[0].is_placed);
  const Vec3 extents = fin_extents(device, 0);
  CHECK((device.fin_stacks[0].centre -
         Vec3(0.195 - 0.5 * extents.x(), 0.09 - 0.5 * extents.y(), 0.003 + 0.5 * extents.z()))
            .norm() < 1e-12);
  CHECK(device.fin_stacks[0].is_placed);
}

TEST_CASE("without a height a fan has that of what it draws from, and says so") {
  const ReadResult result = read(small_case(
      "fans: {f: {kind: blower, diameter: 40 mm, draws-from: in, blows-into: inside, from-right: 12 mm, "
      "from-rear: 8 mm}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(result.file.content.device.fans[0].centre.isApprox(Vec3(0.168, 0.072, 0.01)));
  CHECK_THAT(assumed(result, "fans.f.at").sentence, Contains("its height alone"));
  CHECK_THAT(first_error(small_case("fans: {f: {kind: blower, diameter: 40 mm, draws-from: in, blows-into: "
                                    "inside, from-right: 170 mm, from-rear: 8 mm}}\n")),
             Contains("beyond the chassis"));
}

TEST_CASE("a source's box by its size and distances") {
  const ReadResult result = read(small_case(
      "sources: {a: {heats: {inside: 100 %}, size: [20 mm, 10 mm, 1 mm], from-left: 50 mm, from-rear: 30 mm, "
      "from-base: 2 mm}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Source& source = result.file.content.device.sources[0];
  CHECK(source.is_placed);
  CHECK(source.centre.isApprox(Vec3(0.06, 0.065, 0.0025)));
  CHECK(source.size.isApprox(Vec3(0.02, 0.01, 0.001)));
  const auto wrong = [](const std::string& keys) {
    return first_error(small_case("sources: {a: {" + keys + "}}\n"));
  };
  CHECK_THAT(wrong("from-left: 5 mm, from-rear: 3 mm, from-base: 2 mm"),
             Contains("need the size of the box"));
  CHECK_THAT(wrong("size: [2 mm, 2 mm, 2 mm]"), Contains("the size alone does not say"));
  CHECK_THAT(wrong("size: [2 mm, 2 mm, 2 mm], from-left: 5 mm, from-rear: 3 mm"), Contains("along z"));
  CHECK_THAT(wrong("joins: {inside: 1 K/W}, from-left: 5 mm"),
             Contains("with `joins` the heat has no place"));
}

TEST_CASE("a patch of skin by its distances") {
  const ReadResult result =
      read(small_case("skin: {s: {face: top, from-left: 10 mm, from-front: 20 mm, size: [30 mm, 40 mm], "
                      "material: metal}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(result.file.content.device.skins[0].centre.isApprox(Vec3(0.025, 0.04, 0.02)));
}

TEST_CASE("things without a place are known as such") {
  const ReadResult result = read(small_case(
      "fans:\n  f: {kind: blower, diameter: 40 mm, draws-from: in, blows-into: inside}\n"
      "  g: {kind: blower, diameter: 40 mm, draws-from: inside, blows-into: out, at: [50 mm, 50 mm, 10 mm]}\n"
      "sources: {a: {heats: {inside: 100 %}}, b: {joins: {inside: 1 K/W}}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(unplaced_things(result.file.content.device) == std::vector<std::string>{"fans.f", "sources.a"});
}
