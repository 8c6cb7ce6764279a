// tuft report and tuft figure as a person at a terminal meets them.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

void write(const fs::path& path, const std::string& text) { std::ofstream(path) << text; }

}  // namespace

TEST_CASE("a page from a case is the page from its results, to the byte") {
  const Scratch scratch;
  const Outcome made = run_tuft({"report", case_path("chassis.yaml"), "--no-field"}, scratch.path());
  INFO(made.out << made.err);
  REQUIRE(made.status == 0);
  CHECK(made.out == "Page: chassis.html\n");
  REQUIRE(run_tuft({"predict", case_path("chassis.yaml"), "--quiet", "--out", "r"}, scratch.path()).status ==
          0);
  REQUIRE(run_tuft({"report", "r/results.json", "--out", "again.html"}, scratch.path()).status == 0);
  const std::string page = bytes_of(scratch.path() / "chassis.html");
  CHECK(page == bytes_of(scratch.path() / "again.html"));
  CHECK_THAT(page, Contains("<!doctype html>"));
  CHECK_THAT(page, Contains("holds (with a probability of at least 99 %, true in all samples)"));
  CHECK(page.find("holds (nominal values only)") == std::string::npos);
  CHECK(page.size() < 3000000);
  CHECK(scratch.entries() == 3);
}

TEST_CASE("how sure is the same for any number of threads, and can be left out") {
  const Scratch scratch;
  const auto page = [&](const std::vector<std::string>& more, const char* threads) {
    std::vector<std::string> words = {"report", case_path("open-claim.yaml"), "--out", "p.html"};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome run = run_tuft(words, scratch.path(), {{"OMP_NUM_THREADS", threads}});
    INFO(run.err);
    CHECK(run.status == 0);
    return bytes_of(scratch.path() / "p.html");
  };
  CHECK(page({}, "1") == page({}, "2"));
  CHECK_THAT(page({"--samples", "128"}, "2"), Contains("\"samples\":128"));
  const std::string none = page({"--samples", "0"}, "1");
  CHECK_THAT(none, Contains("nominal values only"));
  CHECK(none.find("\"doubt\":") == std::string::npos);
  REQUIRE(run_tuft({"predict", case_path("open-claim.yaml"), "--quiet", "--samples", "0", "--out", "r"},
                   scratch.path())
              .status == 0);
  REQUIRE(run_tuft({"report", "r/results.json", "--out", "again.html"}, scratch.path()).status == 0);
  CHECK(bytes_of(scratch.path() / "again.html") == none);
  const Outcome refused = run_tuft({"report", "r/results.json", "--samples", "64"}, scratch.path());
  CHECK(refused.status == 3);
  CHECK_THAT(refused.err, Contains("--samples") && Contains("give the case"));
  const Outcome held = run_tuft({"report", "r/results.json", "--no-field"}, scratch.path());
  CHECK(held.status == 3);
  CHECK_THAT(held.err, Contains("--field and --no-field: a results file holds its answers"));
}

TEST_CASE("a page made without its solver says so in one line, and how to get it") {
  const Scratch scratch;
  const fs::path built = fs::path(TUFT_BINARY_DIR) / "bin/tuft", copy = scratch.path() / "bin/tuft";
  fs::create_directory(copy.parent_path());
  fs::copy_file(built, copy);
  const Outcome alone = run_tuft({"report", case_path("chassis.yaml")}, scratch.path(), {}, "", copy);
  CHECK(alone.status == 0);
  CHECK(alone.out == "Page: chassis.html\n");
  CHECK(std::count(alone.err.begin(), alone.err.end(), '\n') == 1);
  CHECK_THAT(alone.err, Contains("steps through angles") &&
                            Contains("share/tuft/page-engine.wasm is not there") &&
                            Contains("tools/run report") && Contains("--target page_engine"));
  const std::string page = bytes_of(scratch.path() / "chassis.html");
  CHECK(page.find("const SOLVER_BYTES") == std::string::npos);
  CHECK_THAT(page, Contains("this page was made without its solver"));

  const fs::path engine = fs::path(TUFT_BINARY_DIR) / "share/tuft/page-engine.wasm";
  if (!fs::exists(engine)) return;  // a build without emscripten
  fs::create_directories(scratch.path() / "share/tuft");
  fs::copy_file(engine, scratch.path() / "share/tuft/page-engine.wasm");
  const Outcome with = run_tuft({"report", case_path("chassis.yaml")}, scratch.path(), {}, "", copy);
  CHECK(with.err == "");
  CHECK_THAT(bytes_of(scratch.path() / "chassis.html"), Contains("const SOLVER_BYTES = 'eN"));
}

TEST_CASE("an earlier page is replaced, any other file is left alone") {
  const Scratch scratch;
  REQUIRE(run_tuft({"report", case_path("chassis.yaml"), "--out", "p.html"}, scratch.path()).status == 0);
  CHECK(run_tuft({"report", case_path("chassis.yaml"), "--out", "p.html"}, scratch.path()).status == 0);
  write(scratch.path() / "mine.html", "<p>mine</p>");
  const Outcome refused =
      run_tuft({"report", case_path("chassis.yaml"), "--out", "mine.html"}, scratch.path());
  CHECK(refused.status == 5);
  CHECK_THAT(refused.err, Contains("mine.html") && Contains("left alone"));
  CHECK(bytes_of(scratch.path() / "mine.html") == "<p>mine</p>");
  CHECK(run_tuft({"report", case_path("chassis.yaml"), "--out", "no/such/p.html"}, scratch.path()).status ==
        5);
  CHECK(scratch.entries() == 2);
}

TEST_CASE("what is no results file is refused and nothing is written") {
  const Scratch scratch;
  write(scratch.path() / "a.json", "{\"format\": \"other\"}");
  write(scratch.path() / "b.json", "{");
  for (const char* file : {"a.json", "b.json", "none.json"}) {
    const Outcome refused = run_tuft({"report", file}, scratch.path());
    INFO(refused.err);
    CHECK(refused.status == 3);
    CHECK_THAT(refused.err, Contains(file));
  }
  CHECK(scratch.entries() == 2);
}

TEST_CASE("results of another case are not mixed in") {
  const Scratch scratch;
  REQUIRE(run_tuft({"warmup", case_path("chassis.yaml"), "--quiet", "--until", "10s", "--out", "c"},
                   scratch.path())
              .status == 0);
  const Outcome made = run_tuft({"report", case_path("chassis.yaml"), "--with", "c"}, scratch.path());
  INFO(made.err);
  CHECK(made.status == 0);
  CHECK_THAT(bytes_of(scratch.path() / "chassis.html"), Contains("\"figures\":[{\"section\":\"warmup\""));
  auto other = nlohmann::json::parse(bytes_of(scratch.path() / "c/results.json"));
  other["case"]["sha256"] = std::string(64, '0');
  write(scratch.path() / "other.json", other.dump());
  const Outcome refused =
      run_tuft({"report", case_path("chassis.yaml"), "--with", "other.json"}, scratch.path());
  CHECK(refused.status == 3);
  CHECK_THAT(refused.err, Contains("of another case file"));
}

TEST_CASE("figures come as SVG and PNG of the size asked for, and frames as numbered files") {
  const Scratch scratch;
  const Outcome made = run_tuft({"figure", case_path("chassis.yaml"), "--what", "plan", "--what", "roles",
                                 "--what", "temperatures", "--size", "640x360", "--out", "f"},
                                scratch.path());
  INFO(made.out << made.err);
  REQUIRE(made.status == 0);
  CHECK(made.out == "Figures: f (6 files)\n");
  for (const char* what : {"plan", "roles", "temperatures"}) {
    const std::string stem = std::string("f/use-") + what;
    CHECK_THAT(bytes_of(scratch.path() / (stem + ".svg")), Contains("width=\"640\" height=\"360\""));
    const std::string png = bytes_of(scratch.path() / (stem + ".png"));
    CHECK(png.substr(1, 3) == "PNG");
    CHECK(png.substr(16, 8) == std::string("\0\0\x02\x80\0\0\x01\x68", 8));
  }
  const auto results = nlohmann::json::parse(bytes_of(scratch.path() / "f/results.json"));
  CHECK(results["files"].size() == 7);
}

TEST_CASE("what cannot be drawn is refused with the nearest word") {
  const Scratch scratch;
  const auto refused = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words = {"figure", case_path("chassis.yaml")};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome run = run_tuft(words, scratch.path());
    CHECK(run.status == 3);
    return run.err;
  };
  CHECK_THAT(refused({"--what", "plann"}), Contains("'plann'") && Contains("plan"));
  CHECK_THAT(refused({"--frames", "sweeps"}), Contains("'sweeps'") && Contains("sweep"));
  CHECK_THAT(refused({"--size", "huge"}), Contains("WIDTHxHEIGHT"));
  CHECK_THAT(refused({"--size", "100x100"}), Contains("320x240"));
  CHECK_THAT(refused({"--condition", "usee"}), Contains("use"));
  CHECK(scratch.entries() == 0);
}
