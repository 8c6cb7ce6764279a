// tuft check and lint: verdicts, mistakes, exit status.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

TEST_CASE("claims that hold") {
  const Scratch scratch;
  const Outcome run = run_tuft({"check", case_path("chassis.yaml")}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("holds") && Contains("outlet-blows: The rear outlet lets air out on a table"));
  CHECK_THAT(run.out, Contains("2 claims: 2 hold."));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("a claim that fails") {
  const Scratch scratch;
  const Outcome run = run_tuft({"check", case_path("false-claim.yaml")}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 1);
  CHECK_THAT(run.out, Contains("FAILS      outlet-draws"));
  CHECK_THAT(run.out, Contains("2 claims: 1 holds, 1 fails."));
}

TEST_CASE("a claim that can't be decided") {
  const Scratch scratch;
  const Outcome run = run_tuft({"check", case_path("open-claim.yaml")}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 2);
  CHECK_THAT(run.out, Contains("undecided"));
}

TEST_CASE("with the values as written alone no verdict word stands, and the exit status stays") {
  const Scratch scratch;
  const auto nominal = [&](const char* file) {
    return run_tuft({"check", case_path(file), "--nominal"}, scratch.path());
  };
  const Outcome good = nominal("chassis.yaml"), bad = nominal("false-claim.yaml");
  CHECK(good.status == 0);
  CHECK(bad.status == 1);
  CHECK_THAT(good.out, Contains("true as written       outlet-blows") &&
                           Contains("2 claims: 2 true as written. No probabilities were asked for"));
  CHECK_THAT(bad.out, Contains("not true as written   outlet-draws"));
  static const std::regex verdict("(^|[^a-z])(holds?|fails?|FAILS|undecided)([^a-z]|$)");
  for (const Outcome& run : {good, bad}) {
    INFO(run.out);
    CHECK_FALSE(std::regex_search(run.out, verdict));
  }
}

TEST_CASE("every command refuses a file with mistakes, and names them all") {
  const Scratch scratch;
  const std::string path = case_path("mistakes.yaml");
  const std::vector<std::vector<std::string>> commands = {{"predict", path},
                                                          {"check", path},
                                                          {"lint", path},
                                                          {"compare", path, "--from", "a", "--to", "b"},
                                                          {"explain", path, "grille"}};
  for (const auto& command : commands) {
    INFO(command[0]);
    const Outcome run = run_tuft(command, scratch.path());
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains("mistakes.yaml:5:") && Contains("center") && Contains("centre"));
    CHECK_THAT(run.err, Contains("mistakes.yaml:6:"));
    CHECK_THAT(run.err, Contains("mistakes.yaml:7:") && Contains("back"));
    CHECK(scratch.entries() == 0);
  }
}

TEST_CASE("a file that is not there, a folder, and nonsense") {
  const Scratch scratch;
  for (const std::string& path : {std::string("missing.yaml"), std::string("/"), case_path("program.hpp")}) {
    INFO(path);
    const Outcome run = run_tuft({"predict", path}, scratch.path());
    CHECK(run.status == 3);
    CHECK_FALSE(run.err.empty());
    CHECK(run.out.empty());
  }
  CHECK(scratch.entries() == 0);
}

TEST_CASE("lint names what has no place, and how one is said") {
  const Scratch scratch;
  const Outcome run = run_tuft({"lint", case_path("chassis.yaml")}, scratch.path());
  INFO(run.out);
  CHECK_THAT(run.out,
             Contains("Place not given: fans.main and sources.board.") && Contains("from-left: 12 mm"));
}

TEST_CASE("lint lists what was assumed") {
  const Scratch scratch;
  const Outcome run = run_tuft({"lint", case_path("chassis.yaml")}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("assumed") && Contains("0 errors, "));
  CHECK_THAT(run.out, Contains("vents.slot"));
  // The spreads in the list are said in words, and no others.
  CHECK_THAT(run.out, Contains("1..2..4: least, likeliest, most"));
  const bool factors = run.out.find("W/K */ 2") != std::string::npos;
  CHECK((run.out.find("twice as much") != std::string::npos) == factors);
}

// Results of tuft field for the condition "use" of the chassis.
Json field_of_chassis(const Scratch& scratch) {
  const Outcome run =
      run_tuft({"field", case_path("chassis.yaml"), "--condition", "use", "--cells", "10mm", "--out", "made"},
               scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  return Json::parse(bytes_of(scratch.path() / "made/results.json"));
}

std::string written(const Scratch& scratch, const Json& results) {
  const std::string folder = (scratch.path() / "field").string();
  std::filesystem::create_directories(folder);
  std::ofstream(folder + "/results.json") << results;
  return folder;
}

Json& vent_row(Json& results, const std::string& vent) {
  for (Json& row : results.at("field").at("network_and_field").at("vents"))
    if (row.at("vent") == vent) return row;
  throw std::runtime_error("no vent " + vent);
}

TEST_CASE("a field of another state, or one with part of the inertia, is not set beside the network") {
  const Scratch scratch;
  const Json made = field_of_chassis(scratch);
  const auto check_with = [&](const std::string& end, bool same) {
    Json changed = made;
    changed["field"]["end"] = end;
    changed["field"]["network_and_field"]["same_state"] = same;
    return run_tuft({"check", case_path("chassis.yaml"), "--field", written(scratch, changed)},
                    scratch.path());
  };
  const Outcome other = check_with("converged", false);
  INFO(other.out << other.err);
  CHECK(other.status == 3);
  CHECK_THAT(other.err, Contains("two different steady states"));
  const Outcome reduced = check_with("reduced", true);
  CHECK(reduced.status == 3);
  CHECK_THAT(reduced.err, Contains("part of the air's inertia"));
  CHECK(check_with("converged", true).status == 0);
}

TEST_CASE("a condition without a solution leaves the claims about the others alone") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"study", case_path("no-solution.yaml"), "--samples", "64", "--out", "out"}, scratch.path());
  INFO(run.out << run.err);
  CHECK_THAT(run.out, Contains("holds      pinhole-idle") && Contains("undecided  pinhole-blows"));
  CHECK_THAT(run.out, Contains("No verdict is possible: none of 64 samples has a solution in \"hot\"."));
  CHECK_THAT(run.out, !Contains("50 %"));
  const auto claims =
      Json::parse(bytes_of(scratch.path() / "out/results.json")).at("uncertainty").at("claims");
  CHECK(claims.at(0).at("probability").is_number());
  CHECK(claims.at(1).at("id") == "pinhole-blows");
  CHECK(claims.at(1).at("probability").is_null());
  CHECK(claims.at(1).at("median").is_null());
}

TEST_CASE(
    "the field is solved where warm air decides, unless it is told not to; a network at rest stands alone") {
  const Scratch scratch;
  const std::string box = std::string(TUFT_SOURCE_DIR) + "/cases/open-box.yaml";
  const Outcome both = run_tuft({"check", box, "--samples", "64"}, scratch.path());
  INFO(both.out << both.err);
  CHECK(both.status == 0);
  CHECK_THAT(both.out, Contains("\"on-its-end\": network and field"));
  const Outcome alone = run_tuft({"check", box, "--samples", "64", "--no-field"}, scratch.path());
  CHECK_THAT(alone.out, !Contains("network and field"));
  const Outcome neither =
      run_tuft({"check", box, "--no-field", "--field", scratch.path().string()}, scratch.path());
  CHECK(neither.status == 3);
  // A network in which nothing flows has no measure for the difference.
  Json made = field_of_chassis(scratch);
  for (Json& row : made["field"]["network_and_field"]["vents"]) row["network"]["inflow_kg_s"] = 0.0;
  const Outcome still =
      run_tuft({"check", case_path("chassis.yaml"), "--field", written(scratch, made)}, scratch.path());
  INFO(still.out << still.err);
  CHECK(still.status == 0);
  CHECK_THAT(still.out, Contains("nothing flows in the network"));
}

TEST_CASE("where hardly any air passes only an upper bound is decided") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"study", case_path("face-down.yaml"), "--no-field", "--samples", "64", "--out", "out"},
               scratch.path());
  INFO(run.out << run.err);
  const auto claims =
      Json::parse(bytes_of(scratch.path() / "out/results.json")).at("uncertainty").at("claims");
  std::map<std::string, std::string> verdicts;
  for (const Json& claim : claims) verdicts[claim.at("id")] = claim.at("verdict");
  CHECK(verdicts.at("idle") == "undecided");
  CHECK(verdicts.at("hot") == "undecided");
  CHECK(verdicts.at("bearable") == "holds");
  CHECK(claims.at(0).at("untold") == 1.0);
  CHECK(claims.at(2).at("untold") == 0.0);
  CHECK_THAT(run.out, Contains("hardly any air passes"));
}

TEST_CASE("where network and field disagree about a role, a claim about it is undecided") {
  const Scratch scratch;
  Json made = field_of_chassis(scratch);
  // The field lets the slot's air out, as much as the network takes in there.
  Json& slot = vent_row(made, "slot");
  slot["field"] = slot["network"];
  std::swap(slot["field"]["inflow_kg_s"], slot["field"]["outflow_kg_s"]);
  slot["field"]["role"] = "exhaust";
  const std::string folder = written(scratch, made);
  const Outcome run =
      run_tuft({"study", case_path("chassis.yaml"), "--field", folder, "--samples", "64", "--out", "out"},
               scratch.path());
  INFO(run.out << run.err);
  const Json uncertainty = Json::parse(bytes_of(scratch.path() / "out/results.json")).at("uncertainty");
  CHECK(uncertainty.at("inputs").back().at("key") == "model.field.use");
  CHECK(uncertainty.at("inputs").back().at("low") == 0.0);
  CHECK(uncertainty.at("inputs").back().at("high") == 1.0);
  CHECK(uncertainty.at("model_conditions") == Json::array({"use"}));
  CHECK_THAT(uncertainty.at("model").get<std::string>(),
             Contains("\"use\": network and field disagree about slot (exhaust by the field, "
                      "intake by the network)."));
  std::map<std::string, std::string> verdicts;
  for (const Json& claim : uncertainty.at("claims")) verdicts[claim.at("id")] = claim.at("verdict");
  CHECK(verdicts.at("inlets-draw") == "undecided");
  CHECK(verdicts.at("outlet-blows") == "holds");
  const Outcome check = run_tuft({"check", case_path("chassis.yaml"), "--field", folder}, scratch.path());
  CHECK(check.status == 2);
  CHECK_THAT(check.out, Contains("network and field disagree about slot"));
}

TEST_CASE("learning goes on without the claims about a condition that has no solution") {
  const Scratch scratch;
  const std::string seen = (scratch.path() / "seen.yaml").string();
  std::ofstream(seen)
      << "tuft-observations: 1\nobservations:\n  - {in: cold, strip: pinhole, leans: still}\n";
  const Outcome run = run_tuft(
      {"learn", case_path("no-solution.yaml"), seen, "--samples", "64", "--out", "out"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 4);
  CHECK_THAT(run.out, Contains("Left out") && Contains("pinhole-blows") && Contains("pinhole-idle"));
}

TEST_CASE("the chances of a vent's roles add up, and agree with the claim's") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "box.yaml") << R"(tuft: 1
device: {name: Two fans (invented), size: [150 mm, 120 mm, 50 mm], feet: 3 mm}
vents:
  left: {face: left, centre: [60 mm, 25 mm], size: [80 mm, 30 mm], cover: slots}
  right: {face: right, centre: [60 mm, 25 mm], size: [80 mm, 30 mm], cover: slots}
  rear: {face: rear, centre: [75 mm, 25 mm], size: [60 mm, 20 mm], cover: perforated}
fans:
  first: {kind: axial, diameter: 40 mm, speed: 4500 rpm, draws-from: left, blows-into: inside}
  second: {kind: axial, diameter: 40 mm, speed: 4500 rpm, draws-from: inside, blows-into: right}
conditions: {use: {support: table}}
claims:
  - {id: draws, say: The rear takes air in, vents: rear, role: intake}
  - {id: blows, say: The rear lets air out, vents: rear, role: exhaust}
  - {id: idles, say: The rear does nothing, vents: rear, role: idle}
)";
  const Outcome run = run_tuft({"check", "box.yaml", "--samples", "256"}, scratch.path());
  std::string text;
  std::istringstream words(run.out);
  for (std::string word; words >> word;) text += word + " ";
  INFO(text);
  // Each claim's own chance, then those of the roles.
  const std::regex sentence(
      "The rear (takes air in|lets air out|does nothing) .*?probability of ([0-9]+) %.*?in \"use\" rear: "
      "intake ([0-9]+) %, exhaust ([0-9]+) % and idle ([0-9]+) %");
  int found = 0;
  for (std::sregex_iterator it(text.begin(), text.end(), sentence), end; it != end; ++it, ++found) {
    const auto number = [&](std::size_t group) { return std::stoi((*it)[group]); };
    CHECK(number(3) + number(4) + number(5) == 100);
    const std::size_t role = (*it)[1] == "takes air in" ? 3 : (*it)[1] == "lets air out" ? 4 : 5;
    CHECK(number(role) == number(2));
  }
  CHECK(found == 3);
}
