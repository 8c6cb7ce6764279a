// tuft thermal: from a picture of temperatures to observations that tuft learn reads.
#include <catch2/catch.hpp>
#include <fstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tools/figure/png.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;

namespace {

constexpr const char* kCase = R"(tuft: 1
device: {name: Box, size: [200 mm, 100 mm, 30 mm]}
room: {temperature: 21 °C, altitude: 0 m, humidity: 50 %}
vents:
  in: {face: left, centre: [50 mm, 15 mm], size: [40 mm, 15 mm], cover: open}
  out: {face: right, centre: [50 mm, 15 mm], size: [40 mm, 15 mm], cover: open}
sources: {chip: {joins: {lid: 2 K/W */ 2, inside: 8 K/W */ 2}}}
skin:
  lid: {face: top, from-left: 20 mm, from-front: 20 mm, size: [60 mm, 60 mm], material: plastic}
  rim: {face: top, from-right: 20 mm, from-front: 20 mm, size: [40 mm, 60 mm], material: plastic}
  plate: {face: top, from-left: 90 mm, from-front: 20 mm, size: [20 mm, 20 mm], material: metal, emissivity: 10 %}
  dot: {face: top, from-left: 120 mm, from-front: 80 mm, size: [8 mm, 8 mm], material: plastic}
  under: {face: base, from-left: 20 mm, from-front: 20 mm, size: [60 mm, 60 mm], material: plastic}
spots:
  1: {on: lid, size: 30 mm}
  2: {on: under}
loads: {run: {power: {chip: 6 W}}}
conditions: {use: {load: run}}
claims:
  - {id: out-blows, say: The right side lets air out, vents: out, role: exhaust, when: use}
)";

// The top, 2 mm a pixel from (10, 5): 52 °C over the lid, 26 °C elsewhere.
double celsius(double column, double row) {
  const double x = 2.0 * (column - 10.0), y = 100.0 - 2.0 * (row - 5.0);
  return x > 15.0 && x < 85.0 && y > 15.0 && y < 85.0 ? 52.0 : 26.0;
}
constexpr const char* kCorners = "10,55 110,55 110,5 10,5";

std::filesystem::path put(const Scratch& scratch, const std::string& name, const std::string& bytes) {
  std::ofstream(scratch.path() / name, std::ios::binary) << bytes;
  return scratch.path() / name;
}

std::string grid(double add = 0.0) {
  std::string text = "Camera,invented\n";
  for (int row = 0; row < 60; ++row)
    for (int column = 0; column < 120; ++column)
      text += std::to_string(celsius(column + 0.5, row + 0.5) + add) + (column == 119 ? "\n" : ",");
  return text;
}

Outcome thermal(const Scratch& scratch, std::vector<std::string> more,
                const std::string& picture = "top.csv") {
  std::vector<std::string> arguments = {"thermal", "box.yaml", picture};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return run_tuft(arguments, scratch.path());
}

}  // namespace

TEST_CASE("a grid is read at patches and spots, beside the prediction, and learn takes what was written") {
  const Scratch scratch;
  put(scratch, "box.yaml", kCase);
  put(scratch, "top.csv", grid());
  const Outcome run = thermal(scratch, {"--face", "top", "--corners", kCorners});
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out,
             Contains("plate: not read: ") && Contains("predicted") && Contains("not on this face: 2"));
  const std::string seen = bytes_of(scratch.path() / "box-thermal.yaml");
  INFO(seen);
  CHECK_THAT(seen, Contains("{in: use, spot: 1, reads: 52.0 °C") &&
                       Contains("{in: use, infrared: rim, reads: 26.0 °C"));
  CHECK_THAT(seen, !Contains("plate") && !Contains("under"));
  const Outcome learned =
      run_tuft({"learn", "box.yaml", "box-thermal.yaml", "--samples", "256"}, scratch.path());
  INFO(learned.out << learned.err);
  CHECK((learned.status == 0 || learned.status == 2));
  CHECK_THAT(bytes_of(scratch.path() / "box-learned/results.json"), Contains("infrared rim in use: 26.0 °C"));
}

TEST_CASE("a picture is read by two marks on its colour bar") {
  const Scratch scratch;
  put(scratch, "box.yaml", kCase);
  // Greys from 20 °C to 60 °C; the bar stands on the right.
  std::vector<tuft::figure::Rgb> greys;
  for (int i = 0; i < 256; ++i) {
    const auto grey = static_cast<std::uint8_t>(i);
    greys.push_back({grey, grey, grey});
  }
  constexpr int kWidth = 140, kHeight = 60;
  std::vector<std::uint8_t> pixels;
  for (int row = 0; row < kHeight; ++row)
    for (int column = 0; column < kWidth; ++column) {
      const double there = column >= 130 ? 60.0 - 40.0 * row / 59.0 : celsius(column + 0.5, row + 0.5);
      pixels.push_back(static_cast<std::uint8_t>(255.0 * (there - 20.0) / 40.0));
    }
  put(scratch, "top.png", tuft::figure::png_of_indices(pixels, kWidth, kHeight, greys));
  const std::vector<std::string> places = {"--face", "top",   "--corners",
                                           kCorners, "--bar", "135.5,0.5=60 °C"};
  std::vector<std::string> two = places;
  two.insert(two.end(), {"--bar", "135.5,59.5=20 °C", "--out", "seen.yaml"});
  const Outcome run = thermal(scratch, two, "top.png");
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  const std::string seen = bytes_of(scratch.path() / "seen.yaml");
  INFO(seen);
  const bool near = seen.find("spot: 1, reads: 51.") != std::string::npos ||
                    seen.find("spot: 1, reads: 52.") != std::string::npos;
  CHECK(near);
  const Outcome one = thermal(scratch, places, "top.png");
  CHECK(one.status == 3);
  CHECK_THAT(one.err, Contains("two marks"));
}

TEST_CASE("what cannot be placed or read is told, and nothing is written") {
  const Scratch scratch;
  put(scratch, "box.yaml", kCase);
  put(scratch, "top.csv", grid());
  put(scratch, "kelvin.csv", grid(273.15));
  put(scratch, "broken.png", "\x89PNG\r\n\x1a\nno more");
  put(scratch, "text.csv", "no picture\n");
  const std::vector<std::pair<std::vector<std::string>, const char*>> wrong = {
      {{"--corners", kCorners}, "needs --face"},
      {{"--face", "top"}, "needs --corners"},
      {{"--face", "topp", "--corners", kCorners}, "did you mean 'top'?"},
      {{"--face", "top", "--corners", "1,2 3,4"}, "four places"},
      {{"--face", "top", "--corners", "1,2 3,4 5,6 7"}, "'7' is no place"},
      {{"--face", "top", "--corners", "10,5 110,5 110,55 10,55"}, "the other way round"},
      {{"--face", "top", "--corners", "10,55 110,5 110,55 10,5"}, "without a crossing"},
      {{"--face", "rear", "--corners", "110,55 10,55 10,5 110,5"}, "no patch of skin on the rear face"},
      {{"--face", "top", "--corners", kCorners, "--bar", "1,2=3 °C"}, "holds numbers"},
      {{"--face", "top", "--corners", kCorners, "--unit", "mm"}, "--unit"},
      {{"--face", "top", "--corners", kCorners, "--emissivity", "3 %"}, "10 % to 100 %"},
      {{"--photo", "x"}, "no `photos`"}};
  for (const auto& [arguments, words] : wrong) {
    const Outcome run = thermal(scratch, arguments);
    INFO(words << ": " << run.out << run.err);
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains(words));
  }
  const std::vector<std::string> places = {"--face", "top", "--corners", kCorners};
  CHECK_THAT(thermal(scratch, places, "kelvin.csv").err, Contains("--unit"));
  CHECK_THAT(thermal(scratch, places, "text.csv").err, Contains("neither a picture nor a grid"));
  CHECK_THAT(thermal(scratch, places, "broken.png").err, Contains("cannot be read"));
  CHECK_THAT(thermal(scratch, places, "gone.csv").err, Contains("no such file"));
  CHECK_FALSE(std::filesystem::exists(scratch.path() / "box-thermal.yaml"));
  std::vector<std::string> kelvin = places;
  kelvin.insert(kelvin.end(), {"--unit", "K"});
  CHECK(thermal(scratch, kelvin, "kelvin.csv").status == 0);
}
