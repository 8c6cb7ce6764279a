// The room's draught and a support's tilt, as written and as assumed.
#include <catch2/catch.hpp>
#include <string>

#include "solver/numerics/constants.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft;
using namespace tuft::casefile;
using namespace tuft::casefile::test;
using geometry::SpreadKind;

namespace {

constexpr double kAirDegree = numerics::kPi / 180.0;

geometry::Case sound(const std::string& more) {
  const ReadResult result = read(small_case(more));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  return result.file.content;
}

bool has_input(const geometry::Case& content, const std::string& key) {
  for (const geometry::Input& input : content.inputs)
    if (input.key == key) return true;
  return false;
}

}  // namespace

TEST_CASE("a file that says nothing of the room's air or the table has still air, a level table, and doubt") {
  const geometry::Case c = sound("");
  CHECK(*c.room.draught.speed == 0.0);
  CHECK(c.room.draught.speed.spread == SpreadKind::triangular);
  CHECK(c.room.draught.speed.high == Approx(0.2));
  CHECK(c.room.draught.from.spread == SpreadKind::uniform);
  CHECK(c.room.draught.from.high - c.room.draught.from.low == Approx(2.0 * numerics::kPi));
  REQUIRE(c.supports.size() == 1);
  CHECK(*c.supports[0].tilt.x == 0.0);
  CHECK(c.supports[0].tilt.y.high == Approx(1.5 * kAirDegree));
  for (const char* key :
       {"room.draught.speed", "room.draught.from", "supports.table.tilt.x", "supports.table.tilt.y"})
    CHECK(has_input(c, key));
  CHECK(*c.supports[0].shelter == 0.0);
  CHECK(assumed(read(small_case()), "room.draught.speed").value == "0..0..0.2 m/s");
}

TEST_CASE("still and level take the doubt away, in a word or by 0") {
  for (const char* word : {"still", "0"}) {
    const geometry::Case c = sound(std::string("room: {draught: ") + word + "}\n");
    CHECK(c.room.draught.speed.spread == SpreadKind::none);
    CHECK_FALSE(has_input(c, "room.draught.speed"));
    CHECK_FALSE(has_input(c, "room.draught.from"));
  }
  for (const char* word : {"level", "0"}) {
    const geometry::Case c = sound(std::string("supports: {desk: {kind: hard, tilt: ") + word + "}}\n");
    CHECK(*c.supports[0].tilt.x == 0.0);
    CHECK_FALSE(has_input(c, "supports.desk.tilt.x"));
    CHECK_FALSE(has_input(c, "supports.desk.tilt.y"));
  }
}

TEST_CASE("a draught and a tilt as measured; what is left out keeps its default") {
  const geometry::Case c = sound(
      "room: {draught: {speed: 0.15 m/s ± 0.02 m/s}}\n"
      "supports:\n"
      "  desk: {kind: hard, tilt: {x: 0.8 deg ± 0.2 deg}}\n"
      "  bed: {kind: soft, shelter: 20 %}\n"
      "  legs: lap\n"
      "  thread: air\n");
  CHECK(*c.room.draught.speed == Approx(0.15));
  CHECK(has_input(c, "room.draught.from"));
  CHECK(*c.supports[0].tilt.x == Approx(0.8 * kAirDegree));
  CHECK(*c.supports[0].tilt.y == 0.0);
  CHECK(has_input(c, "supports.desk.tilt.y"));
  CHECK(*c.supports[0].shelter == 0.0);
  CHECK(*c.supports[1].shelter == Approx(0.2));
  CHECK(has_input(c, "supports.legs.shelter"));
  CHECK(c.supports[1].tilt.x.high == Approx(4.0 * kAirDegree));
  CHECK(c.supports[3].tilt.x.high == Approx(2.0 * kAirDegree));
  CHECK_FALSE(has_input(c, "supports.thread.shelter"));
}
