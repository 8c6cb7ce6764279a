// tuft predict, compare and explain as a person at a terminal meets them.
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

// The words of a text with one blank between them.
std::string in_one_line(const std::string& text) {
  std::istringstream words(text);
  std::string line, word;
  while (words >> word) line += (line.empty() ? "" : " ") + word;
  return line;
}

// Lines with a verdict word; each must hold the probability and the interval it rests on. Where all samples
// or none make a claim true, the interval's inner end is the probability.
int verdict_rows(const std::string& text) {
  static const std::regex verdict("(^|[^a-z])(holds?|fails?|FAILS|undecided|left open )([^a-z]|$)");
  static const std::regex band(
      "(holds|fails|undecided|left open) +(at (least|most) [0-9]+ %|[0-9]+ % \\((at (least|most) [0-9]+ "
      "%|[0-9]+ "
      "to [0-9]+ %)\\))$");
  // The rule itself names the words; it may be broken over two lines.
  static const std::regex rule(
      R"(A\s+claim\s+holds\s+at\s+95\s+%\s+or\s+more\s+and\s+fails\s+at\s+5\s+%\s+or\s+less)");
  const std::string whole = std::regex_replace(text, rule, "");
  int count = 0;
  std::istringstream rows(whole);
  for (std::string line; std::getline(rows, line);) {
    if (!std::regex_search(line, verdict)) continue;
    INFO(line);
    CHECK(std::regex_search(line, band));
    ++count;
  }
  return count;
}

// Bytes of all files of a folder, by name.
std::map<std::string, std::string> contents(const fs::path& folder) {
  std::map<std::string, std::string> files;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_regular_file()) files[entry.path().lexically_relative(folder)] = bytes_of(entry.path());
  }
  return files;
}

}  // namespace

TEST_CASE("predict shows the answers, writes a folder and cautions") {
  const Scratch scratch;
  const Outcome run = run_tuft({"predict", case_path("chassis.yaml")}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Contains("\nuse    > in    > in   < out"));
  CHECK_THAT(run.out, Contains("Sweep \"around\", \"bench\" turned about y"));
  CHECK(verdict_rows(run.out) == 2);
  CHECK_THAT(run.out, Contains("Results: chassis-tuft ("));
  CHECK_THAT(run.out, Contains("no safety assessment"));
  CHECK(run.out.find('\x1b') == std::string::npos);
  const auto files = contents(scratch.path() / "chassis-tuft");
  CHECK(files.count("results.json") == 1);
  CHECK(files.count("vents.csv") == 1);
  CHECK(files.count("vtk/bench.flow.vtp") == 1);
  CHECK(files.count("vtk/around/0003.vtp") == 1);
  CHECK(scratch.entries() == 1);
}

TEST_CASE("the results agree with what a fan in the rear must do") {
  const Scratch scratch;
  REQUIRE(run_tuft({"predict", case_path("chassis.yaml"), "--quiet", "--out", "r"}, scratch.path()).status ==
          0);
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "r/results.json"));
  REQUIRE(json["conditions"].size() == 3);
  const auto& use = json["conditions"][0];
  CHECK(use["vents"][0]["role"] == "intake");
  CHECK(use["vents"][1]["role"] == "intake");
  CHECK(use["vents"][2]["role"] == "exhaust");
  double net = 0.0;
  for (const auto& vent : use["vents"])
    net += vent["inflow_kg_s"].get<double>() - vent["outflow_kg_s"].get<double>();
  CHECK(std::abs(net) < 1e-6 * use["through_flow_kg_s"].get<double>());
  CHECK(json["claims"][0]["verdict"] == "holds");
}

TEST_CASE("the same case gives the same bytes, on one thread or two") {
  const Scratch scratch;
  const std::string path = case_path("chassis.yaml");
  const Outcome first = run_tuft({"predict", path, "--out", "a"}, scratch.path(), {{"OMP_NUM_THREADS", "1"}});
  const Outcome second =
      run_tuft({"predict", path, "--out", "b"}, scratch.path(), {{"OMP_NUM_THREADS", "2"}});
  REQUIRE(first.status == 0);
  REQUIRE(second.status == 0);
  run_tuft({"predict", path, "--out", "b"}, scratch.path(), {{"OMP_NUM_THREADS", "2"}});
  CHECK(contents(scratch.path() / "a") == contents(scratch.path() / "b"));
  CHECK(first.out.substr(0, first.out.find("Results:")) == second.out.substr(0, second.out.find("Results:")));
}

TEST_CASE("one condition by name") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"predict", "--condition", "off", case_path("chassis.yaml"), "--no-files"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("\"off\": flat, on raised, load off"));
  CHECK(run.out.find("\nuse ") == std::string::npos);
  CHECK(run.out.find("around") == std::string::npos);
  CHECK(scratch.entries() == 0);
}

TEST_CASE("no verdict word without its probability, and none at all without samples") {
  const Scratch scratch;
  for (const char* file : {"chassis.yaml", "false-claim.yaml", "open-claim.yaml", "two-states.yaml"}) {
    const Outcome run = run_tuft({"predict", case_path(file), "--no-files"}, scratch.path());
    INFO(run.out << run.err);
    CHECK(verdict_rows(run.out) > 0);
    const Outcome none =
        run_tuft({"predict", case_path(file), "--no-files", "--samples", "0"}, scratch.path());
    INFO(none.out);
    CHECK(verdict_rows(none.out) == 0);
    CHECK_THAT(none.out, Contains("true as written") && Contains("tuft check gives"));
  }
}

TEST_CASE("results.json tells how sure each claim and each vent is, in every condition") {
  const Scratch scratch;
  REQUIRE(run_tuft({"predict", case_path("chassis.yaml"), "--quiet", "--out", "r"}, scratch.path()).status ==
          0);
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "r/results.json"));
  const auto& uncertainty = json.at("uncertainty");
  CHECK(uncertainty.at("samples") == 1024);
  CHECK(uncertainty.at("seed") == 1);
  REQUIRE(uncertainty.at("claims").size() == json.at("claims").size());
  for (std::size_t i = 0; i < uncertainty.at("claims").size(); ++i) {
    const auto& claim = uncertainty.at("claims")[i];
    CHECK(claim.at("verdict") == json.at("claims")[i].at("verdict"));
    CHECK(json.at("claims")[i].contains("as_written"));
    CHECK(claim.at("probability").get<double>() >= claim.at("probability_interval")[0].get<double>());
    CHECK(claim.at("probability").get<double>() <= claim.at("probability_interval")[1].get<double>());
    for (const auto& influence : claim.at("sensitivity")) {
      CHECK(influence.at("first").get<double>() >= 0.01);
      CHECK(influence.at("total").is_null());
    }
  }
  REQUIRE(uncertainty.at("conditions").size() == json.at("conditions").size());
  for (std::size_t c = 0; c < json.at("conditions").size(); ++c) {
    const auto& ranges = uncertainty.at("conditions")[c];
    const auto& nominal = json.at("conditions")[c];
    CHECK(ranges.at("condition") == nominal.at("name"));
    double net = 0.0;
    for (std::size_t v = 0; v < ranges.at("vents").size(); ++v) {
      const auto& vent = ranges.at("vents")[v];
      double sum = 0.0;
      for (const char* role : {"intake", "exhaust", "both-ways", "idle"}) sum += vent.at(role).get<double>();
      CHECK(std::abs(sum - 1.0) < 1e-12);
      CHECK(vent.at("net_in_interval_kg_s")[0] <= vent.at("net_in_median_kg_s"));
      CHECK(vent.at("net_in_interval_kg_s")[1] >= vent.at("net_in_median_kg_s"));
      // The device as written is none of the odd ones.
      const double written = nominal.at("vents")[v].at("inflow_kg_s").get<double>() -
                             nominal.at("vents")[v].at("outflow_kg_s").get<double>();
      CHECK(vent.at("net_in_interval_kg_s")[0].get<double>() <= written + 1e-9);
      CHECK(vent.at("net_in_interval_kg_s")[1].get<double>() >= written - 1e-9);
      net += written;
    }
    CHECK(std::abs(net) < 1e-6);
  }
  REQUIRE(run_tuft({"predict", case_path("chassis.yaml"), "--quiet", "--out", "n", "--samples", "0"},
                   scratch.path())
              .status == 0);
  const auto none = nlohmann::json::parse(bytes_of(scratch.path() / "n/results.json"));
  CHECK_FALSE(none.contains("uncertainty"));
  CHECK(none.at("claims")[0].at("verdict") == json.at("claims")[0].at("as_written"));
}

TEST_CASE("a case without claims, and one without a value in doubt, are told as what they are") {
  const Scratch scratch;
  std::string text = bytes_of(case_path("chassis.yaml"));
  text.resize(text.find("\nclaims:") + 1);
  std::ofstream(scratch.path() / "no-claims.yaml") << text;
  const Outcome bare = run_tuft({"predict", "no-claims.yaml", "--out", "r"}, scratch.path());
  INFO(bare.out << bare.err);
  CHECK(bare.status == 0);
  CHECK(verdict_rows(bare.out) == 0);
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "r/results.json"));
  CHECK(json.at("uncertainty").at("claims").empty());
  CHECK(json.at("uncertainty").at("conditions").size() == json.at("conditions").size());
  CHECK(run_tuft({"report", "no-claims.yaml"}, scratch.path()).status == 0);
  for (const char* wrong : {"5", "-1", "31", "many", "1.5"})
    CHECK(run_tuft({"predict", "no-claims.yaml", "--no-files", "--samples", wrong}, scratch.path()).status ==
          3);
}

TEST_CASE("quiet shows nothing") {
  const Scratch scratch;
  const Outcome run = run_tuft({"predict", case_path("chassis.yaml"), "--quiet"}, scratch.path());
  CHECK(run.status == 0);
  CHECK(run.out.empty());
  CHECK(run.err.empty());
  CHECK(fs::exists(scratch.path() / "chassis-tuft/results.json"));
}

TEST_CASE("an unknown condition is bad input, with the nearest known") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"predict", case_path("chassis.yaml"), "--condition", "bensh"}, scratch.path());
  CHECK(run.status == 3);
  CHECK_THAT(run.err, Contains("no condition 'bensh'") && Contains("did you mean 'bench'?"));
  CHECK(run.out.empty());
  CHECK(scratch.entries() == 0);
}

TEST_CASE("a foreign folder in the way is left alone") {
  const Scratch scratch;
  fs::create_directory(scratch.path() / "chassis-tuft");
  std::ofstream(scratch.path() / "chassis-tuft/letter.txt") << "dear";
  const Outcome run = run_tuft({"predict", case_path("chassis.yaml")}, scratch.path());
  CHECK(run.status == 5);
  CHECK_THAT(run.err, Contains("left alone"));
  CHECK(bytes_of(scratch.path() / "chassis-tuft/letter.txt") == "dear");
  CHECK(scratch.entries() == 1);
}

TEST_CASE("places that cannot be written are told, with nothing left") {
  const Scratch scratch;
  for (const char* place : {"missing/out", "/dev/full/out", "/dev/full"}) {
    INFO(place);
    const Outcome run = run_tuft({"predict", case_path("chassis.yaml"), "--out", place}, scratch.path());
    CHECK(run.status == 5);
    CHECK_FALSE(run.err.empty());
  }
  CHECK(scratch.entries() == 0);
}

TEST_CASE("a full disk behind standard output is told") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"predict", case_path("chassis.yaml"), "--no-files"}, scratch.path(), {}, "/dev/full");
  CHECK(run.status == 5);
  CHECK_THAT(run.err, Contains("standard output"));
}

TEST_CASE("compare says what changes") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"compare", case_path("chassis.yaml"), "--from", "use", "--to", "off"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("from use") && Contains("to   off"));
  CHECK_THAT(run.out, Contains("grille"));
  CHECK(run_tuft({"compare", case_path("chassis.yaml"), "--from", "use", "--to", "of"}, scratch.path())
            .status == 3);
  CHECK(run_tuft({"compare", case_path("chassis.yaml"), "--from", "use"}, scratch.path()).status == 3);
  CHECK(scratch.entries() == 0);
}

TEST_CASE("compare shows temperatures beside each other") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"compare", case_path("chassis.yaml"), "--from", "use", "--to", "off"}, scratch.path());
  INFO(run.out << run.err);
  CHECK_THAT(run.out, Contains("temperature of") && Contains("warmer by"));
  CHECK(std::regex_search(run.out, std::regex("  inside +air +[0-9.]+ +[0-9.]+ +[-+][0-9.]+\n")));
}

TEST_CASE("two files are compared, vents by their names, and what one lacks is listed") {
  const Scratch scratch;
  std::string other = bytes_of(case_path("chassis.yaml"));
  const auto replace = [&other](const std::string& from, const std::string& to) {
    for (std::size_t at = other.find(from); at != std::string::npos; at = other.find(from, at + to.size()))
      other.replace(at, from.size(), to);
  };
  replace("  slot: {face: left", "  gap: {face: left");  // another name
  replace("[grille, slot]", "[grille, gap]");
  replace("board: 30 W", "board: 60 W");
  const fs::path second = scratch.path() / "other.yaml";
  std::ofstream(second) << other;
  const Outcome run =
      run_tuft({"compare", case_path("chassis.yaml"), second.string(), "--condition", "use"}, scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out, Contains("from use of ") && Contains("to   use of ") && Contains("grille") &&
                          Contains("outlet"));
  CHECK_THAT(in_one_line(run.out), Contains("(vents are matched by their names): slot") &&
                                       Contains("(vents are matched by their names): gap"));
  // Twice the power and the same fan: the air inside is warmer in the second.
  CHECK(std::regex_search(run.out, std::regex("  inside +air +[0-9.]+ +[0-9.]+ +\\+[0-9.]+\n")));
  const std::string path = case_path("chassis.yaml");
  CHECK_THAT(run_tuft({"compare", path, second.string()}, scratch.path()).err, Contains("--condition"));
  CHECK_THAT(run_tuft({"compare", path, "--condition", "use"}, scratch.path()).err,
             Contains("--from and --to"));
  CHECK(
      run_tuft({"compare", path, second.string(), "--from", "use", "--to", "bench"}, scratch.path()).status ==
      0);
  CHECK_THAT(run_tuft({"compare", path, second.string(), "--condition", "us"}, scratch.path()).err,
             Contains("did you mean 'use'?"));
}

TEST_CASE("explain speaks of the vent asked for") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"explain", case_path("chassis.yaml"), "grille", "--condition", "use"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("use: flat, on table") && Contains("Pa"));
  const Outcome wrong = run_tuft({"explain", case_path("chassis.yaml"), "gril"}, scratch.path());
  CHECK(wrong.status == 3);
  CHECK_THAT(wrong.err, Contains("did you mean 'grille'?"));
}

TEST_CASE("a condition without a solution: a status of its own, a reason, no numbers") {
  const Scratch scratch;
  const std::string path = case_path("no-solution.yaml");
  const Outcome run = run_tuft({"predict", path}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 4);
  CHECK_THAT(run.out, Contains("! \"hot\": no solution: ") && Contains("\nhot: no solution\n"));
  CHECK_THAT(run.err, Contains("no solution for \"hot\""));
  CHECK_THAT(run_tuft({"predict", path, "--no-files", "--details=hot"}, scratch.path()).out,
             Contains("No solution: "));
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "no-solution-tuft/results.json"));
  CHECK(json["conditions"][0]["solved"] == false);
  CHECK(json["conditions"][0]["reason"].get<std::string>().size() > 10);
  CHECK_FALSE(json["conditions"][0].contains("vents"));
  CHECK(json["conditions"][1]["solved"] == true);
  CHECK_FALSE(fs::exists(scratch.path() / "no-solution-tuft/vtk/hot.vtp"));
  CHECK(fs::exists(scratch.path() / "no-solution-tuft/vtk/cold.vtp"));
  CHECK(run_tuft({"predict", path, "--condition", "cold", "--no-files"}, scratch.path()).status == 0);
  CHECK(run_tuft({"check", path}, scratch.path()).status == 4);
  CHECK(run_tuft({"explain", path, "pinhole"}, scratch.path()).status == 4);
  const Outcome compared = run_tuft({"compare", path, "--from", "cold", "--to", "hot"}, scratch.path());
  CHECK(compared.status == 4);
  CHECK_THAT(compared.err, Contains("'hot' has no solution"));
}

TEST_CASE("two steady states are said plainly, with the one a cold start reaches and what tips it") {
  const Scratch scratch;
  const Outcome brief = run_tuft({"predict", case_path("two-states.yaml"), "--no-files"}, scratch.path());
  CHECK_THAT(in_one_line(brief.out),
             Contains("! \"shaft-on\": 2 steady states exist; the one that a cold start reaches is shown."));
  const Outcome run =
      run_tuft({"predict", case_path("two-states.yaml"), "--details", "--out", "r"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("Air enters by above (100 %); leaves by below (100 %)."));
  // Sentences are broken into lines of 80 columns.
  const std::string said = in_one_line(run.out);
  CHECK_THAT(said, Contains("2 steady states exist here. The one that a cold start reaches is shown; it "
                            "ceases to exist at fan"));
  CHECK_THAT(said, Contains("below is intake instead of exhaust and above is exhaust instead of intake"));
  const auto results = nlohmann::json::parse(bytes_of(scratch.path() / "r" / "results.json"));
  const auto& states = results["conditions"][0]["states"];
  CHECK(states["stable"] == 2);
  CHECK(states["growth_per_s"].get<double>() < 0.0);
  REQUIRE(states["others"].size() == 1);
  CHECK(states["others"][0]["vents"][0]["role"] == "intake");
  CHECK(!states["others"][0]["would_trigger"].get<std::string>().empty());
  // Walking there by tilt and fan speed finds the same two.
  const Outcome search_states =
      run_tuft({"predict", case_path("two-states.yaml"), "--search-states", "--no-files"}, scratch.path());
  CHECK_THAT(in_one_line(search_states.out), Contains("\"shaft-on\": 2 steady states exist;"));
  const Outcome check = run_tuft({"check", case_path("two-states.yaml")}, scratch.path());
  CHECK_THAT(check.out, Contains("! shaft-on: 2 steady states exist here."));
}

TEST_CASE("seams that fill a face: one steady state from no power at all upwards, and always one") {
  const Scratch scratch;
  const Outcome run = run_tuft({"predict", case_path("seams-on-edge.yaml"), "--no-files"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.out.find("no solution") == std::string::npos);
  CHECK(run.out.find("steady states") == std::string::npos);
}

TEST_CASE("a chip hotter than silicon bears is told before the answer, and quiet once confirmed") {
  const Scratch scratch;
  const auto said = [&](const std::string& more) {
    std::ofstream(scratch.path() / "hot.yaml") << R"(tuft: 1
device: {name: Hot, size: [300 mm, 260 mm, 90 mm], feet: 5 mm}
vents:
  in: {face: left, centre: [130 mm, 45 mm], size: [120 mm, 50 mm], cover: perforated}
  out: {face: rear, centre: [150 mm, 45 mm], size: [110 mm, 50 mm], cover: open}
sources: {processor: {joins: {inside: 10 K/W}}}
loads: {play: {power: {processor: 50 W}}}
)" << more;
    const Outcome run = run_tuft({"predict", "hot.yaml", "--samples", "0", "--no-files"}, scratch.path());
    INFO(run.err);
    REQUIRE(run.status == 0);
    return run.out;
  };
  CHECK_THAT(said(""), Contains("more than silicon bears") && Contains("expected:"));
  CHECK_THAT(said("expected: [sources.processor]\n"), !Contains("more than silicon bears"));
}

TEST_CASE("the caution is one line, and help has the whole") {
  const Scratch scratch;
  const Outcome help = run_tuft({"--help"}, scratch.path());
  CHECK_THAT(help.out, Contains("not a safety assessment") && Contains("local rules"));
  const std::string cautious = std::string(TUFT_SOURCE_DIR) + "/cases/open-box.yaml";
  const Outcome run =
      run_tuft({"predict", cautious, "--samples", "0", "--details", "--no-files"}, scratch.path());
  CHECK_THAT(run.out,
             Contains("Caution: no safety assessment.") && !Contains("do not leave a running device"));
}
