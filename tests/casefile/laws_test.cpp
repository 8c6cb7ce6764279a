// Section laws: which factors a case has, and that the theory's table is the program's.
#include <catch2/catch.hpp>

#include <algorithm>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/rewrite.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft;
using namespace tuft::casefile;
using namespace tuft::casefile::test;

namespace {

bool is_law(const std::string& key) { return key.compare(0, 5, "laws.") == 0; }

std::vector<std::string> laws_of(const ReadResult& result) {
  std::vector<std::string> keys;
  for (const geometry::Input& input : result.file.content.inputs)
    if (is_law(input.key)) keys.push_back(input.key);
  return keys;
}

const std::string kSupport = "conditions: {use: {pose: flat, support: table, load: idle}}\n";

}  // namespace

TEST_CASE("a case has the laws that it has a use for, and says nothing of them among what was assumed") {
  const ReadResult result =
      read(small_case("leaks: {}\nconditions: {use: {pose: flat, support: air, load: idle}}\n"));
  REQUIRE(result.errors.empty());
  const std::vector<std::string> expected = {"laws.exchange", "laws.mixing", "laws.open.inertial",
                                             "laws.open.viscous"};
  CHECK(laws_of(result) == expected);
  for (const Assumption& assumption : result.file.assumptions) CHECK_FALSE(is_law(assumption.key));
  REQUIRE(result.file.laws.size() == expected.size());
  for (const Assumption& law : result.file.laws) {
    CHECK(is_law(law.key));
    CHECK_FALSE(law.sentence.empty());
  }
  for (const geometry::Input& input : result.file.content.inputs)
    if (is_law(input.key)) {
      CHECK(*input.prior == 1.0);
      CHECK(input.prior.origin == geometry::Origin::assumed);
    }
}

TEST_CASE("fans, gaps, fins, skin and passages bring their laws with them") {
  const auto has = [](const ReadResult& result, const char* key) {
    const auto keys = laws_of(result);
    return std::find(keys.begin(), keys.end(), std::string("laws.") + key) != keys.end();
  };
  const ReadResult bare = read(small_case(kSupport)), full = read(full_case()),
                   two = read(two_zones(kSupport));
  REQUIRE(bare.errors.empty());
  REQUIRE(full.errors.empty());
  REQUIRE(two.errors.empty());
  CHECK(has(bare, "gap"));
  for (const char* key : {"still-rotor", "fan-backflow", "fin-flow", "fin-heat", "film", "radiation",
                          "contact", "passages", "fabric", "mesh.inertial"}) {
    INFO(key);
    CHECK_FALSE(has(bare, key));
  }
  CHECK(has(two, "passages"));
  for (const char* key : {"still-rotor", "fan-backflow", "exchange"}) CHECK(has(full, key));
}

TEST_CASE(
    "a fan's jet beside another vent, and a plume, bring their laws; as written a jet draws with nothing") {
  const auto has = [](const ReadResult& result, const std::string& key) {
    INFO(messages(result));
    REQUIRE(result.errors.empty());
    const auto keys = laws_of(result);
    return std::find(keys.begin(), keys.end(), "laws." + key) != keys.end();
  };
  const std::string
      start =
          "tuft: 1\ndevice: {name: Box, size: [200 mm, 100 mm, 20 mm]}\nleaks: {}\nvents:\n"
          "  in: {face: left, centre: [30 mm, 10 mm], size: [40 mm, 10 mm], cover: open}\n",
      beside = "  out: {face: left, centre: [80 mm, 10 mm], size: [40 mm, 10 mm], cover: open}\n",
      apart = "  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: open}\n",
      fan = "fans: {main: {kind: blower, diameter: 50 mm, draws-from: inside, blows-into: out}}\n",
      heat =
          "sources: {chip: {heats: {inside: 100 %}, from: [90 mm, 40 mm, 0 mm], to: [110 mm, 60 "
          "mm, 1 mm]}}\nloads: {idle: {power: {chip: 5 W}}}\n";
  const ReadResult jet = read(start + beside + fan);
  CHECK(has(jet, "jet-suction"));
  CHECK(*jet.file.content.laws.jet_suction == 0.0);
  CHECK(jet.file.content.laws.jet_suction.high == 2.0);
  CHECK_FALSE(has(read(start + beside), "jet-suction"));
  CHECK_FALSE(has(read(start + apart + fan), "jet-suction"));
  CHECK(has(read(start + apart + heat), "entrainment"));
  CHECK_FALSE(has(jet, "entrainment"));
}

TEST_CASE("what the file says of a law counts, and exact takes all as they are") {
  const ReadResult given =
      read(small_case("laws: {open: {inertial: 1.2, viscous: 1 ± 5 %}, film: 0.9 ± 10 %}\n"));
  INFO(messages(given));
  REQUIRE(given.errors.empty());
  const geometry::Laws& laws = given.file.content.laws;
  CHECK(*laws.covers[0].inertial == 1.2);
  CHECK(laws.covers[0].inertial.input < 0);
  CHECK(laws.covers[0].viscous.high == Approx(1.05));
  CHECK(*laws.film == 0.9);  // though nothing has skin
  CHECK(laws.film.input >= 0);
  const ReadResult exact = read(small_case("laws: exact\n"));
  REQUIRE(exact.errors.empty());
  CHECK(laws_of(exact).empty());
  CHECK(exact.file.laws.empty());
  const ReadResult wrong = read(small_case("laws: exakt\n"));
  REQUIRE(wrong.errors.size() == 1);
  CHECK(messages(wrong).find("did you mean 'exact'?") != std::string::npos);
}

TEST_CASE(
    "a vent of measured loss needs no law of its kind, and fabric of assumed permeability none of its own") {
  const auto vents = [](const std::string& cover) {
    return "tuft: 1\ndevice: {name: Box, size: [200 mm, 100 mm, 20 mm]}\nleaks: {}\nvents:\n"
           "  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: " +
           cover + "}\n  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: " + cover +
           "}\n";
  };
  const auto count = [](const ReadResult& result, const std::string& part) {
    REQUIRE(result.errors.empty());
    const auto keys = laws_of(result);
    return std::count_if(keys.begin(), keys.end(),
                         [&](const std::string& key) { return key.find(part) != std::string::npos; });
  };
  CHECK(count(read(vents("mesh")), "mesh") == 2);
  CHECK(count(read(vents("{kind: mesh, loss: 3}")), "mesh") == 0);
  const auto bed = [](const std::string& more) {
    return "supports: {bed: {kind: soft" + more +
           "}}\nconditions: {use: {pose: flat, support: bed, load: idle}}\n";
  };
  CHECK(count(read(small_case(bed(""))), "fabric") == 0);
  CHECK(count(read(small_case(bed(", permeability: 90 mm/s"))), "fabric") == 1);
}

TEST_CASE("a learned factor finds its place in a file that does not speak of laws") {
  const ReadResult before = read(small_case(kSupport));
  REQUIRE(before.errors.empty());
  const auto value = [](double nominal) {
    return geometry::Value(nominal, geometry::SpreadKind::normal, nominal - 0.05, nominal + 0.05);
  };
  const Rewritten written = rewrite(
      before.file,
      {{"laws.exchange", value(1.2)}, {"laws.open.inertial", value(0.8)}, {"laws.open.viscous", value(1.1)}},
      "Learned.", {});
  CHECK(written.left_out.empty());
  const ReadResult after = read(written.text);
  INFO(written.text);
  REQUIRE(after.errors.empty());
  CHECK(*after.file.content.laws.exchange == Approx(1.2));
  CHECK(*after.file.content.laws.covers[0].inertial == Approx(0.8));
  CHECK(*after.file.content.laws.covers[0].viscous == Approx(1.1));
}

TEST_CASE("the table of the theory is that of the program") {
  const std::string theory = file_text(std::string(TUFT_SOURCE_DIR) + "/docs/theory.md");
  int rows = 0;
  for (const Key& key : key_table()) {
    if (!is_law(key.path) || key.defaults.empty()) continue;
    const Default& fallback = key.defaults.front();
    const std::string row = "| `" + key.path + "` | " + fallback.value + " | " + fallback.why + " |";
    INFO(row);
    CHECK(theory.find(row) != std::string::npos);
    ++rows;
  }
  const std::string begin = "| `laws.";
  int written = 0;
  for (std::size_t at = theory.find(begin); at != std::string::npos; at = theory.find(begin, at + 1))
    ++written;
  CHECK(written == rows);
}
