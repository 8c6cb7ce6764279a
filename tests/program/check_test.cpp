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
  CHECK_THAT(run.out, Contains("FAILS          outlet-draws"));
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
  CHECK((run.out.find("between half and twice as much") != std::string::npos) == factors);
}

TEST_CASE("a field of another state, or one with part of the inertia, is no doubt of the network") {
  const Scratch scratch;
  const auto check_with = [&](const std::string& end, bool same) {
    const std::string folder = (scratch.path() / "field").string();
    std::filesystem::create_directories(folder);
    std::ofstream(folder + "/results.json") << R"({"field": {"condition": "table", "end": ")" << end
                                            << R"(", "network_and_field": {"same_state": )"
                                            << (same ? "true" : "false") << R"(}, "model_uncertainty": []}})";
    return run_tuft({"check", case_path("chassis.yaml"), "--field", folder}, scratch.path());
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
  CHECK_THAT(run.out, Contains("holds          pinhole-idle") && Contains("undecided  pinhole-blows"));
  CHECK_THAT(run.out, Contains("No verdict is possible: none of 64 samples has a solution in \"hot\"."));
  CHECK_THAT(run.out, !Contains("50 %"));
  const auto claims =
      Json::parse(bytes_of(scratch.path() / "out/results.json")).at("uncertainty").at("claims");
  CHECK(claims.at(0).at("probability").is_number());
  CHECK(claims.at(1).at("id") == "pinhole-blows");
  CHECK(claims.at(1).at("probability").is_null());
  CHECK(claims.at(1).at("median").is_null());
}

TEST_CASE("model uncertainty is as far as network and field are apart, and stays in the field's condition") {
  const Scratch scratch;
  const std::string folder = (scratch.path() / "field").string();
  std::filesystem::create_directories(folder);
  // The field has 1.5 times the network's flow at the outlet (more leaves: a negative difference) and at the
  // grille, half of it at the slot.
  std::ofstream(folder + "/results.json")
      << R"({"field": {"condition": "use", "end": "converged", "network_and_field": {"same_state": true, "vents": [)"
      << R"({"vent": "grille", "network": {"inflow_kg_s": 2e-3, "outflow_kg_s": 0}},)"
      << R"({"vent": "slot", "network": {"inflow_kg_s": 1e-3, "outflow_kg_s": 0}},)"
      << R"({"vent": "outlet", "network": {"inflow_kg_s": 0, "outflow_kg_s": 3e-3}}]}, "model_uncertainty": [)"
      << R"({"condition": "use", "vent": "grille", "flow_relative": 0.5},)"
      << R"({"condition": "use", "vent": "slot", "flow_relative": -0.5},)"
      << R"({"condition": "use", "vent": "outlet", "flow_relative": -0.5}]}})";
  const Outcome run =
      run_tuft({"study", case_path("chassis.yaml"), "--field", folder, "--samples", "32", "--out", "out"},
               scratch.path());
  INFO(run.out << run.err);
  const Json uncertainty = Json::parse(bytes_of(scratch.path() / "out/results.json")).at("uncertainty");
  // Derived: a log-uniform number of standard deviation s of its logarithm reaches exp(sqrt(3) s).
  std::map<std::string, double> high;
  for (const Json& input : uncertainty.at("inputs")) high[input.at("key")] = input.at("high");
  CHECK(high.at("model.flow.grille.use") == Approx(std::pow(1.5, std::sqrt(3.0))));
  CHECK(high.at("model.flow.outlet.use") == Approx(std::pow(1.5, std::sqrt(3.0))));
  CHECK(high.at("model.flow.slot.use") == Approx(std::pow(2.0, std::sqrt(3.0))));
  CHECK(uncertainty.at("model_conditions") == Json::array({"use"}));
  const std::string said = uncertainty.at("model");
  CHECK_THAT(said,
             Contains("3 flows in \"use\"") && Contains("No field was given for \"bench\" and \"off\""));
  const Outcome check = run_tuft({"check", case_path("chassis.yaml"), "--field", folder}, scratch.path());
  CHECK_THAT(check.out, Contains("3 flows in \"use\" may be off"));
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
