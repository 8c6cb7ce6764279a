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

TEST_CASE("extremes: sizes smaller than any of a device are refused with the range and the reason") {
  for (const std::string hole : {"1e-300 mm", "1e-12 mm", "0.009 mm"}) {
    std::string text = small_case();
    text.replace(text.find("cover: open"), 11, "cover: {kind: slots, hole: " + hole + "}");
    const std::string said = messages(read(text));
    INFO(said);
    CHECK(
        said.find("'" + hole + "' is out of range: 0.01 mm to 200 mm; nothing so small occurs in a device") !=
        std::string::npos);
  }
  std::string text = small_case();
  text.replace(text.find("cover: open"), 11, "cover: {kind: slots, hole: 300 mm}");
  const std::string said = messages(read(text));
  INFO(said);
  CHECK(said.find("out of range: 0.01 mm to 200 mm") != std::string::npos);
  CHECK(said.find("nothing so small") == std::string::npos);
}

TEST_CASE("extremes: curves and tables of fans whose points hardly differ are refused") {
  const auto said_of = [](const std::string& more) {
    return messages(
        read(small_case("fans:\n  f: {kind: axial, diameter: 15 mm, speed: 4000 rpm, draws-from: in, "
                        "blows-into: inside, " +
                        more +
                        "}\n"
                        "sources: {chip: {joins: {inside: 1 K/W}}}\n")));
  };
  CHECK(said_of("curve: {points: [[0 L/s, 1e-9 Pa], [1 L/s, 0 Pa]]}").find("builds no pressure") !=
        std::string::npos);
  CHECK(said_of("curve: {points: [[0 L/s, 10 Pa], [1e-9 L/s, 0 Pa]]}").find("moves no air") !=
        std::string::npos);
  CHECK(said_of("curve: {points: [[0 L/s, 10 Pa], [1e-9 L/s, 5 Pa], [1 L/s, 0 Pa]]}").find("does not rise") !=
        std::string::npos);
  CHECK(said_of("curve: {points: [[0 L/s, 10 Pa], [0.5 L/s, 1e-300 Pa], [1 L/s, 0 Pa]]}")
            .find("does not lie below") != std::string::npos);
  CHECK(said_of("speed-control: {sensor: chip, speeds: [[50 degC, 0 rpm], [50.01 degC, 4000 rpm]]}")
            .find("less than 0.05 K") != std::string::npos);
  CHECK(said_of("speed-control: {sensor: chip, speeds: [[50 degC, 0 rpm], [51 degC, 4000 rpm]]}")
            .find("error") == std::string::npos);
}

TEST_CASE("extremes: a load that lets a fan turn by less than 1 rpm is refused") {
  const auto said_of = [](const std::string& setting) {
    return messages(read(with_fan("4000 rpm") + "loads: {slow: {fans: {f: " + setting + "}}}\n"));
  };
  for (const std::string setting : {"1e-300 %", "1e-9 rpm", "0.01 %"})
    CHECK(said_of(setting).find("is less than 1 rpm; a fan that slow moves no air; write stopped") !=
          std::string::npos);
  for (const std::string setting : {"0 %", "0 rpm", "1 rpm", "stopped"})
    CHECK(said_of(setting).find("error") == std::string::npos);
}
