// Single numbers of a good case put to extremes: each is refused where it stands, with the range and a
// reason.
#include <catch2/catch.hpp>

#include <string>

#include "tests/casefile/helpers.hpp"

using tuft::casefile::test::heat_case;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;

namespace {

std::string with_fan(const std::string& speed) {
  return small_case("fans:\n  f: {kind: axial, diameter: 15 mm, speed: " + speed +
                    ", draws-from: in, blows-into: inside}\n");
}

// The heat case with the first resistance of its joints replaced.
std::string with_joint(const std::string& resistance) {
  std::string text = heat_case();
  const std::size_t end = text.find(" K/W");
  REQUIRE(end != std::string::npos);
  const std::size_t start = text.find_last_of(' ', end - 1) + 1;
  return text.replace(start, end + 4 - start, resistance);
}

}  // namespace

TEST_CASE("extremes: a speed too low to move air is refused with the range and the reason") {
  for (const std::string speed : {"0 rpm", "1e-300 rpm", "1e-12 rpm", "0.9 rpm"}) {
    const std::string said = messages(read(with_fan(speed)));
    INFO(said);
    CHECK(said.find("'" + speed + "' is out of range: 1 rpm to 60000 rpm; a fan that slow moves no air") !=
          std::string::npos);
  }
  CHECK(messages(read(with_fan("1 rpm"))).find("out of range") == std::string::npos);
}

TEST_CASE("extremes: a joint that conducts without limit is refused with the range and the reason") {
  for (const std::string resistance : {"0 K/W", "1e-300 K/W", "1e-12 K/W", "1e-5 K/W"}) {
    const std::string said = messages(read(with_joint(resistance)));
    INFO(said);
    CHECK(said.find("'" + resistance) != std::string::npos);
    CHECK(said.find("is out of range: 0.001 K/W to 100000 K/W; no joint conducts") != std::string::npos);
  }
  CHECK(messages(read(with_joint("0.001 K/W"))).find("out of range") == std::string::npos);
}
