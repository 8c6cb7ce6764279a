// The answers of a run on one screen: signs, numbers, what must not be overlooked, widths.
#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "solver/study/predict.hpp"
#include "tests/io/sample.hpp"
#include "tests/support/cases.hpp"
#include "tools/io/table.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

using namespace tuft;
using namespace tuft::io;
using Catch::Matchers::Contains;

namespace {

Run solved_case(const std::string& name) {
  Run run;
  run.content = test::case_named(name);
  run.conditions = study::predict_these(run.content, test::every_condition(run.content));
  for (std::size_t i = 0; i < run.content.sweeps.size(); ++i)
    run.sweeps.push_back(study::predict_sweep(run.content, static_cast<int>(i)));
  return run;
}

Look look_of_width(int width) {
  Look look;
  look.width = width;
  return look;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

int widest(const std::string& text) {
  int width = 0;
  for (const std::string& line : lines_of(text)) width = std::max(width, display_width(line));
  return width;
}

/// All rows of a condition, of all blocks, one after the other.
std::string row_of(const std::string& text, const std::string& condition) {
  std::string row;
  for (const std::string& line : lines_of(text))
    if (line.rfind(condition + "  ", 0) == 0) row += line.substr(condition.size());
  return row;
}

/// What a row must say of its vents, in their order; written apart from the program's own table of signs.
std::vector<std::string> expected_cells(const Run& run, const study::ConditionResult& result) {
  std::vector<std::string> cells;
  for (const study::VentResult& vent : result.vents) {
    if (run.content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak) continue;
    std::string cell = vent.shut                                ? "x shut"
                       : vent.role == geometry::Role::intake    ? "> in"
                       : vent.role == geometry::Role::exhaust   ? "< out"
                       : vent.role == geometry::Role::both_ways ? "<> both"
                                                                : ". idle";
    cells.push_back(cell + (vent.firm ? "" : "?"));
  }
  return cells;
}

void check_rows(const Run& run, const std::string& text) {
  for (const study::ConditionResult& result : run.conditions) {
    const std::string row = row_of(text, result.name);
    INFO(result.name << ":" << row);
    std::size_t at = 0;
    for (const std::string& cell : expected_cells(run, result)) {
      at = row.find("  " + cell, at);
      REQUIRE(at != std::string::npos);
      const char next = at + 2 + cell.size() < row.size() ? row[at + 2 + cell.size()] : ' ';
      CHECK(next == ' ');  // no question mark that is not meant
      at += 2 + cell.size();
    }
  }
}

}  // namespace

TEST_CASE("every vent of every condition has the sign of its role, at any width") {
  for (const char* name : {"slim-notebook", "handheld-console", "fanless-router", "mini-desktop"}) {
    const Run run = solved_case(name);
    for (const int width : {60, 80, 120}) {
      const std::string text = overview_text(run, look_of_width(width));
      INFO(text);
      CHECK(widest(text) <= width);
      check_rows(run, text);
    }
  }
}

TEST_CASE("the cases have all signs, among them a shut vent and roles that are not firm") {
  const std::string console = overview_text(solved_case("handheld-console"), look_of_width(80));
  CHECK_THAT(console, Contains("  x shut  ") && Contains("x shut: no way through"));
  const std::string notebook = overview_text(solved_case("slim-notebook"), look_of_width(80));
  for (const char* sign : {"> in", "< out", "<> both", ". idle", "> in?"})
    CHECK_THAT(notebook, Contains(sign));
  CHECK_THAT(notebook,
             Contains("> in: intake; < out: exhaust; <> both: in and out; . idle: next to nothing"));
  CHECK_THAT(notebook, Contains("5 roles are marked ?: near a threshold"));
}

TEST_CASE("signs and key are of plain characters, and colour adds nothing but colour") {
  const Run run = solved_case("slim-notebook");
  const std::string plain = overview_text(run, look_of_width(80));
  CHECK(plain.find('\x1b') == std::string::npos);
  for (const std::string& line : lines_of(plain)) {
    const bool degrees = line.find("°") != std::string::npos;
    INFO(line);
    CHECK((degrees || display_width(line) == static_cast<int>(line.size())));
  }
  Look colour = look_of_width(80);
  colour.colour = true;
  std::string inked = overview_text(run, colour);
  CHECK(inked.find("\x1b[34m> in") != std::string::npos);
  for (std::size_t at = inked.find('\x1b'); at != std::string::npos; at = inked.find('\x1b'))
    inked.erase(at, inked.find('m', at) + 1 - at);
  CHECK(inked == plain);
}

TEST_CASE("seams are no rows, and what they carry is told where it counts") {
  Run run = test::sample_run();
  CHECK(overview_text(run, Look{}).find("seam") == std::string::npos);
  run.conditions[0].vents[3].inflow = 0.2e-3;
  CHECK_THAT(overview_text(run, Look{}),
             Contains("! Seams, which are not shown, carry up to 20.0 % of the air."));
}

TEST_CASE("a condition without a solution says so in its row, and before all") {
  Run run = test::sample_run();
  run.conditions[1].report = {false, "the fans blow against closed vents", 40, 1.0};
  run.conditions[1].vents.clear();
  const std::string text = overview_text(run, look_of_width(80));
  INFO(text);
  CHECK_THAT(text, Contains("\nbench: no solution\n"));
  const std::size_t warning = text.find("! \"bench\": no solution: the fans blow against closed vents.");
  CHECK(warning < text.find("\nuse "));
  CHECK_THAT(row_of(text, "use"), Contains("> in") && Contains("< out") && Contains("<> both?"));
  run.conditions[0].report.converged = false;
  run.conditions[0].vents.clear();
  CHECK_THAT(overview_text(run, look_of_width(80)), Contains("use: no solution"));
}

TEST_CASE("limits of chips and skin: a sign at the number, a sentence before the table") {
  Run run = test::sample_run();
  const std::string text = overview_text(run, look_of_width(80));
  INFO(text);
  // 363.15 K and 322.15 K (sample.cpp); the covered patch, 318.15 K, is not within reach.
  CHECK_THAT(row_of(text, "use"), Contains("  90!") && Contains("  49!"));
  CHECK_THAT(text, Contains("! in every condition: chip throttles at 90 °C and takes 33 of 40 W."));
  CHECK_THAT(text, Contains("palm rest is above the published limit for plastic touched\n  8 h: 48.0 °C."));
  CHECK_THAT(text, Contains("!: beyond a limit, see above"));
  CHECK_THAT(text, Contains("chip: the hottest (chip);\nskin: the hottest within reach (palm rest)"));
  run.conditions[0].sources[0].state = network::SourceState::full;
  run.conditions[0].skins[0].temperature = 320.0;
  const std::string cooler = overview_text(run, look_of_width(80));
  INFO(cooler);
  CHECK_THAT(cooler, Contains("! \"bench\": chip throttles"));
  CHECK_THAT(row_of(cooler, "use"), !Contains("!"));
  CHECK_THAT(row_of(cooler, "bench"), Contains("90!"));
}

TEST_CASE("a device that shuts down, several steady states, laws left: each in its sentence") {
  Run run = test::sample_run();
  run.conditions[0].sources[0].state = network::SourceState::shut_down;
  run.conditions[0].states.looked_for = true;
  run.conditions[0].states.stable = 2;
  run.conditions[0].states.others.resize(1);
  run.conditions[1].beyond_laminar = {{network::LaminarKind::fins, "stack", 3000.0, 2300.0}};
  const std::vector<std::string> warnings = overview_warnings(run);
  const auto has = [&](const std::string& words) {
    return std::any_of(warnings.begin(), warnings.end(),
                       [&](const std::string& one) { return one.find(words) == 0; });
  };
  CHECK(
      has("\"use\": 2 steady states exist; the one that a cold start reaches is shown. --details names the "
          "others and what would make the device change to them."));
  CHECK(has("\"use\": chip shuts down at 100 °C"));
  CHECK(has("\"bench\": fins stack leaves the laminar range"));
  CHECK(has("2 roles are marked ?"));  // the side slot, in both
  CHECK(has("1 value not in the file had to be assumed"));
}

TEST_CASE(
    "vents that are idle each and carry much together are told of, in the overview and in the summary") {
  Run run = test::sample_run();
  study::ConditionResult& result = run.conditions[0];
  std::vector<study::VentResult*> vents;
  for (study::VentResult& vent : result.vents)
    if (!run.content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak) vents.push_back(&vent);
  REQUIRE(vents.size() >= 2);
  for (study::VentResult* vent : vents) {
    vent->role = geometry::Role::intake;
    vent->shut = false;
  }
  // Derived: two vents of 6 % each carry 12 %, above the tenth from which on it is told; of 4 % each it is
  // not.
  const auto with_share = [&](double share) {
    for (int i : {0, 1}) {
      vents[static_cast<std::size_t>(i)]->role = geometry::Role::idle;
      vents[static_cast<std::size_t>(i)]->inflow = share * result.through_flow;
      vents[static_cast<std::size_t>(i)]->outflow = 0.0;
    }
    std::string all;
    for (const std::string& warning : overview_warnings(run)) all += warning + "\n";
    return all + summary_sentence(run.content, result);
  };
  const std::string told = with_share(0.06), quiet = with_share(0.04);
  INFO(told);
  CHECK_THAT(told, Contains("do next to nothing each, but carry 12.0 % of the air together.") &&
                       Contains("do next to nothing each but carry 12.0 % together"));
  CHECK_THAT(quiet, !Contains("together"));
}

TEST_CASE("what the search for other steady states did not try is told wherever states are spoken of") {
  Run run = test::sample_run();
  study::States& states = run.conditions[0].states;
  states.looked_for = true;
  states.left_out = "starts from other flows than the cold one";
  const std::string words =
      "ther steady states were searched for in part only: starts from other flows than the cold one.";
  const auto one_line = [](std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    for (std::size_t at; (at = text.find("  ")) != std::string::npos;) text.erase(at, 1);
    return text;
  };
  CHECK_THAT(one_line(overview_text(run, look_of_width(80))), Contains(words));
  CHECK_THAT(one_line(condition_text(run.content, run.conditions[0], look_of_width(80))), Contains(words));
  states.left_out.clear();
  CHECK_THAT(one_line(overview_text(run, look_of_width(80))), !Contains("in part only"));
}

TEST_CASE("what is hottest in some condition is named, and nothing where all are as warm") {
  Run run = test::sample_run();
  for (study::ConditionResult& result : run.conditions) {
    REQUIRE(result.skins.size() == 2);
    result.skins[1].lies_on = false;
    for (study::SkinResult& skin : result.skins) skin.temperature = 294.15;
  }
  const std::string key = "skin: the hottest within reach";
  CHECK_THAT(overview_text(run, look_of_width(80)), Contains(key + "\n"));
  run.conditions[0].skins[0].temperature = 310.0;
  CHECK_THAT(overview_text(run, look_of_width(80)), Contains(key + " (palm rest)\n"));
  run.conditions[1].skins[1].temperature = 310.0;
  const auto& other =
      run.content.device.skins[static_cast<std::size_t>(run.conditions[1].skins[1].skin)].name;
  const std::string both = overview_text(run, look_of_width(80));
  INFO(both);
  CHECK_THAT(both, Contains(key) && Contains(" or ") && Contains(other));
}

TEST_CASE("many conditions of one finding are counted, not listed") {
  Run run = test::sample_run();
  for (int i = 0; i < 6; ++i) {
    run.conditions.push_back(run.conditions[0]);
    run.conditions.back().name = "more-" + std::to_string(i);
  }
  run.conditions[1].sources[0].state = network::SourceState::full;
  const std::vector<std::string> warnings = overview_warnings(run);
  INFO(warnings.front());
  CHECK(warnings.front().find("\"use\", \"more-0\", \"more-1\" and 4 more: chip throttles") == 0);
}

TEST_CASE("little air has the unit of much air, and less than a digit is no zero") {
  Run run = test::sample_run();
  run.conditions[1].through_flow = 1e-7;  // of air of 1.2 kg/m3: 0.000083 L/s
  CHECK_THAT(row_of(overview_text(run, look_of_width(80)), "bench"), Contains("<0.001"));
  run.conditions[0].through_flow = 1e-4;  // 0.083 L/s
  const std::string small = overview_text(run, look_of_width(80));
  INFO(small);
  CHECK_THAT(small, Contains(" L/s"));
  CHECK_THAT(row_of(small, "use"), Contains("  0.083"));
  run.content.units = geometry::UnitSystem::inch;  // 0.083 L/s are 0.18 cubic feet a minute
  CHECK_THAT(overview_text(run, look_of_width(80)), Contains(" cfm") && !Contains("L/s"));
  CHECK_THAT(row_of(overview_text(run, look_of_width(80)), "use"), Contains(" 0.18"));
}

TEST_CASE("hostile names keep the overview whole") {
  Run run = test::sample_run();
  run.content.device.name = "box\x1b[2J";
  run.content.device.vents[0].name = "\x1b[2J\n通風口通風口通風口通風口通風口通風口";
  run.conditions[0].name = "a\rb";
  const std::string text = overview_text(run, look_of_width(80));
  INFO(text);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\r') == std::string::npos);
  CHECK(widest(text) <= 80);
}

TEST_CASE(
    "an even number of steady states is said, since one of them is probably missing; an odd one is not") {
  Run run = test::sample_run();
  study::States& states = run.conditions.front().states;
  states.looked_for = true;
  const auto said = [&](int stable, int unstable) {
    states.stable = stable;
    states.unstable = unstable;
    states.others.assign(static_cast<std::size_t>(stable - 1), {});
    for (study::OtherState& other : states.others) other.vents = run.conditions.front().vents;
    std::string all;
    for (const std::string& warning : overview_warnings(run)) all += warning + "\n";
    return all;
  };
  CHECK_THAT(said(2, 0), Contains("2 were found, 0 of them unstable") && Contains("one is probably missing"));
  CHECK_THAT(said(1, 1), Contains("one is probably missing"));
  CHECK_THAT(said(2, 1), Contains("2 steady states exist") && !Contains("missing"));
  CHECK_THAT(said(1, 0), !Contains("steady state"));
}
