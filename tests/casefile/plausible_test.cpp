// What a file may say but hardly means is told, with what would be usual, and is quiet once confirmed; a chip
// whose heat has no way into the air inside is given one.
#include <catch2/catch.hpp>

#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::casefile::test;
using Catch::Matchers::Contains;

namespace {

std::string boxed(const std::string& size, const std::string& power, const std::string& more = "") {
  return "tuft: 1\n"
         "device: {name: Box, size: " +
         size +
         "}\n"
         "vents:\n"
         "  in: {face: left, from-front: 4 mm, from-base: 2 mm, size: [5 mm, 4 mm], cover: open}\n"
         "  out: {face: right, from-front: 4 mm, from-base: 2 mm, size: [5 mm, 4 mm], cover: open}\n"
         "sources: {chip: {}}\n"
         "loads: {on: {power: {chip: " +
         power + "}}}\n" + more;
}

// A fan and fins behind the right face of a notebook; `fan` and `fins` are added to their keys.
std::string finned(const std::string& fan, const std::string& fins, const std::string& more = "") {
  return "tuft: 1\n"
         "device: {name: Box, size: [300 mm, 200 mm, 20 mm]}\n"
         "vents:\n"
         "  in: {face: base, centre: [100 mm, 100 mm], size: [60 mm, 40 mm], cover: perforated}\n"
         "  out: {face: right, centre: [100 mm, 10 mm], size: [60 mm, 8 mm], cover: slots, behind: stack}\n"
         "fins: {stack: {channels: 40, height: 8 mm, length: 20 mm, " +
         fins +
         "}}\n"
         "fans: {main: {kind: blower, draws-from: inside, blows-into: stack, speed: 4000 rpm, " +
         fan +
         "}}\n"
         "sources: {chip: {joins: {stack: 0.5 K/W}}}\n"
         "loads: {on: {power: {chip: 45 W}, fans: {main: full}}}\n" +
         more;
}

constexpr const char* kFan = "diameter: 50 mm, thickness: 6 mm, at: [200 mm, 100 mm, 10 mm]";
constexpr const char* kFins = "gap: 1 mm, at: [285 mm, 100 mm, 10 mm]";

}  // namespace

TEST_CASE("a usual device gives no warning") {
  CHECK(messages(read(boxed("[190 mm, 190 mm, 50 mm]", "28 W"))) == "");
  CHECK(messages(read(finned(kFan, kFins))) == "");
}

TEST_CASE("sizes and powers a factor of ten off are told, with what would be usual") {
  CHECK_THAT(messages(read(boxed("[1170 mm, 1120 mm, 410 mm]", "28 W"))),
             Contains("device.size") && Contains("1170 mm") && Contains("40 mm to 1000 mm would be usual") &&
                 Contains("expected: [device.size]"));
  CHECK_THAT(messages(read(boxed("[190 mm, 190 mm, 50 mm]", "28 mW"))),
             Contains("28 mW in all") && Contains("more than 0.1 W would be usual"));
  CHECK_THAT(messages(read(boxed("[190 mm, 190 mm, 50 mm]", "600 W"))), Contains("W a litre"));
  CHECK_THAT(messages(read(boxed("[19 mm, 19 mm, 9 mm]", "1 W"))), Contains("longest side is 19 mm"));
}

TEST_CASE("what is confirmed by `expected` is quiet, and nothing else can be confirmed") {
  CHECK(messages(read(boxed("[1170 mm, 1120 mm, 410 mm]", "28 W", "expected: [device.size]\n"))) == "");
  CHECK(messages(read(boxed("[190 mm, 190 mm, 50 mm]", "28 mW", "expected: [loads.on.power]\n"))) == "");
  CHECK_THAT(messages(read(boxed("[190 mm, 190 mm, 50 mm]", "28 W", "expected: [device.size]\n"))),
             Contains("'device.size' is not unusual here"));
  // Only a solve tells how hot a chip gets.
  const ReadResult hot = read(boxed("[190 mm, 190 mm, 50 mm]", "28 W", "expected: [sources.chip]\n"));
  CHECK(messages(hot) == "");
  CHECK(hot.file.expected == std::vector<std::string>{"sources.chip"});
}

TEST_CASE("fans and fins that stick out or lie within one another are told") {
  CHECK_THAT(messages(read(finned("diameter: 50 mm, thickness: 6 mm, at: [10 mm, 100 mm, 10 mm]", kFins))),
             Contains("fans.main") && Contains("sticks out of the chassis") && Contains("by 15 mm"));
  CHECK_THAT(messages(read(finned("diameter: 50 mm, thickness: 30 mm", kFins))),
             Contains("fans.main") && Contains("sticks out") && Contains("by 10 mm"));
  CHECK_THAT(messages(read(finned(kFan, "gap: 1 mm, at: [285 mm, 10 mm, 10 mm]"))),
             Contains("fins.stack") && Contains("sticks out"));
  CHECK_THAT(messages(read(finned(kFan, "gap: 1 mm, at: [200 mm, 100 mm, 10 mm]"))),
             Contains("fins.stack: lies within fans.main"));
  CHECK(messages(read(finned("diameter: 50 mm, thickness: 30 mm", kFins, "expected: [fans.main]\n"))) == "");
}

TEST_CASE("an impeller whose tips are too fast or too slow is told") {
  const std::string text = finned(kFan, kFins);
  const auto at_speed = [&](const std::string& speed) {
    std::string changed = text;
    return messages(read(changed.replace(changed.find("4000 rpm"), 8, speed)));
  };
  CHECK_THAT(at_speed("40000 rpm"), Contains("fans.main.speed") && Contains("2 m/s to 60 m/s"));
  CHECK_THAT(at_speed("400 rpm"), Contains("fans.main.speed"));
}

TEST_CASE("a passage longer than the chassis is told") {
  const auto with = [](const std::string& length) {
    std::string text = two_zones();
    const std::string mark = "size: [60 mm, 10 mm]}";
    return messages(
        read(text.replace(text.find(mark), mark.size(), "size: [60 mm, 10 mm], length: " + length + "}")));
  };
  CHECK_THAT(with("900 mm"), Contains("passages.door.length") && Contains("longer than the chassis"));
  CHECK(with("90 mm") == "");
}

TEST_CASE("a chip whose heat goes into fins alone gets a way into the air inside") {
  const ReadResult result = read(finned(kFan, kFins));
  // 5 K/W and 1 / (8 W/(m2 K) 0.06 m2) in a row.
  CHECK(assumed(result, "sources.chip.joins.inside").value == "7.08 K/W */ 3");
  REQUIRE(result.file.content.device.sources.at(0).joints.size() == 2);
  const tuft::geometry::Joint& way = result.file.content.device.sources[0].joints[1];
  CHECK(way.to.kind == tuft::geometry::PlaceKind::zone);
  CHECK(*way.resistance == Approx(7.08));
  CHECK(way.resistance.high == Approx(3 * 7.08));
  CHECK(way.resistance.origin == tuft::geometry::Origin::assumed);
}

TEST_CASE("a way for heat that the file gives is left alone") {
  for (const char* joins : {"{stack: 0.5 K/W, inside: 20 K/W}", "{stack: 0.5 K/W, lid: 20 K/W}"}) {
    std::string text = finned(kFan, kFins,
                              "skin: {lid: {face: top, centre: [150 mm, 100 mm], size: [200 mm, 100 mm], "
                              "material: metal}}\n");
    const std::string mark = "{stack: 0.5 K/W}";
    const ReadResult result = read(text.replace(text.find(mark), mark.size(), joins));
    INFO(messages(result));
    CHECK(result.errors.empty());
    CHECK(result.file.content.device.sources.at(0).joints.size() == 2);
    CHECK(assumed(result, "sources.chip.joins.inside").value == "");
  }
}

TEST_CASE("heat by fixed shares into fins alone is told: the air inside would stay cold") {
  std::string text = finned(kFan, kFins);
  const std::string mark = "joins: {stack: 0.5 K/W}";
  const auto with = [&](const std::string& heats) {
    std::string changed = text;
    return messages(read(changed.replace(changed.find(mark), mark.size(), "heats: " + heats)));
  };
  CHECK_THAT(with("{stack: 100 %}"),
             Contains("sources.chip.heats") && Contains("stay at the room's temperature"));
  CHECK(with("{stack: 90 %, inside: 10 %}") == "");
}

TEST_CASE("the metal of fins stores heat by its volume") {
  // 40 channels of 1 mm and fins of 0.2 mm, 8 mm high and 20 mm long, on a base of 1.5 mm, copper.
  const double volume = 40 * 0.02 * (0.2e-3 * 0.008 + 1.2e-3 * 1.5e-3);
  const ReadResult result = read(finned(kFan, kFins));
  CHECK(*result.file.content.device.fin_stacks.at(0).capacity == Approx(3.44e6 * volume).epsilon(0.05));
  CHECK(assumed(result, "fins.stack.capacity").value == "9.4 J/K */ 2");
  const ReadResult aluminium = read(finned(kFan, std::string(kFins) + ", conductivity: 200 W/(m K)"));
  CHECK(*aluminium.file.content.device.fin_stacks.at(0).capacity == Approx(2.44e6 * volume).epsilon(0.05));
  const ReadResult stated = read(finned(kFan, std::string(kFins) + ", capacity: 30 J/K"));
  CHECK(*stated.file.content.device.fin_stacks.at(0).capacity == 30.0);
}
