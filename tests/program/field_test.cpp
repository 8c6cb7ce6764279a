// tuft field as a person at a terminal meets it.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

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

TEST_CASE("field sets network and field side by side and writes its folder whole") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"field", case_path("chassis.yaml"), "--condition", "use", "--cells", "12mm"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Contains("use: flat, on table, load stress") && Contains("Network and field") &&
                          Contains("Results: chassis-field-use (") && Contains("no safety assessment"));
  CHECK_THAT(run.out, Contains("! Place not given: fans.main and sources.board."));
  CHECK(run.out.find('\x1b') == std::string::npos);
  const fs::path folder = scratch.path() / "chassis-field-use";
  const auto json = nlohmann::json::parse(bytes_of(folder / "results.json"));
  for (const auto& file : json["files"]) CHECK(fs::is_regular_file(folder / file.get<std::string>()));
  CHECK(json["conditions"].size() == 1);
  CHECK(json["sweeps"].empty());
  CHECK(json["field"]["cell_m"] == 0.012);
  CHECK(fs::exists(folder / "network-and-field.csv"));
  CHECK(fs::exists(folder / "figures/inside-temperature.png"));
  CHECK(fs::exists(folder / "vtk/streamlines.vtp"));
  CHECK(scratch.entries() == 1);
}

TEST_CASE("field --refine says what cells half as large change, on the screen and in its results") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"field", case_path("chassis.yaml"), "--condition", "use", "--cells", "20mm", "--refine"},
               scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("On cells half as large (10 mm) the through-flow changes by"));
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "chassis-field-use/results.json"));
  const auto& refined = json["field"]["refined"];
  CHECK(refined["found"] == true);
  CHECK(refined["cell_m"] == 0.01);
  CHECK(refined["vents"].size() == json["field"]["network_and_field"]["vents"].size());
}

// Issue 7 asks for less than 3 MB with everything; a solver that the page brings along must fit in as well.
TEST_CASE("the page of the example with all its maps is far below three megabytes") {
  const Scratch scratch;
  const std::string source = std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml";
  const Outcome solved =
      run_tuft({"field", source, "--cells", "4mm", "--section", "--quiet", "--out", "maps"}, scratch.path());
  INFO(solved.err);
  REQUIRE(solved.status == 0);
  std::size_t maps = 0;
  const auto results = nlohmann::json::parse(bytes_of(scratch.path() / "maps/results.json"));
  for (const auto& file : results["files"]) {
    const std::string name = file.get<std::string>();
    if (name.size() < 4 || name.substr(name.size() - 4) != ".svg") continue;
    ++maps;
    INFO(name);
    CHECK(fs::file_size(scratch.path() / "maps" / name) < 120000);
  }
  CHECK(maps ==
        5);  // inside and the slice by temperature and by speed; in the gap the air is as warm everywhere
  const Outcome page = run_tuft({"report", source, "--with", "maps", "--out", "page.html"}, scratch.path());
  INFO(page.err);
  REQUIRE(page.status == 0);
  CHECK(fs::file_size(scratch.path() / "page.html") < 1500000);
}

TEST_CASE("a cabinet a metre wide says how long its field takes, and keeps to it") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "wide.yaml") << R"(tuft: 1
device: {name: Wide cabinet (invented), size: [1000 mm, 1000 mm, 100 mm], feet: 10 mm}
room: {temperature: 21 °C, altitude: 100 m, humidity: 45 %}
vents:
  low:  {face: left,  centre: [500 mm, 50 mm], size: [600 mm, 60 mm], cover: {kind: slots, open: 50 %, hole: 5 mm, thickness: 2 mm}}
  high: {face: right, centre: [500 mm, 50 mm], size: [600 mm, 60 mm], cover: {kind: slots, open: 50 %, hole: 5 mm, thickness: 2 mm}}
sources: {board: {}}
supports: {foot: {kind: hard, edge-gap: 20 mm}}
loads: {on: {power: {board: 60 W}}}
conditions: {upright: {pose: on-left-edge, support: foot, load: on}}
)";
  const Outcome run =
      run_tuft({"field", "wide.yaml", "--cells", "4mm", "--section", "--no-files"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.err,
             Contains("Cells of 4 mm are some 62500 in each layer: about 20 s of processor time, and up to"));
  CHECK_THAT(run.err, !Contains("longer than was said"));
  CHECK_THAT(run.out, Contains("250 by 250 cells") && Contains("section across"));
  const Outcome fine = run_tuft({"field", "wide.yaml", "--cells", "0.9mm", "--no-files"}, scratch.path());
  CHECK(fine.status == 3);
  CHECK_THAT(fine.err, Contains("'0.9mm' is too fine for this device: 1 mm to 125 mm are allowed"));
  // Seconds need no words.
  const Outcome quick = run_tuft({"field", "wide.yaml", "--cells", "20mm", "--no-files"}, scratch.path());
  CHECK(quick.err.empty());
}

TEST_CASE("a field that averages over layers of warm air backs no verdict") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "tall.yaml") << R"(tuft: 1
device: {name: Tall box, size: [200 mm, 200 mm, 400 mm]}
room: {temperature: 20 degC, draught: still}
vents:
  low:  {face: left, centre: [100 mm, 30 mm], size: [100 mm, 20 mm], cover: open}
  high: {face: right, centre: [100 mm, 370 mm], size: [100 mm, 20 mm], cover: open}
leaks: {}
zones: {inside: {from: [0 mm, 0 mm, 0 mm], to: [200 mm, 200 mm, 400 mm], walls: 0 W/K}}
sources: {board: {from: [50 mm, 50 mm, 20 mm], to: [150 mm, 150 mm, 20 mm]}}
loads: {on: {power: {board: 10 W}}}
conditions: {flat: {pose: flat, support: air, load: on}}
claims: [{id: cool, say: It stays cool, air-of: high, cooler-than: 45 degC, when: flat}]
)";
  const Outcome run = run_tuft({"check", "tall.yaml", "--samples", "64"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status < 3);

  CHECK_THAT(run.out, Contains("as possible: the field averages over a height of 400 mm"));
}

TEST_CASE("memory that is not there is refused before the solve, with the figures") {
  const Scratch scratch;
  const Outcome run = in_shell(
      "ulimit -v 3000000; \"$0\" field " + case_path("chassis.yaml") + " --condition use --cells 0.5mm",
      scratch.path());
  INFO(run.err);
  CHECK(run.status == 4);
  // 300 x 200 mm: 240,000 cells in each of two layers.
  CHECK_THAT(run.err, Contains("cells of 0.5 mm need some 3.7 GB of memory, and 3.1 GB are free; cells of"));
  CHECK(run.out.empty());
  CHECK(scratch.entries() == 0);
}

TEST_CASE("tracer particles come as a loop of frames, made from a field run") {
  const Scratch scratch;
  const Outcome run = run_tuft(
      {"figure", case_path("chassis.yaml"), "--frames", "tracers", "--size", "320x240", "--out", "film"},
      scratch.path());
  INFO(run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out, Contains("96 files"));
  CHECK(fs::exists(scratch.path() / "film/use-tracers/0000.png"));
  CHECK(fs::exists(scratch.path() / "film/use-tracers/0095.png"));
  CHECK(bytes_of(scratch.path() / "film/use-tracers/0000.png") !=
        bytes_of(scratch.path() / "film/use-tracers/0001.png"));
}

TEST_CASE("field tells its steps where it is asked to") {
  const Scratch scratch;
  const Outcome run = run_tuft(
      {"field", case_path("chassis.yaml"), "--cells", "20 mm", "--no-files", "--quiet", "--progress"},
      scratch.path());
  CHECK(run.status == 0);
  CHECK(run.out.empty());
  CHECK_THAT(run.err, Contains("cells 15 x 10, step 1, residual ") && Contains(" s"));
  CHECK(run.err.find('\r') == std::string::npos);
  CHECK(scratch.entries() == 0);
}

TEST_CASE("what field cannot take is bad input, said plainly") {
  const Scratch scratch;
  const auto refused = [&](std::vector<std::string> words, const std::string& message) {
    words.insert(words.begin(), {"field", case_path("chassis.yaml")});
    const Outcome run = run_tuft(words, scratch.path());
    INFO(run.err);
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains(message));
    CHECK(run.out.empty());
    CHECK(scratch.entries() == 0);
  };
  refused({"--condition", "usee"}, "the case has no condition 'usee'; did you mean 'use'?");
  refused({"--cells", "80 mm"}, "'80 mm' is too coarse for this device: 0.25 mm to 25 mm are allowed");
  refused({"--cells", "0.01 mm"}, "'0.01 mm' is too fine for this device: 0.25 mm to 25 mm are allowed");
  refused({"--cells", "2"}, "--cells: ");
  refused({"--cells", "3 s"}, "--cells: ");
  refused({"--cells", "-1 mm"}, "--cells: ");
  refused({"--cells", "0.4 mm", "--refine"}, "--refine: half of 0.4 mm is too fine for this device");
  refused({"--until", "10s", "--refine"}, "a course is followed on one size of cells; leave --refine out");
  refused({"--section", "w=3mm"}, "must be an axis and a place on it, such as x=120mm");
  refused({"--section", "x=400mm"}, "'x=400mm' misses the device: x from 0 to 300 mm is allowed");
  refused({"--section", "x=4"}, "--section: ");
  refused({"--cell", "2 mm"}, "field has no option '--cell'; did you mean '--cells'?");
}

TEST_CASE("field tells before it solves that a folder is not its own") {
  const Scratch scratch;
  fs::create_directory(scratch.path() / "mine");
  std::ofstream(scratch.path() / "mine/thesis.txt") << "years of work";
  const Outcome run =
      run_tuft({"field", case_path("chassis.yaml"), "--cells", "20 mm", "--out", "mine"}, scratch.path());
  CHECK(run.status == 5);
  CHECK_THAT(run.err, Contains("mine exists and is no results folder of tuft; it was left alone"));
  CHECK(bytes_of(scratch.path() / "mine/thesis.txt") == "years of work");
  const Outcome nowhere = run_tuft(
      {"field", case_path("chassis.yaml"), "--cells", "20 mm", "--out", "missing/f"}, scratch.path());
  CHECK(nowhere.status == 5);
  CHECK_THAT(nowhere.err, Contains("there is no folder"));
  CHECK(scratch.entries() == 1);
}

TEST_CASE("a condition without a solution has no field") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"field", case_path("no-solution.yaml"), "--condition", "hot"}, scratch.path());
  CHECK(run.status == 4);
  CHECK_THAT(run.err, Contains("condition 'hot' has no solution"));
  CHECK(scratch.entries() == 0);
}

// In a process of its own, because the signal ends it.
TEST_CASE("an interrupt during the solve ends the program and leaves nothing") {
  const Scratch scratch;
  const Scratch logs;
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const std::string program = std::string(TUFT_BINARY_DIR) + "/bin/tuft";
    const std::string file = case_path("chassis.yaml");
    const std::string log = (logs.path() / "err").string();
    if (chdir(scratch.path().c_str()) != 0 || freopen(log.c_str(), "w", stderr) == nullptr) _exit(120);
    signal(SIGINT, SIG_DFL);
    execl(program.c_str(), program.c_str(), "field", file.c_str(), "--cells", "1.5 mm", "--progress",
          "--quiet", nullptr);
    _exit(122);
  }
  // Its first step shows that it solves.
  const fs::path log = logs.path() / "err";
  const auto solving = [&] { return fs::exists(log) && bytes_of(log).find("step") != std::string::npos; };
  for (int i = 0; i < 3000 && !solving(); ++i) usleep(20000);
  REQUIRE(kill(child, SIGINT) == 0);
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  CHECK(WIFSIGNALED(status));
  CHECK(WTERMSIG(status) == SIGINT);
  CHECK(scratch.entries() == 0);
}
