// tuft bench as a person at a terminal meets it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "geometry/casefile/case_file.hpp"
#include "solver/experiment/bench_report.hpp"
#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tools/io/bench.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;

namespace {

std::string notebook() { return std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml"; }

}  // namespace

TEST_CASE("bench says first whether it would mislead, then how to set up, and writes its folder whole") {
  const Scratch scratch;
  const Outcome run = run_tuft(
      {"bench", notebook(), "--condition", "bench", "--against", "use-idle", "--out", "b"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  const std::size_t answer = run.out.find("MISLEAD"), setup = run.out.find("A set-up that shows it");
  REQUIRE(answer != std::string::npos);
  REQUIRE(setup != std::string::npos);
  CHECK(answer < setup);
  CHECK(setup < run.out.find("use -> bench"));
  // Breath, the cold run and the infrared refusal, each with numbers.
  CHECK_THAT(run.out, Contains("breath (up to ") && Contains("buoyancy is the cause, not the fans") &&
                          Contains("forced to full speed, is another") && Contains("refused"));
  CHECK_THAT(run.out, Contains("Infrared shows surfaces, never the air"));
  CHECK_THAT(run.out, Contains("Caution: no safety assessment."));
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "b/results.json"));
  CHECK(json["files"] ==
        nlohmann::json({"results.json", "bench.csv", "strips.csv", "bench.svg", "bench.png"}));
  const auto& section = json["bench"];
  CHECK(section["bench"]["condition"] == "bench");
  CHECK(section["vents"].size() == 5);
  CHECK(section["setup"]["vents"].size() == 5);
  CHECK(section["infrared"]["spots"][2]["reading"].contains("refused"));
  CHECK_THAT(bytes_of(scratch.path() / "b/bench.svg"),
             Contains("data-panel=\"use\"") && Contains("data-panel=\"bench\"") && Contains("data-strip"));
  CHECK(bytes_of(scratch.path() / "b/bench.png").substr(1, 3) == "PNG");
  const std::string csv = bytes_of(scratch.path() / "b/bench.csv");
  CHECK_THAT(csv, Contains("buoyancy head, bench [Pa]") && Contains("\r\n"));

  // Again, on one thread: the same bytes.
  REQUIRE(run_tuft(
              {"bench", notebook(), "--condition", "bench", "--against", "use-idle", "--out", "b", "--quiet"},
              scratch.path(), {{"OMP_NUM_THREADS", "1"}})
              .status == 0);
  CHECK(nlohmann::json::parse(bytes_of(scratch.path() / "b/results.json")) == json);
  CHECK(bytes_of(scratch.path() / "b/bench.csv") == csv);
  CHECK(scratch.entries() == 1);
}

TEST_CASE("bench takes a pose, a load and a support in place of a condition") {
  const Scratch scratch;
  const Outcome run = run_tuft(
      {"bench", notebook(), "--pose", "on-left-edge", "--load", "cold", "--support", "air", "--no-files"},
      scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("on-left-edge"));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("what bench cannot take is bad input, said plainly with the nearest word") {
  const Scratch scratch;
  const auto refused = [&](std::vector<std::string> words, const std::string& message) {
    words.insert(words.begin(), {"bench", notebook()});
    const Outcome run = run_tuft(words, scratch.path());
    INFO(run.err);
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains(message));
    CHECK(run.out.empty());
  };
  refused({"--pose", "on-rigt-edge"}, "did you mean 'on-right-edge'?");
  refused({"--load", "idel"}, "did you mean 'idle'?");
  refused({"--support", "tabel"}, "did you mean 'table'?");
  refused({"--against", "us"}, "no condition 'us'");
  refused({"--condition", "bnech"}, "did you mean 'bench'?");
  refused({"--claim", "grille-drawz"}, "did you mean 'grille-draws'?");
  refused({"--condition", "bench", "--pose", "flat"}, "leave out --pose");
  refused({"--condition", "use"}, "are the same");
  refused({"--section", "q=3mm"}, "--section: 'q=3mm' must be an axis and a place on it");
  refused({"--section", "x=9m"}, "misses the device");
  CHECK(scratch.entries() == 0);
}

TEST_CASE("what was read off a section stands beside the laws in text, tables and results") {
  const auto read = tuft::casefile::read_case(notebook());
  REQUIRE(read.errors.empty());
  tuft::experiment::Question question;
  question.use = 0;
  question.bench = 1;
  std::optional<tuft::experiment::Unsolved> unsolved;
  tuft::io::BenchRun run;
  run.report = tuft::experiment::judge_bench(read.file.content, question, unsolved);
  REQUIRE_FALSE(unsolved);
  const tuft::io::Look plain;
  CHECK_THAT(tuft::io::bench_text(run, plain), !Contains("section"));
  CHECK(nlohmann::json::parse(tuft::io::bench_json(run, {}))["bench"]["section"].is_null());

  // A section that cuts nothing is said to; one that cuts a vent has its air and its strips.
  run.report.section = tuft::experiment::SectionUsed{{1, 0.123}, "through it", "steady after 7 steps"};
  CHECK_THAT(tuft::io::bench_text(run, plain),
             Contains("The cross-section y = 123 mm cuts no vent that can be reached"));
  auto& views = run.report.vents;
  const auto reached = std::find_if(views.begin(), views.end(), [](const auto& view) {
    return view.air.size() > 2 && view.tell_tales.front().usable;
  });
  REQUIRE(reached != views.end());
  for (const tuft::experiment::AirPoint& law : reached->air)
    reached->air_in_section.push_back({law.distance, 0.4321, 0.5, 0.1, 301.25});
  reached->tell_tales.front().by_section = true;
  reached->tell_tales.front().speed = 0.4567;
  const std::string text = tuft::io::bench_text(run, plain);
  CHECK_THAT(text,
             Contains("in the section y = 123 mm") && Contains("43") && Contains("steady after 7 steps"));
  CHECK_THAT(tuft::io::bench_csv(run),
             Contains("speed outwards 20 mm off, section [m/s]") && Contains(",0.4321,301.25,"));
  CHECK_THAT(tuft::io::tell_tales_csv(run), Contains("0.4567") && Contains("section"));
  const auto section = nlohmann::json::parse(tuft::io::bench_json(run, {}))["bench"];
  CHECK(section["section"]["across"] == "y");
  CHECK(section["section"]["at_m"] == 0.123);
  for (const auto& vent : section["vents"]) {
    const bool is_it = !vent["air_in_section"].empty();
    if (is_it) {
      CHECK(vent["air_in_section"].size() == vent["air"].size());
      CHECK(vent["air_in_section"][0]["outwards_m_s"] == 0.4321);
      CHECK(vent["air"][0]["outwards_m_s"] != 0.4321);
    }
    for (const auto& one : vent["strips"])
      if (!is_it && one["usable"]) CHECK(one["by_section"] == false);
  }
}

TEST_CASE("bench --section solves a slice through the bench condition and reads the air off it") {
  const Scratch scratch;
  const Outcome run = run_tuft(
      {"bench", notebook(), "--condition", "bench", "--against", "use-idle", "--section", "--out", "b"},
      scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out, Contains("in the section ") && Contains("lean as the cross-section"));
  const auto section = nlohmann::json::parse(bytes_of(scratch.path() / "b/results.json"))["bench"];
  REQUIRE(section["section"].is_object());
  // Where it blows hardest the two agree on the sign, and in size as a plane flow does with a short vent's:
  // within a factor of 2 at 20 mm.
  int cut = 0;
  for (const auto& vent : section["vents"]) {
    for (const auto& read : vent["air_in_section"]) {
      ++cut;
      for (const auto& law : vent["air"]) {
        const double by_law = law["outwards_m_s"], in_section = read["outwards_m_s"];
        if (law["distance_m"] != read["distance_m"] || read["distance_m"] != 0.02 || std::abs(by_law) < 0.03)
          continue;
        INFO(vent["vent"] << " " << by_law << " " << in_section);
        CHECK(in_section / by_law > 0.5);
        CHECK(in_section / by_law < 2.0);
      }
    }
  }
  CHECK(cut > 0);
}
