// tuft warmup as a person at a terminal meets it.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

std::string twin_pipe() { return std::string(TUFT_SOURCE_DIR) + "/tests/casefile/heat.yaml"; }

}  // namespace

TEST_CASE("warmup says how long to soak and writes its folder whole") {
  const Scratch scratch;
  const Outcome run = run_tuft({"warmup", twin_pipe(), "--condition", "use", "--out", "w"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out,
             Contains("Soak ") && Contains("processor") && Contains("palm-rest") && Contains("Energy: "));
  CHECK_THAT(run.out, Contains("no safety assessment"));
  const std::string csv = bytes_of(scratch.path() / "w/warmup.csv");
  CHECK_THAT(csv, Contains("time [s],") && Contains("temperature processor [K]") &&
                      Contains("gross in grille [kg/s]") && Contains("speed left [rev/s]"));
  CHECK_THAT(bytes_of(scratch.path() / "w/warmup.svg"), Contains("<svg"));
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "w/results.json"));
  CHECK(json["files"] == nlohmann::json({"results.json", "warmup.csv", "warmup.svg"}));
  const auto& result = json["warmup"];
  CHECK(result["steady"] == true);
  CHECK(result["soak_s"].get<double>() > 60.0);
  // Within what the heat capacities may be: both ends are other transients.
  CHECK(result["soak_low_s"].get<double>() < 0.99 * result["soak_s"].get<double>());
  CHECK(result["soak_high_s"].get<double>() > 1.01 * result["soak_s"].get<double>());
  CHECK_THAT(run.out, Contains("as the heat capacities may be"));
  CHECK(result["energy"]["imbalance"].get<double>() < 1e-9);
  CHECK(result["difference_from_solve_K"].get<double>() < 1e-3);

  // Again into the same place: the same bytes.
  REQUIRE(run_tuft({"warmup", twin_pipe(), "--condition", "use", "--out", "w"}, scratch.path()).status == 0);
  CHECK(bytes_of(scratch.path() / "w/warmup.csv") == csv);
  CHECK(scratch.entries() == 1);
}

TEST_CASE("warmup follows what is to happen") {
  const Scratch scratch;
  const Outcome run = run_tuft({"warmup", twin_pipe(), "--from", "steady:use", "--fan-fails", "left@10min",
                                "--power-off", "1h", "--until", "5h", "--no-files"},
                               scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out,
             Contains("10 min 0 s") && Contains("fan left fails") && Contains("power off, fans stopped"));
  CHECK(run.out.find("fan left fails") < run.out.find("power off"));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("warmup of a case in which nothing stores heat names no time to soak") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "air.yaml") << R"(tuft: 1
device: {name: Air alone, size: [200 mm, 150 mm, 30 mm], feet: 3 mm}
vents:
  below: {face: base, centre: [100 mm, 75 mm], size: [60 mm, 40 mm], cover: open}
  above: {face: top, centre: [100 mm, 75 mm], size: [60 mm, 40 mm], cover: open}
sources: {chip: {}}
loads: {on: {power: {chip: 5 W}}}
)";
  const Outcome run = run_tuft({"warmup", "air.yaml", "--out", "w"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("The soak time is not known") && !Contains("Soak "));
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "w/results.json"));
  CHECK(json["warmup"]["soak_s"].is_null());
}

TEST_CASE("a sink of 44 fins under 150 W soaks by the volume of its metal") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "console.yaml") << R"(tuft: 1
device: {name: Console, size: [300 mm, 260 mm, 90 mm], feet: 5 mm}
vents:
  in: {face: left, centre: [130 mm, 45 mm], size: [120 mm, 50 mm], cover: perforated}
  out: {face: rear, centre: [150 mm, 45 mm], size: [110 mm, 50 mm], cover: slots, behind: sink}
fins: {sink: {channels: 44, gap: 2 mm, fin-thickness: 0.5 mm, height: 45 mm, length: 90 mm,
              conductivity: 200 W/(m K)}}
fans: {main: {kind: blower, diameter: 110 mm, thickness: 30 mm, speed: 2600 rpm, draws-from: inside, blows-into: sink}}
sources: {processor: {joins: {sink: 0.15 K/W}}}
loads: {play: {power: {processor: 150 W}, fans: {main: full}}}
)";
  const Outcome run = run_tuft({"warmup", "console.yaml", "--out", "w"}, scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  const auto result = nlohmann::json::parse(bytes_of(scratch.path() / "w/results.json"))["warmup"];
  // 44 x 90 mm x (0.5 mm x 45 mm + 2.5 mm x 1.5 mm) of aluminium at 2.44 J/(cm3 K). Its rise above the room
  // falls short of its end by one exponential, C times the rise by the power, until 1 K is left.
  const double capacity = 44 * 0.09 * (0.5e-3 * 0.045 + 2.5e-3 * 1.5e-3) * 2.44e6;
  double rise = 0.0;
  for (const auto& part : result["parts"])
    if (part["what"] == "fins") rise = part["end_K"].get<double>() - part["start_K"].get<double>();
  REQUIRE(rise > 2.0);
  const double soak = capacity * rise / 150.0 * std::log(rise / 1.0);
  CHECK(result["soak_s"].get<double>() == Approx(soak).epsilon(0.2));
  CHECK(result["soak_s"].get<double>() > 60.0);
}

TEST_CASE("a case whose heat capacities are all assumed names no time to soak, and says what to add") {
  const Scratch scratch;
  const auto with = [&](const std::string& more) {
    std::ofstream(scratch.path() / "guess.yaml") << R"(tuft: 1
device: {name: Guess, size: [200 mm, 150 mm, 30 mm], feet: 3 mm}
vents:
  below: {face: base, centre: [100 mm, 75 mm], size: [60 mm, 40 mm], cover: open}
  above: {face: top, centre: [100 mm, 75 mm], size: [60 mm, 40 mm], cover: open}
sources: {chip: {joins: {inside: 5 K/W})" << more << R"(}}
loads: {on: {power: {chip: 5 W}}}
)";
    const Outcome run = run_tuft({"warmup", "guess.yaml", "--out", "w"}, scratch.path());
    INFO(run.out << run.err);
    CHECK(run.status == 0);
    return run.out;
  };
  CHECK_THAT(with(""),
             Contains("The soak time is not known") && Contains("write `capacity`") && !Contains("Soak "));
  CHECK(nlohmann::json::parse(bytes_of(scratch.path() / "w/results.json"))["warmup"]["soak_s"].is_null());
  CHECK_THAT(with(", capacity: 12 J/K"), Contains("Soak "));
}

TEST_CASE("warmup that ends too early says so") {
  const Scratch scratch;
  const Outcome run = run_tuft({"warmup", twin_pipe(), "--until", "60 s", "--no-files"}, scratch.path());
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("Not steady") && Contains("--until"));
}

TEST_CASE("what warmup cannot take is bad input, said plainly") {
  const Scratch scratch;
  const auto refused = [&](std::vector<std::string> words, const std::string& message) {
    words.insert(words.begin(), {"warmup", twin_pipe()});
    const Outcome run = run_tuft(words, scratch.path());
    INFO(run.err);
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains(message));
    CHECK(run.out.empty());
  };
  refused({"--fan-fails", "lefd@3"}, "did you mean 'left'?");
  refused({"--fan-fails", "left"}, "must be NAME@TIME");
  refused({"--fan-fails", "left@soon"}, "--fan-fails");
  refused({"--load", "stres@5"}, "did you mean 'stress'?");
  refused({"--from", "warm"}, "must be cold, or steady:");
  refused({"--from", "steady:us"}, "no condition 'us'");
  refused({"--condition", "ues"}, "no condition 'ues'");
  refused({"--band", "0"}, "--band");
  refused({"--until", "0"}, "--until");
  refused({"--until", "-5 s"}, "--until");
  refused({"--power-off", "9h"}, "set a later --until");
  refused({"--band", "3 W"}, "--band");
  CHECK(scratch.entries() == 0);
}

TEST_CASE("a place warmup cannot write to is told, with nothing left") {
  const Scratch scratch;
  const Outcome run = run_tuft({"warmup", twin_pipe(), "--out", "missing/out"}, scratch.path());
  CHECK(run.status == 5);
  CHECK_FALSE(run.err.empty());
  CHECK(scratch.entries() == 0);
}
