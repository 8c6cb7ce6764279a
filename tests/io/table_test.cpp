// What a person reads: the tables of conditions, sweeps, claims and changes.
#include <catch2/catch.hpp>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tools/io/table.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

using namespace tuft;
using namespace tuft::io;
using Catch::Matchers::Contains;

namespace {

int widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::string line;
  int widest = 0;
  while (std::getline(lines, line)) widest = std::max(widest, display_width(line));
  return widest;
}

}  // namespace

TEST_CASE("how to read the tables fits the terminal") {
  Look narrow;
  narrow.width = 80;
  CHECK(widest_line(reading_help(narrow)) <= 80);
  CHECK_THAT(reading_help(Look{}), Contains("Minus draws in"));
}

TEST_CASE("the summary says who breathes which way, the largest first") {
  const Run run = test::sample_run();
  CHECK(summary_sentence(run.content, run.conditions[0]) ==
        "Air enters by grille (80.0 %); leaves by slot (90.0 %); side (15.0 %) breathes both ways; "
        "close to a threshold: side.");
}

TEST_CASE("the summary of still air and of one-sided devices") {
  Run run = test::sample_run();
  auto& result = run.conditions[0];
  result.through_flow = 0.0;
  CHECK_THAT(summary_sentence(run.content, result), Contains("stands still"));
  result.through_flow = 1e-3;
  result.vents[0].role = geometry::Role::idle;
  result.vents[2].firm = true;
  CHECK_THAT(summary_sentence(run.content, result), Contains("No vent is an intake; air leaves by slot"));
  CHECK_THAT(summary_sentence(run.content, result), Contains("grille does next to nothing"));
  result.vents[3].inflow = 0.2e-3;
  CHECK_THAT(summary_sentence(run.content, result), Contains("leaks carry 20.0 %"));
}

TEST_CASE("heat in words: what throttles, what is too hot to touch, where the heat goes") {
  const Run run = test::sample_run();
  const std::string text = condition_text(run.content, run.conditions[0], Look{});
  INFO(text);
  Look wide;
  wide.width = 400;
  const std::string lines = condition_text(run.content, run.conditions[0], wide);
  CHECK_THAT(lines,
             Contains("! chip throttles: it is held at 90.0 °C and takes 33.0 W of the 40.0 W asked for."));
  CHECK_THAT(lines, Contains("! palm rest gets 49.0 °C, above the published limit for plastic touched 8 h: "
                             "48.0 °C. This is not a safety assessment."));
  CHECK(lines.find("! bottom") == std::string::npos);
  CHECK_THAT(lines, Contains("sources  chip 90.0 °C at 33.0 W (throttled); drive 2.00 W"));
  CHECK_THAT(lines, Contains("parts    pipe 66.9 °C"));
  CHECK_THAT(lines, Contains("bottom 45.0 °C (covered)"));
  CHECK_THAT(lines, Contains("screen   lower edge at slot 27.9 °C in air of 31.9 °C"));
  CHECK_THAT(lines, Contains("heat     30.0 W with the air, 5.00 W through skin"));
}

TEST_CASE("a source on its least power, and one that shuts down") {
  Run run = test::sample_run();
  study::SourceResult& chip = run.conditions[0].sources[0];
  chip.state = network::SourceState::at_least_power;
  chip.temperature = 365.15;
  CHECK(
      heat_warnings(run.content, run.conditions[0])[0] ==
      "chip is at its least power, 33.0 W, and still gets 92.0 °C, above the 90.0 °C at which it throttles.");
  chip.state = network::SourceState::shut_down;
  CHECK_THAT(heat_warnings(run.content, run.conditions[0])[0],
             Contains("chip shuts down: even at its least power it would exceed 100.0 °C"));
}

TEST_CASE("how long a hand stays, in words") {
  CHECK(duration_text(0.5) == "under 1 s");
  CHECK(duration_text(5.0) == "5 s");
  CHECK(duration_text(60.0) == "60 s");
  CHECK(duration_text(600.0) == "10 min");
  CHECK(duration_text(28800.0) == "8 h");
}

TEST_CASE("a condition's table") {
  const Run run = test::sample_run();
  const std::string text = condition_text(run.content, run.conditions[0], Look{});
  INFO(text);
  CHECK_THAT(text, Contains("use: flat, on table, load stress; 35.0 W, room 21.0 °C, 0.833 L/s through"));
  CHECK_THAT(text, Contains("both ways ?"));
  CHECK_THAT(text, Contains("not firm"));
  CHECK_THAT(text, Contains("1 seam, together"));
  CHECK_THAT(text, Contains("main 4500 rpm, 0.800 L/s at +40.0 Pa"));
  CHECK_THAT(text, Contains("fins 0.750 L/s, leaving at 44.9 °C"));
  CHECK_THAT(text, Contains("balance  air closed, heat closed; 7 steps"));
  CHECK(widest_line(text) <= 120);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.back() == '\n');
}

TEST_CASE("a narrow terminal gets two tables") {
  const Run run = test::sample_run();
  Look narrow;
  narrow.width = 80;
  const std::string text = condition_text(run.content, run.conditions[0], narrow);
  INFO(text);
  CHECK(widest_line(text) <= 80);
  CHECK_THAT(text, Contains("buoyancy head"));
}

TEST_CASE("hostile names keep the table whole") {
  Run run = test::sample_run();
  run.content.device.vents[0].name = "\x1b[2J\n通風口通風口通風口通風口通風口通風口";
  run.conditions[0].name = "a\rb";
  const std::string text = condition_text(run.content, run.conditions[0], Look{});
  INFO(text);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\r') == std::string::npos);
  CHECK(widest_line(text) <= 120);
}

TEST_CASE("a condition without a solution says why and shows no numbers") {
  Run run = test::sample_run();
  run.conditions[0].report = {false, "the fans blow against closed vents", 40, 1.0};
  run.conditions[0].vents.clear();
  const std::string text = condition_text(run.content, run.conditions[0], Look{});
  CHECK_THAT(text, Contains("No solution: the fans blow against closed vents"));
  CHECK(text.find("L/s") == std::string::npos);
}

TEST_CASE("a sweep shows ranges of one role") {
  Run run = test::sample_run();
  run.sweeps[0].points[2].result.vents[0].role = geometry::Role::idle;
  run.sweeps[0].points[2].result.vents[1].role = geometry::Role::intake;
  run.sweeps[0].points[1].result.vents[1].role = geometry::Role::idle;
  const std::string text = sweep_text(run.content, run.content.sweeps[0], run.sweeps[0], Look{});
  INFO(text);
  CHECK_THAT(text, Contains("around: turned about y from lying flat, 3 angles"));
  CHECK_THAT(text, Contains("intake 0°..28.6°, idle 57.3°"));
  CHECK_THAT(text, Contains("exhaust 0°, idle 28.6°, intake 57.3°"));
  run.sweeps[0].points[1].result.report.converged = false;
  CHECK_THAT(sweep_text(run.content, run.content.sweeps[0], run.sweeps[0], Look{}),
             Contains("intake 0°, no solution 28.6°, idle 57.3°"));
}

TEST_CASE("a sweep in a sentence: which vents change their role and where, of many changes the first") {
  Run run = test::sample_run();
  auto& points = run.sweeps[0].points;
  const auto sentence = [&] { return sweep_sentence(run.content, run.content.sweeps[0], run.sweeps[0]); };
  const std::string start = "Sweep \"around\", \"bench\" turned about y to 57.3°: ";
  CHECK(sentence() == start + "no vent changes its role.");
  const std::string vent = run.content.device.vents[0].name;
  points[1].result.vents[0].role = geometry::Role::idle;
  CHECK(sentence() == start + vent + " intake, idle from 28.6°, intake from 57.3°.");
  points.push_back({1.5, points[1].result});
  CHECK(sentence() == start + vent + " intake, idle from 28.6°, 2 more changes.");
}

TEST_CASE("claims: verdict, sentence, reason, and the count") {
  Run run = test::sample_run();
  const std::string text = claim_text(run.content, run.claims[0], Look{});
  CHECK(text ==
        "holds      grille-draws: The grille takes air in\n"
        "           It carries 80 % of the through-flow.\n");
  run.claims.push_back({0, study::Verdict::fails, ""});
  run.claims.push_back({0, study::Verdict::undecided, ""});
  CHECK(claims_summary(run.claims) == "3 claims: 1 holds, 1 fails, 1 undecided.");
  CHECK(claims_summary({}) == "No claims.");
  CHECK(claim_as_written_text(run.content, run.claims[0], Look{}) ==
        "true as written       grille-draws: The grille takes air in\n"
        "                      It carries 80 % of the through-flow.\n");
  CHECK(summary_as_written(run.claims) ==
        "3 claims: 1 true as written, 1 not true as written and 1 left open as written.");
  CHECK(summary_as_written({}) == "No claims.");
}

TEST_CASE("changes: roles, flows and reasons") {
  const Run run = test::sample_run();
  study::VentChange turned;
  turned.vent = 2;
  turned.from = geometry::Role::intake;
  turned.to = geometry::Role::exhaust;
  turned.inflow_from = 1.2e-4;
  turned.outflow_to = 2.4e-4;
  turned.role_changes = true;
  turned.because = "The buoyancy head turns over.";
  study::VentChange same;
  same.because = "Nothing changes.";
  const std::string text =
      changes_text(run.content, run.conditions[0], run.conditions[1], {same, turned}, Look{});
  INFO(text);
  CHECK_THAT(text, Contains("intake -> exhaust"));
  CHECK_THAT(text, Contains("0.100"));
  CHECK_THAT(text, Contains("side: The buoyancy head turns over."));
  CHECK(text.find("Nothing changes") == std::string::npos);
}
