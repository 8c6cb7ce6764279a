// tuft draw as a person at a terminal meets it; what the page does is in tests/page/draw_test.mjs.
#include <catch2/catch.hpp>
#include <fstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

bool has_engine() { return fs::exists(fs::path(TUFT_BINARY_DIR) / "share/tuft/drawing-engine.wasm"); }

}  // namespace

TEST_CASE("draw writes a page that asks the network for nothing, and leaves other files alone") {
  const Scratch scratch;
  const Outcome made = run_tuft({"draw", case_path("chassis.yaml"), "--out", "p.html"}, scratch.path());
  if (!has_engine()) {
    CHECK(made.status == 5);
    CHECK_THAT(made.err, Contains("drawing-engine.wasm") && Contains("To get it: "));
    return;
  }
  INFO(made.err);
  REQUIRE(made.status == 0);
  const std::string page = bytes_of(scratch.path() / "p.html");
  CHECK_THAT(page, Contains("connect-src 'none'") && Contains("default-src 'none'"));
  CHECK_THAT(page, Contains("\"save\":null") && Contains("\"name\":\"chassis.yaml\""));
  REQUIRE(run_tuft({"draw", case_path("chassis.yaml"), "--out", "q.html"}, scratch.path()).status == 0);
  CHECK(page == bytes_of(scratch.path() / "q.html"));
  std::ofstream(scratch.path() / "mine.html") << "mine";
  CHECK(run_tuft({"draw", case_path("chassis.yaml"), "--out", "mine.html"}, scratch.path()).status == 5);
  CHECK(bytes_of(scratch.path() / "mine.html") == "mine");
}

TEST_CASE("draw begins a case that is not there, and refuses what is no case") {
  const Scratch scratch;
  if (has_engine()) {
    REQUIRE(run_tuft({"draw", "It's new.yaml", "--out", "p.html"}, scratch.path()).status == 0);
    CHECK_THAT(bytes_of(scratch.path() / "p.html"), Contains(R"(name: \"It's new\", size: [300 mm)"));
    CHECK_FALSE(fs::exists(scratch.path() / "It's new.yaml"));
  }
  CHECK(run_tuft({"draw", ".", "--out", "q.html"}, scratch.path()).status == 3);
  const Outcome port = run_tuft({"draw", case_path("chassis.yaml"), "--port", "70000"}, scratch.path());
  CHECK(port.status == 3);
  CHECK_THAT(port.err, Contains("0 to 65535"));
}
