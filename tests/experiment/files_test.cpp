// Files of observations and learned cases, as text.
#include <catch2/catch.hpp>

#include "geometry/casefile/observations.hpp"
#include "geometry/casefile/rewrite.hpp"
#include "tests/experiment/device.hpp"

using namespace tuft;
using namespace tuft::casefile;
using experiment::test::device_text;
using experiment::test::read;

namespace {

const KnownTools kTools = {{"tissue-60", "thread-80"}, {"hot-wire", "vane-100"}};

std::string said_about(const std::string& lines) {
  const CaseFile file = read(device_text());
  const auto result =
      read_observations_text("tuft-observations: 1\nobservations:\n" + lines, "seen.yaml", file, kTools);
  std::string text;
  for (const auto& error : result.errors) text += format(error, result.text);
  return text;
}

}  // namespace

TEST_CASE("observations are read in SI units") {
  const CaseFile file = read(device_text());
  const auto result = read_observations_text(
      "tuft-observations: 1\n"
      "observations:\n"
      "  - {in: use, strip: comb, leans: in, with: tissue-60, at: 15 mm}\n"
      "  - {in: use, anemometer: outlet, reads: 180 cm/s, error: 0.2 m/s}\n"
      "  - {in: use, fan: main, reads: 3000 rpm}\n"
      "  - {ruler: vents.comb.cover.open, reads: 45 %}\n"
      "  - {in: use, air: outlet, reads: 30 °C, at: 10 mm, error: 0.5 K}\n",
      "seen.yaml", file, kTools);
  REQUIRE(result.errors.empty());
  REQUIRE(result.lines.size() == 5);
  CHECK(result.lines[4].index == 2);
  CHECK(result.lines[4].reading == Approx(303.15));
  CHECK(result.lines[4].error == Approx(0.5));
  CHECK(result.lines[4].distance == Approx(0.01));
  CHECK(result.lines[4].words == "air at outlet in use: 30 °C");
  CHECK(result.lines[0].reading == -1.0);
  CHECK(result.lines[0].distance == Approx(0.015));
  CHECK(result.lines[1].reading == Approx(1.8));
  CHECK(result.lines[1].error == Approx(0.2));
  CHECK(result.lines[2].reading == Approx(50.0));
  CHECK(result.lines[3].reading == Approx(0.45));
  CHECK(file.content.inputs[static_cast<std::size_t>(result.lines[3].index)].key == "vents.comb.cover.open");
}

TEST_CASE("a vent, a condition and an instrument that aren't there are named with their place") {
  CHECK(said_about("  - {in: use, strip: cmb, leans: in}\n") ==
        "seen.yaml:3:22: error: observations[0].strip: 'cmb' is not a vent (the case has grille, comb, "
        "outlet); did "
        "you mean 'comb'?\n"
        "  2 | observations:\n"
        "  3 |   - {in: use, strip: cmb, leans: in}\n"
        "    |                      ^\n");
  CHECK(said_about("  - {in: bench, strip: comb, leans: in}\n").find("'bench' is not a condition") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, anemometr: comb, reads: 1 m/s}\n").find("did you mean 'anemometer'?") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, anemometer: comb, reads: 1 Pa}\n").find("is a pressure") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, strip: comb, reads: 1 m/s}\n").find("'reads' goes with all but strips") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, strip: comb, leans: in, with: silk}\n").find("'silk' is not a strip") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, fan: main, strip: comb, leans: in}\n").find("one instrument") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, air: cmb, reads: 30 °C}\n").find("did you mean 'comb'?") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, air: comb, reads: 30 °C, with: thread-80}\n")
            .find("'with' goes with strip or anemometer alone") != std::string::npos);
  CHECK(said_about("  - {in: use, spot: 1, reads: 30 °C}\n").find("'1' is not a spot (the case has none)") !=
        std::string::npos);
  CHECK(said_about("  - {in: use, fan: main, reads: 3000 rpm, at: 10 mm}\n")
            .find("'at' goes with strip, anemometer or air alone") != std::string::npos);
  CHECK(said_about("  - {in: use, leans: in}\n").find("no instrument is named") != std::string::npos);
}

TEST_CASE("a learned case keeps comments and units, and reads again") {
  const CaseFile file = read(device_text());
  using geometry::SpreadKind;
  const Rewritten out = rewrite(file,
                                {{"vents.grille.cover.open", {0.45, SpreadKind::normal, 0.42, 0.48}},
                                 {"fans.main.speed", {60.0, SpreadKind::normal, 58.0, 62.0}},
                                 {"vents.nothing.cover.open", {0.5}}},
                                "learned\nfrom a test");
  CHECK(out.written == std::vector<std::string>{"vents.grille.cover.open", "fans.main.speed"});
  CHECK(out.left_out == std::vector<std::string>{"vents.nothing.cover.open"});
  CHECK(out.text.find("# learned\n# from a test\ntuft: 1\n") == 0);
  CHECK(out.text.find("  # the big one\n") != std::string::npos);
  CHECK(out.text.find("open: 45 % ± 3 %, hole: 2 mm") != std::string::npos);
  CHECK(out.text.find("speed: 3600 rpm ± 120 rpm, draws-from") != std::string::npos);
  const CaseFile again = read(out.text);
  CHECK(again.content.device.vents[0].cover.open_ratio.low == Approx(0.42));
}

TEST_CASE("a value that was assumed is added to the map it belongs to") {
  std::string text = device_text();
  const std::string key = "flow-factor: 1, ";
  const auto at = text.find(", flow-factor: 1, pressure-factor: 1");
  text.erase(at, std::string(", flow-factor: 1, pressure-factor: 1").size());
  const CaseFile file = read(text);
  using geometry::SpreadKind;
  const Rewritten out =
      rewrite(file, {{"fans.main.flow-factor", {0.9, SpreadKind::normal, 0.8, 1.0}}}, "learned");
  INFO(out.text);
  CHECK(out.left_out.empty());
  CHECK(*read(out.text).content.device.fans[0].flow_factor == Approx(0.9));
}
