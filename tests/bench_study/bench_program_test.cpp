// tuft bench as a person at a terminal meets it.
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "tests/output/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;

namespace {

std::string notebook() { return std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml"; }

}  // namespace

TEST_CASE("bench says first whether it would mislead, then how to set up, and writes its folder whole") {
  const Scratch scratch;
  const Outcome run = run_tuft(
      {"bench", notebook(), "--condition", "bench", "--against", "use-idle", "-o", "b"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  const std::size_t answer = run.out.find("MISLEAD"), set_up = run.out.find("A set-up that shows it");
  REQUIRE(answer != std::string::npos);
  REQUIRE(set_up != std::string::npos);
  CHECK(answer < set_up);
  CHECK(set_up < run.out.find("use -> bench"));
  // Breath, the cold run and the infrared refusal, each with numbers.
  CHECK_THAT(run.out, Contains("breath (up to ") && Contains("warm air does it, not the fans") &&
                          Contains("fans forced to full speed, is another condition") && Contains("refused"));
  CHECK_THAT(run.out, Contains("Infrared sees surfaces, never the air"));
  CHECK_THAT(run.out, Contains("never use smoke or liquids"));
  const auto json = nlohmann::json::parse(bytes_of(scratch.path() / "b/results.json"));
  CHECK(json["files"] ==
        nlohmann::json({"results.json", "bench.csv", "tell-tales.csv", "bench.svg", "bench.png"}));
  const auto& section = json["bench"];
  CHECK(section["bench"]["condition"] == "bench");
  CHECK(section["vents"].size() == 5);
  CHECK(section["set_up"]["vents"].size() == 5);
  CHECK(section["infrared"]["spots"][2]["reading"].contains("refused"));
  CHECK_THAT(bytes_of(scratch.path() / "b/bench.svg"),
             Contains("data-panel=\"use\"") && Contains("data-panel=\"bench\"") && Contains("data-strip"));
  CHECK(bytes_of(scratch.path() / "b/bench.png").substr(1, 3) == "PNG");
  const std::string csv = bytes_of(scratch.path() / "b/bench.csv");
  CHECK_THAT(csv, Contains("buoyancy head, bench [Pa]") && Contains("\r\n"));

  // Again, on one thread: the same bytes.
  REQUIRE(
      run_tuft({"bench", notebook(), "--condition", "bench", "--against", "use-idle", "-o", "b", "--quiet"},
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
  CHECK(scratch.entries() == 0);
}
