// tuft study, tuft learn and --field as a person at a terminal meets them.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::string box() { return std::string(TUFT_SOURCE_DIR) + "/tests/experiment/box.yaml"; }

fs::path observations(const Scratch& scratch, const std::string& lines) {
  const fs::path path = scratch.path() / "seen.yaml";
  std::ofstream(path) << "tuft-observations: 1\nobservations:\n" << lines;
  return path;
}

Json results(const fs::path& folder) { return Json::parse(bytes_of(folder / "results.json")); }

const Json& entry(const Json& list, const std::string& id) {
  for (const Json& one : list)
    if (one["id"] == id) return one;
  throw std::runtime_error("no claim " + id);
}

std::size_t lines_of(const fs::path& path) {
  const std::string text = bytes_of(path);
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

// Every file of one folder is in the other one, byte by byte.
void same_bytes(const fs::path& one, const fs::path& other) {
  const Json json = results(one);
  REQUIRE(json["files"].size() > 4);
  for (const auto& name : json["files"]) {
    INFO(name);
    CHECK(bytes_of(one / name.get<std::string>()) == bytes_of(other / name.get<std::string>()));
  }
}

}  // namespace

TEST_CASE("study writes its folder whole and tells verdicts by its exit status") {
  const Scratch scratch;
  const Outcome run = run_tuft({"study", box(), "--samples", "512"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 2);  // which opening leads can't be decided
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Contains("undecided  leads") && Contains("holds      blows") &&
                          Contains("what leads depends on") && Contains("what to measure next") &&
                          Contains("Results: box-study (") && Contains("no safety assessment"));
  CHECK(scratch.entries() == 1);
  const fs::path folder = scratch.path() / "box-study";
  const Json json = results(folder);
  for (const auto& name : json["files"]) CHECK(fs::is_regular_file(folder / name.get<std::string>()));
  const Json& uncertainty = json["uncertainty"];
  CHECK(uncertainty["samples"] == 512);
  CHECK(uncertainty["seed"] == 1);
  CHECK(uncertainty["inputs"].size() == 4);
  const Json& leads = entry(uncertainty["claims"], "leads");
  CHECK(leads["verdict"] == "undecided");
  CHECK(leads["probability"].get<double>() > 0.5);
  CHECK(leads["probability_interval"][0] < leads["probability"]);
  CHECK(leads["unit"] == "factor");
  CHECK(leads["sensitivity"].size() == 4);
  CHECK(entry(uncertainty["claims"], "blows")["verdict"] == "holds");
  const Json& next = uncertainty["measurements"];
  REQUIRE(next.size() >= 4);
  CHECK(next.front()["information_gain_bit"] >= next.back()["information_gain_bit"]);
  CHECK(lines_of(folder / "claims-uncertainty.csv") == 3);  // a header, two claims
  CHECK(lines_of(folder / "sensitivity.csv") == 1 + 2 * 4);
  CHECK(lines_of(folder / "measurements.csv") == 1 + next.size());
}

namespace {

// The box with the laws of the model in doubt.
fs::path doubted_box(const Scratch& scratch) {
  std::string text = bytes_of(box());
  const std::string exact = "laws: exact\n";
  text.erase(text.find(exact), exact.size());
  const fs::path path = scratch.path() / "doubted.yaml";
  std::ofstream(path, std::ios::binary) << text;
  return path;
}

// A results file without what names the case.
Json uncertainty_of(const fs::path& folder) { return results(folder)["uncertainty"]; }

}  // namespace

TEST_CASE("a verdict says what part of its uncertainty is the model's, in words and in numbers") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"study", doubted_box(scratch).string(), "--samples", "1024", "--out", "s"}, scratch.path());
  INFO(run.out << run.err);
  std::string words;  // of lines that a terminal wraps
  std::istringstream text(run.out);
  for (std::string word; text >> word;) words += word + " ";
  CHECK_THAT(words, Contains("Its uncertainty comes from the device (") && Contains("and the model (") &&
                        Contains("factors on"));
  const Json uncertainty = uncertainty_of(scratch.path() / "s");
  const Json& from = entry(uncertainty["claims"], "leads")["uncertainty_from"];
  double sum = 0.0;
  for (const char* kind : {"device", "room", "model"}) {
    const double share = from[kind]["share"].get<double>();
    CHECK(from[kind]["interval"][0] <= share);
    CHECK(from[kind]["interval"][1] >= share);
    sum += share;
  }
  // Two open areas in doubt by a factor of three outweigh the laws, which have their part; the room is
  // known: no input is of it, so its share is nothing to the last bit.
  CHECK(from["device"]["share"] > from["model"]["share"]);
  CHECK(from["model"]["share"].get<double>() > 0.01);
  CHECK(from["room"]["share"] == 0.0);
  CHECK(sum > 0.8);
  CHECK(sum <= 1.02);
  int laws = 0;
  for (const Json& input : uncertainty["inputs"])
    if (input["about"] == "model") ++laws;
  CHECK(laws == static_cast<int>(uncertainty["inputs"].size()) - 4);
  const std::string csv = bytes_of(scratch.path() / "s" / "claims-uncertainty.csv");
  CHECK_THAT(csv, Contains("model share [-]"));
}

TEST_CASE("--inputs-only is the run with exact laws") {
  const Scratch scratch;
  const fs::path doubted = doubted_box(scratch);
  for (const char* command : {"study", "predict"}) {
    INFO(command);
    const std::string a = std::string(command) + "-a", b = std::string(command) + "-b";
    run_tuft({command, doubted.string(), "--inputs-only", "--samples", "128", "--out", a}, scratch.path());
    run_tuft({command, box(), "--samples", "128", "--out", b}, scratch.path());
    CHECK(uncertainty_of(scratch.path() / a) == uncertainty_of(scratch.path() / b));
  }
  const Outcome check =
      run_tuft({"check", doubted.string(), "--inputs-only", "--samples", "128"}, scratch.path());
  const Outcome exact = run_tuft({"check", box(), "--samples", "128"}, scratch.path());
  CHECK(check.out == exact.out);
  CHECK_THAT(check.out, Contains("taken as exact"));
}

TEST_CASE("a study whose claims hold is good, and takes the claims it is asked for alone") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"study", box(), "--samples", "128", "--claims", "blows", "--out", "s"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(results(scratch.path() / "s")["uncertainty"]["claims"].size() == 1);
  const Outcome wrong = run_tuft({"study", box(), "--claims", "blow", "--out", "t"}, scratch.path());
  CHECK(wrong.status == 3);
  CHECK_THAT(wrong.err, Contains("blow") && Contains("did you mean 'blows'?"));
  CHECK(scratch.entries() == 1);
}

TEST_CASE("where more is uncertain than can be sampled, predict says so") {
  const Scratch scratch;
  std::string supports = "supports: {air: {kind: air, tilt: level}";
  for (int i = 0; i < 90; ++i) supports += ", bed-" + std::to_string(i) + ": soft";
  std::string text = bytes_of(box());
  const std::string before = "supports: {air: {kind: air, tilt: level}";
  text.replace(text.find(before), before.size(), supports);
  std::ofstream(scratch.path() / "many.yaml", std::ios::binary) << text;
  const Outcome run = run_tuft({"predict", "many.yaml", "--no-files"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("There are no probabilities: ") && Contains("and no more than 481"));
  CHECK(run.out.find("asked for") == std::string::npos);
}

TEST_CASE("study names the other stable states of a condition, as check does") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"study", case_path("two-states.yaml"), "--samples", "64", "--out", "s"}, scratch.path());
  INFO(run.out << run.err);
  CHECK_THAT(run.out,
             Contains("! shaft-on: 2 steady states exist here") && Contains("below is intake instead"));
}

TEST_CASE("learn writes a case that reads back and is surer of what was measured") {
  const Scratch scratch;
  const fs::path seen = observations(scratch,
                                     "  - {in: use, fan: main, reads: 4000 rpm}\n"
                                     "  - {ruler: vents.grille.cover.open, reads: 45 %}\n"
                                     "  - {ruler: vents.comb.cover.open, reads: 30 %}\n");
  const Outcome run = run_tuft({"learn", box(), seen.string()}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Contains("vents.grille.cover.open") && Contains("Results: box-learned (2 files)"));
  CHECK(scratch.entries() == 2);
  const fs::path folder = scratch.path() / "box-learned";
  const Json learned = results(folder)["learned"];
  CHECK(learned["thin"] == false);
  const double before = entry(learned["before"], "leads")["probability"];
  const double after = entry(learned["after"], "leads")["probability"];
  CHECK(before < 0.9);
  CHECK(after > 0.99);
  // Comments stay, and a check of the learned case says what the learning said.
  const fs::path path = folder / "learned.yaml";
  CHECK_THAT(bytes_of(path), Contains("# the big one") && Contains("# Learned by tuft from seen.yaml"));
  const Outcome again = run_tuft({"check", path.string(), "--samples", "1024"}, scratch.path());
  INFO(again.out << again.err);
  CHECK(again.status == 0);
  CHECK_THAT(again.out, Contains("holds      leads"));
}

TEST_CASE("readings that contradict the description are told as that, and no learned case is written") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "seen.yaml") << "tuft-observations: 1\nobservations:\n"
                                                 "  - {in: use, anemometer: grille, reads: 1.9 m/s}\n"
                                                 "  - {in: use, anemometer: comb, reads: 0.6 m/s}\n"
                                                 "  - {in: use, fan: main, reads: 4000 rpm}\n";

  const Outcome run =
      run_tuft({"learn", box(), "seen.yaml", "--samples", "512", "--out", "l"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 2);
  CHECK_THAT(run.out, Contains("The readings contradict the description"));
  CHECK_THAT(run.out,
             Contains("\"anemometer at grille in use: 1.9 m/s\"") && Contains("nine in ten between"));
  CHECK_THAT(run.out, Contains("No learned case is written"));
  CHECK(run.out.find("after") == std::string::npos);
  CHECK_FALSE(fs::exists(scratch.path() / "l/learned.yaml"));
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "l/results.json"));
  CHECK(json["learned"]["reliable"] == false);
  CHECK(json["learned"]["contradictions"].size() >= 2);
  CHECK(json["learned"]["contradictions"][0]["against"].is_null());
  const Outcome force =
      run_tuft({"learn", box(), "seen.yaml", "--samples", "512", "--out", "l", "--force"}, scratch.path());
  CHECK(force.status == 2);
  CHECK(fs::exists(scratch.path() / "l/learned.yaml"));
}

TEST_CASE("inputs are told in the units of the file, and the help names the tools") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "seen.yaml")
      << "tuft-observations: 1\nobservations:\n  - {ruler: vents.grille.cover.open, reads: 30 %}\n"
         "  - {in: use, fan: main, reads: 4100 rpm}\n";
  const Outcome run =
      run_tuft({"learn", box(), "seen.yaml", "--samples", "512", "--out", "l"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.out.find("SI units") == std::string::npos);
  const auto row = [&](const std::string& key) {
    const std::size_t at = run.out.find(key);
    return run.out.substr(at, run.out.find('\n', at) - at);
  };
  CHECK_THAT(row("vents.grille.cover.open"), Contains("to 59.1 %"));
  CHECK_THAT(row("fans.main.speed"), Contains("rpm"));
  const Outcome help = run_tuft({"learn", "--help"}, scratch.path());
  CHECK_THAT(help.out, Contains("tissue-60") && Contains("hot-wire"));
}

TEST_CASE("values that a reading ties together are tied in the learned case") {
  const Scratch scratch;
  // What leaves depends on the fan's speed and on both openings: one reading tells none of them alone.
  const fs::path seen =
      observations(scratch, "  - {in: use, anemometer: outlet, reads: 4.4 m/s, error: 0.05 m/s}\n");
  const Outcome run = run_tuft({"learn", box(), seen.string()}, scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out, Contains("Correlated now: fans.main.speed with vents.") && Contains("(-0."));
  const Json correlations = results(scratch.path() / "box-learned")["learned"]["correlations"];
  REQUIRE(!correlations.empty());
  CHECK(correlations[0]["correlation"].get<double>() < -0.5);
  const fs::path learned = scratch.path() / "box-learned/learned.yaml";
  CHECK_THAT(bytes_of(learned), Contains("\ncorrelations:\n  - {inputs: [fans.main.speed, vents."));
  CHECK(run_tuft({"lint", learned.string()}, scratch.path()).status == 0);
}

namespace {

// The box with other text in one place.
fs::path box_with(const Scratch& scratch, const std::string& from, const std::string& to, bool exact_laws) {
  std::string text = bytes_of(exact_laws ? fs::path(box()) : doubted_box(scratch));
  text.replace(text.find(from), from.size(), to);
  const fs::path path = scratch.path() / "case.yaml";
  std::ofstream(path, std::ios::binary) << text;
  return path;
}

// Learns from `lines`, and looks whether the learned case gives every claim what learning says of it.
void check_learned_case(const Scratch& scratch, const fs::path& content, const std::string& lines) {
  const fs::path seen = observations(scratch, lines);
  const Outcome run = run_tuft({"learn", content.string(), seen.string(), "--out", "l"}, scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out, Contains("Solved anew, the learned case gives the claims these probabilities."));
  const fs::path learned = scratch.path() / "l/learned.yaml";
  const Outcome again =
      run_tuft({"study", learned.string(), "--no-field", "--samples", "8192", "--out", "s"}, scratch.path());
  INFO(again.out << again.err);
  REQUIRE(again.status <= 2);
  const Json after = results(scratch.path() / "l")["learned"]["after"];
  const Json claims = uncertainty_of(scratch.path() / "s")["claims"];
  for (const Json& claim : after) {
    const Json& found = entry(claims, claim["id"]);
    INFO(claim["id"] << ": learned " << claim["probability"] << ", found " << found["probability"]);
    // Both state an interval of 99 %.
    CHECK(found["probability_interval"][1] >= claim["probability_interval"][0]);
    CHECK(found["probability_interval"][0] <= claim["probability_interval"][1]);
  }
}

}  // namespace

TEST_CASE("a check of the learned case says what learning said, for every form of spread") {
  for (const char* open :
       {"35 % ± 15 %", "20..60 %", "20..30..60 %", "35 % */ 1.7", "20..25..30..40..60 %"}) {
    INFO(open);
    const Scratch scratch;
    const fs::path content = box_with(scratch, "kind: perforated, open: 20..60 %",
                                      std::string("kind: perforated, open: ") + open, true);
    check_learned_case(scratch, content, "  - {in: use, anemometer: grille, reads: 0.27 m/s}\n");
  }
}

TEST_CASE(
    "a check of the learned case says what learning said, where a strip tells a little of many values") {
  const Scratch scratch;
  const fs::path content =
      box_with(scratch, "draught: still", "draught: {speed: 0..0.2 m/s, from: 0..360 deg}", false);
  check_learned_case(scratch, content,
                     "  - {in: use, strip: comb, leans: in}\n"
                     "  - {in: use, anemometer: grille, reads: 0.3 m/s, error: 0.1 m/s}\n");
}

TEST_CASE("observations of what isn't there are named with their place, and nothing is written") {
  const Scratch scratch;
  const fs::path seen = observations(scratch,
                                     "  - {in: usee, anemometer: grile, reads: 0.6 m/s}\n"
                                     "  - {in: use, fan: mian, reads: 4000 rpm}\n"
                                     "  - {in: use, strip: comb, leans: in, with: tisue-60}\n"
                                     "  - {in: use, anemometr: comb, reads: 1 m/s}\n");
  const Outcome run = run_tuft({"learn", box(), seen.string()}, scratch.path());
  INFO(run.err);
  CHECK(run.status == 3);
  CHECK(run.out.empty());
  CHECK_THAT(run.err, Contains("seen.yaml:3:10: error: observations[0].in: 'usee' is not a condition") &&
                          Contains("did you mean 'use'?"));
  CHECK_THAT(run.err, Contains("seen.yaml:3:28: error: observations[0].anemometer: 'grile' is not a vent") &&
                          Contains("did you mean 'grille'?"));
  CHECK_THAT(run.err, Contains("seen.yaml:4:20: error: observations[1].fan: 'mian' is not a fan") &&
                          Contains("did you mean 'main'?"));
  CHECK_THAT(run.err, Contains("seen.yaml:5:45: error: observations[2].with: 'tisue-60' is not a strip") &&
                          Contains("did you mean 'tissue-60'?"));
  CHECK_THAT(run.err, Contains("seen.yaml:6:") && Contains("did you mean 'anemometer'?"));
  const Outcome missing = run_tuft({"learn", box(), "missing.yaml"}, scratch.path());
  CHECK(missing.status == 3);
  CHECK_THAT(missing.err, Contains("missing.yaml") && Contains("can't be opened"));
  CHECK(scratch.entries() == 1);
}

TEST_CASE("a spot behind glass or of bare metal can't have been read, and is told why") {
  const Scratch scratch;
  const fs::path seen = observations(scratch,
                                     "  - {in: use, spot: 3, reads: 38 °C}\n"
                                     "  - {in: use, spot: 4, reads: 38 °C}\n");
  const std::string notebook = std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml";
  const Outcome run = run_tuft({"learn", notebook, seen.string()}, scratch.path());
  INFO(run.err);
  CHECK(run.status == 3);
  CHECK_THAT(run.err, Contains("seen.yaml:3: error: 'spot 3 in use: 38 °C' can't have been read") &&
                          Contains("a shiny face mirrors the room"));
  CHECK_THAT(run.err, Contains("seen.yaml:4: error: 'spot 4 in use") && Contains("glass is opaque"));
  CHECK(scratch.entries() == 1);
}

TEST_CASE("a folder that is somebody else's is left alone") {
  const Scratch scratch;
  fs::create_directory(scratch.path() / "mine");
  std::ofstream(scratch.path() / "mine/thesis.txt") << "years of work";
  const fs::path seen = observations(scratch, "  - {in: use, fan: main, reads: 4000 rpm}\n");
  const Outcome study = run_tuft({"study", box(), "--samples", "32", "--out", "mine"}, scratch.path());
  CHECK(study.status == 5);
  const Outcome learn =
      run_tuft({"learn", box(), seen.string(), "--samples", "32", "--out", "mine"}, scratch.path());
  CHECK(learn.status == 5);
  CHECK(bytes_of(scratch.path() / "mine/thesis.txt") == "years of work");
  CHECK(scratch.entries() == 2);
}

TEST_CASE("what network and field differ by widens what a claim depends on") {
  const Scratch scratch;
  const Outcome field = run_tuft({"field", box(), "--cells", "10 mm", "--out", "box-field"}, scratch.path());
  INFO(field.out << field.err);
  REQUIRE(field.status == 0);
  // A field further off: the same folder with one difference made larger.
  Json json = results(scratch.path() / "box-field");
  const fs::path far = scratch.path() / "far";
  fs::create_directory(far);
  for (auto& row : json["field"]["network_and_field"]["vents"])
    if (row["vent"] == "grille")
      row["field"]["inflow_kg_s"] = 0.4 * row["network"]["inflow_kg_s"].get<double>();
  std::ofstream(far / "results.json") << json;
  const auto uncertainty_with = [&](const std::vector<std::string>& more, const std::string& out) {
    std::vector<std::string> words = {"study", box(), "--samples", "512", "--out", out};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome run = run_tuft(words, scratch.path());
    INFO(run.out << run.err);
    REQUIRE(run.status == 2);
    return results(scratch.path() / out)["uncertainty"];
  };
  const Json without = uncertainty_with({"--no-field"}, "without");
  const Json wide = uncertainty_with({"--field", "far"}, "wide");
  CHECK(without["model"] == "");
  CHECK(wide["inputs"].size() == without["inputs"].size() + 1);
  CHECK_THAT(wide["model"].get<std::string>(), Contains("gross flows differ by up to"));
  // Less goes in at the grille than the network says, so that it leads in fewer samples, by the weight too.
  const auto& leads = entry(wide["claims"], "leads");
  CHECK(leads["probability"] < entry(without["claims"], "leads")["probability"]);
  CHECK(leads["sensitivity"].dump().find("model.field.use") != std::string::npos);
}

TEST_CASE("a folder that holds no field is refused") {
  const Scratch scratch;
  for (const char* command : {"study", "check"}) {
    const Outcome none = run_tuft({command, box(), "--field", "nowhere"}, scratch.path());
    CHECK(none.status == 3);
    CHECK_THAT(none.err, Contains("nowhere/results.json: can't be opened") && Contains("tuft field"));
    CHECK(scratch.entries() == 0);
  }
  REQUIRE(run_tuft({"study", box(), "--samples", "32", "--out", "s"}, scratch.path()).status == 2);
  const Outcome other = run_tuft({"check", box(), "--field", "s"}, scratch.path());
  CHECK(other.status == 3);
  CHECK_THAT(other.err, Contains("s/results.json: has no whole field.network_and_field"));
}

TEST_CASE("one thread or two, and three processes: the same bytes") {
  const Scratch scratch;
  const auto study = [&](const std::string& out, const std::string& threads) {
    const Outcome run = run_tuft({"study", box(), "--samples", "256", "--out", out}, scratch.path(),
                                 {{"OMP_NUM_THREADS", threads}});
    INFO(run.out << run.err);
    REQUIRE(run.status == 2);
  };
  study("one", "1");
  study("two", "2");
  same_bytes(scratch.path() / "one", scratch.path() / "two");
#ifdef TUFT_LAUNCHER
  // The launcher passes on that a claim is undecided, and says more about it than anyone needs.
  const std::string said = (scratch.path() / "said").string();
  const std::string command = "cd '" + scratch.path().string() +
                              "' && OMP_NUM_THREADS=1 " TUFT_LAUNCHER
                              " --allow-run-as-root --oversubscribe -n 3 '" TUFT_BINARY_DIR
                              "/bin/tuft' study '" +
                              box() + "' --samples 256 --out three > '" + said + "' 2>&1";
  CHECK(std::system(command.c_str()) != 0);
  INFO(bytes_of(said));
  REQUIRE(fs::exists(scratch.path() / "three"));
  same_bytes(scratch.path() / "one", scratch.path() / "three");
  // One process speaks.
  const std::string text = bytes_of(said);
  CHECK(text.find("Results: three") == text.rfind("Results: three"));
#endif
}
