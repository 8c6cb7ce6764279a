// Results folders and pages as a shell and a file system meet them.
#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

const std::string kCase = case_path("chassis.yaml");

std::size_t files_in(const fs::path& folder) {
  std::size_t count = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) count += entry.is_regular_file() ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("figures drawn one after the other stay beside each other") {
  const Scratch scratch;
  for (const char* what : {"plan", "base", "roles", "temperatures"})
    REQUIRE(run_tuft({"figure", kCase, "--what", what, "--size", "640x360"}, scratch.path()).status == 0);
  CHECK(files_in(scratch.path() / "chassis-figures") == 9);  // four as SVG and PNG, results.json
}

TEST_CASE("a prediction of one condition leaves that of all alone") {
  const Scratch scratch;
  REQUIRE(run_tuft({"predict", kCase, "--quiet"}, scratch.path()).status == 0);
  const std::string before = bytes_of(scratch.path() / "chassis-tuft/results.json");
  REQUIRE(run_tuft({"predict", kCase, "--quiet", "--condition", "use"}, scratch.path()).status == 0);
  CHECK(bytes_of(scratch.path() / "chassis-tuft/results.json") == before);
  CHECK(fs::exists(scratch.path() / "chassis-tuft-use/results.json"));
  const std::vector<std::string> same_place = {"predict", kCase,   "--quiet",     "--condition",
                                               "use",     "--out", "chassis-tuft"};
  const Outcome refused = run_tuft(same_place, scratch.path());
  CHECK(refused.status == 5);
  CHECK_THAT(refused.err, Contains("holds the results of tuft predict") && Contains("--fresh"));
  CHECK(bytes_of(scratch.path() / "chassis-tuft/results.json") == before);
  std::vector<std::string> fresh = same_place;
  fresh.push_back("--fresh");
  CHECK(run_tuft(fresh, scratch.path()).status == 0);
  CHECK(bytes_of(scratch.path() / "chassis-tuft/results.json") != before);
}

// A limit on the size of a file strikes at another file of a run each time, and looks like a full disk to whoever
// writes.
TEST_CASE("a disk that fills up at any file leaves what was there, and nothing else") {
  const Scratch scratch;
  REQUIRE(run_tuft({"predict", kCase, "--quiet", "--samples", "0"}, scratch.path()).status == 0);
  const fs::path results = scratch.path() / "chassis-tuft/results.json";
  const std::string before = bytes_of(results);
  int failed = 0, written = 0;
  for (int blocks = 0; written == 0; blocks += blocks < 24 ? 2 : 48) {
    INFO(blocks << " blocks of 512 bytes");
    REQUIRE(blocks < 4096);
    const Outcome run = in_shell("ulimit -f " + std::to_string(blocks) + "; \"$0\" predict " + kCase +
                                     " --quiet --samples 0",
                                 scratch.path());
    CHECK((run.status == 0 || run.status == 5));
    CHECK(scratch.entries() == 1);
    if (run.status == 0) ++written;
    if (run.status != 5) continue;
    ++failed;
    if (blocks > 4) CHECK_THAT(run.err, Contains("cannot write"));  // the message is in such a file too
    REQUIRE(bytes_of(results) == before);
  }
  CHECK(failed > 8);
}

TEST_CASE("a run that is killed at any moment loses nothing") {
  const Scratch scratch;
  REQUIRE(run_tuft({"predict", kCase, "--quiet", "--samples", "0"}, scratch.path()).status == 0);
  const fs::path results = scratch.path() / "chassis-tuft/results.json";
  const std::string before = bytes_of(results);
  int killed = 0;
  for (int i = 0; i < 100; ++i) {
    const Outcome run = in_shell("timeout -s KILL 0.0" + std::to_string(100 + 7 * i) + " \"$0\" predict " + kCase +
                                     " --quiet --samples 0",
                                 scratch.path());
    killed += run.status == 0 ? 0 : 1;
    REQUIRE(bytes_of(results) == before);
  }
  CHECK(killed > 0);
}

TEST_CASE("a reader who has seen enough does not lose the files") {
  const Scratch scratch;
  const Outcome run = in_shell("\"$0\" predict " + kCase + " --samples 0 | true", scratch.path());
  CHECK(run.status == 0);
  CHECK(fs::exists(scratch.path() / "chassis-tuft/results.json"));
}

TEST_CASE("a page goes to standard output, and never through a link or a device") {
  const Scratch scratch;
  const Outcome page = run_tuft({"report", kCase, "--samples", "0", "--out", "-"}, scratch.path());
  CHECK(page.status == 0);
  CHECK(page.out.rfind("<!doctype html>", 0) == 0);
  CHECK_THAT(page.out, Contains("</html>"));
  CHECK(scratch.entries() == 0);
  fs::create_symlink("/dev/null", scratch.path() / "link.html");
  REQUIRE(mkfifo((scratch.path() / "pipe.html").c_str(), 0600) == 0);
  for (const char* place : {"link.html", "pipe.html", "/dev/null", "/dev/stdout"}) {
    INFO(place);
    const Outcome refused = run_tuft({"report", kCase, "--samples", "0", "--out", place}, scratch.path());
    CHECK(refused.status == 5);
    CHECK_FALSE(refused.err.empty());
  }
  CHECK(fs::is_symlink(scratch.path() / "link.html"));
  CHECK(fs::is_character_file("/dev/null"));
}

TEST_CASE("a pipe in a file's place is refused, not waited for") {
  const Scratch scratch;
  REQUIRE(mkfifo((scratch.path() / "pipe.yaml").c_str(), 0600) == 0);
  REQUIRE(mkfifo((scratch.path() / "pipe.json").c_str(), 0600) == 0);
  for (const char* command : {"predict pipe.yaml", "watch pipe.yaml", "report pipe.json", "report pipe.yaml"}) {
    INFO(command);
    const Outcome run = in_shell(std::string("timeout 20 \"$0\" ") + command, scratch.path());
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains("pipe"));
  }
}

TEST_CASE("a device named like a mark of the page has a page like any other") {
  const Scratch scratch;
  std::string text = bytes_of(kCase);
  const std::string name = "Test chassis (invented)";
  REQUIRE(text.find(name) != std::string::npos);
  text.replace(text.find(name), name.size(), "'A /*script*/ /*data*/ /*drawings*/ <!--answers--> box'");
  write(scratch.path() / "marks.yaml", text);
  const Outcome page = run_tuft({"report", "marks.yaml", "--samples", "0", "--out", "-"}, scratch.path());
  REQUIRE(page.status == 0);
  const std::string start = "<script type=\"application/json\" id=\"data\">";
  const std::size_t from = page.out.find(start) + start.size();
  const std::size_t end = page.out.find("</script>", from);
  const auto data = nlohmann::json::parse(page.out.substr(from, end - from));
  CHECK(data["results"]["device"]["name"] == "A /*script*/ /*data*/ /*drawings*/ <!--answers--> box");
  CHECK_THAT(page.out, Contains("<script>'use strict';"));
}

TEST_CASE("a results file that is not what it says it is gets a sentence") {
  const Scratch scratch;
  REQUIRE(run_tuft({"predict", kCase, "--quiet", "--samples", "0", "--out", "r"}, scratch.path()).status == 0);
  const auto good = nlohmann::ordered_json::parse(bytes_of(scratch.path() / "r/results.json"));
  write(scratch.path() / "deep.json", std::string(100000, '[') + std::string(100000, ']'));
  CHECK_THAT(run_tuft({"report", "deep.json"}, scratch.path()).err, Contains("nested"));
  // Every value of the first two levels replaced by one of another type.
  for (const auto& [key, value] : good.items()) {
    for (const nlohmann::ordered_json& other :
         {nlohmann::ordered_json(7), nlohmann::ordered_json::array({1}), nlohmann::ordered_json::object()}) {
      nlohmann::ordered_json bad = good;
      bad[key] = other;
      write(scratch.path() / "bad.json", bad.dump());
      const Outcome run = run_tuft({"report", "bad.json", "--out", "-"}, scratch.path());
      INFO(key << ": " << other.dump() << "\n" << run.err);
      CHECK((run.status == 0 || run.status == 3));
      CHECK(run.err.find("internal error") == std::string::npos);
    }
  }
}

TEST_CASE("nothing that a file says reaches the terminal as a control character") {
  const Scratch scratch;
  const std::string marks = "\x1b[31m\xc2\x9b\xe2\x80\xae\x07";
  const std::vector<std::string> texts = {
      "tuft: 1\n" + marks + ": 1\n", "tuft: 1\ndevice: {name: a, size: [3 mm, " + marks + "]}\n",
      "tuft: 1\ndevice:\n  name: a\n  " + marks + "size: 3\n", "tuft: 1\n\"\\e[31m\\x9b\\u202e\": 1\n",
      "tuft: 1\ndevice: {name: \"\\e[31m\\u202e\", size: [3 mm, 2 mm]}\nvents: {\"\\e[2J\": {face: \"\\x9b\"}}\n"};
  for (const std::string& text : texts) {
    write(scratch.path() / "bad.yaml", text);
    for (const char* command : {"predict", "lint", "check"}) {
      const Outcome run = run_tuft({command, "bad.yaml"}, scratch.path());
      INFO(run.out << run.err);
      CHECK(run.status == 3);
      for (const std::string& shown : {run.out, run.err}) {
        CHECK(shown.find('\x1b') == std::string::npos);
        CHECK(shown.find('\x07') == std::string::npos);
        CHECK(shown.find("\xc2\x9b") == std::string::npos);
        CHECK(shown.find("\xe2\x80\xae") == std::string::npos);
      }
    }
  }
}
