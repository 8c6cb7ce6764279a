// tuft watch: a save is solved and its changes said, a mistake is told, and the page follows.
#include <catch2/catch.hpp>
#include <fstream>

#include "tests/io/sample.hpp"
#include "tests/page/http.hpp"
#include "tests/program/program.hpp"
#include "tests/program/terminal.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

void write(const fs::path& path, const std::string& text) { std::ofstream(path) << text; }

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

std::uint16_t port_in(const std::string& shown) {
  const std::string before = "http://127.0.0.1:";
  return static_cast<std::uint16_t>(std::stoi(shown.substr(shown.find(before) + before.size())));
}

}  // namespace

TEST_CASE("watch says what a save changed, tells a broken one, and keeps the page up to date") {
  const Scratch scratch;
  REQUIRE(run_tuft({"new", "Box", "--class", "fanless-box"}, scratch.path()).status == 0);
  const fs::path file = scratch.path() / "box.yaml";
  const std::string good = bytes_of(file);
  RunningTuft watch({"watch", "box.yaml"}, scratch.path());
  REQUIRE(watch.shows("Page, only on this machine: http://127.0.0.1:"));
  REQUIRE(watch.shows("Caution"));
  const std::uint16_t port = port_in(watch.shown());
  const std::string host = "127.0.0.1:" + std::to_string(port);
  CHECK_THAT(get(port, "/page", host), Contains("tuft-results") && Contains("lying"));
  // Two pages a save: the answers at once, then with their probabilities.
  CHECK_THAT(get(port, "/state", host), Contains("\r\n\r\n2\n") && !Contains("follow"));
  CHECK_THAT(get(port, "/page", "evil.example"), Contains(" 403 "));

  // More power: warmer, more air.
  write(file, replaced(good, "8.5 W", "17 W"));
  REQUIRE(watch.shows("Changed:"));
  CHECK(watch.shows("processor"));
  CHECK(watch.shows(", was "));
  CHECK_THAT(get(port, "/state", host), Contains("\r\n\r\n4\n"));
  CHECK_THAT(get(port, "/page", host), !Contains("being computed"));

  // A mistake: told with its place; the last results stay on the page, with the mistake above them.
  write(file, replaced(good, "    face: base\n", "    face: bottom\n"));
  REQUIRE(watch.shows("box.yaml:"));
  REQUIRE(watch.shows("the last good results are kept"));
  CHECK_THAT(get(port, "/state", host), Contains("\r\n\r\n4\n") && Contains("bottom"));

  // Replaced the way many editors save.
  write(scratch.path() / "box.new", replaced(good, "base-slots:", "floor-slots:"));
  CHECK(run_tuft({"lint", "box.new"}, scratch.path()).status == 3);  // the claims still name the old one
  std::string renamed = good;
  for (std::size_t at = 0; (at = renamed.find("base-slots")) != std::string::npos;)
    renamed.replace(at, 4, "floor");
  write(scratch.path() / "box.new", renamed);
  fs::rename(scratch.path() / "box.new", file);
  REQUIRE(watch.shows("The case is valid again."));
  CHECK(watch.shows("floor-slots is new"));
  CHECK(watch.shows("base-slots is gone"));
  CHECK_THAT(get(port, "/page", host), Contains("floor-slots"));

  fs::remove(file);
  REQUIRE(watch.shows("is gone; waiting"));
  write(file, good);
  REQUIRE(watch.shows("Changed:"));
  CHECK(watch.interrupt() == 0);
  CHECK_THAT(watch.shown(), Contains("Ended."));
  CHECK(get(port, "/page", host) == "");
}

TEST_CASE("watch without a page, and of a file that is not there") {
  const Scratch scratch;
  CHECK(run_tuft({"watch", "none.yaml"}, scratch.path()).status == 3);
  write(scratch.path() / "broken.yaml", "tuft: 1\n");
  RunningTuft watch({"watch", "broken.yaml", "--no-page"}, scratch.path());
  REQUIRE(watch.shows("Not solved."));
  CHECK_THAT(watch.shown(), !Contains("http://"));
  CHECK(watch.interrupt() == 0);
}
