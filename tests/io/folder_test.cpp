// A results folder appears whole or not at all.
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "geometry/device/lists.hpp"
#include "tests/io/sample.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/run.hpp"

using namespace tuft;
using namespace tuft::io;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

void put(const fs::path& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

std::size_t files_in(const fs::path& folder) {
  std::size_t count = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) count += entry.is_regular_file() ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("a run becomes one folder that lists its files") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  const auto files = write_results(test::sample_run(), place);
  CHECK(scratch.entries() == 1);
  CHECK(files_in(place) == files.size());
  for (const auto& file : files) CHECK(fs::is_regular_file(place / file));
  const auto results = nlohmann::json::parse(test::bytes_of(place / "results.json"));
  CHECK(results["files"].get<std::vector<std::string>>() == files);
  CHECK(fs::exists(place / "vtk/around.pvd"));
  CHECK(fs::exists(place / "vtk/around/0002.flow.vtp"));
}

TEST_CASE("the folder's files do not say where it is") {
  const test::Scratch scratch;
  for (const auto& file : write_results(test::sample_run(), scratch.path() / "out")) {
    INFO(file);
    CHECK(test::bytes_of(scratch.path() / "out" / file).find(scratch.path().string()) == std::string::npos);
  }
}

TEST_CASE("two runs write the same bytes") {
  const test::Scratch scratch;
  const auto files = write_results(test::sample_run(), scratch.path() / "a");
  write_results(test::sample_run(), scratch.path() / "b");
  for (const auto& file : files) {
    INFO(file);
    CHECK(test::bytes_of(scratch.path() / "a" / file) == test::bytes_of(scratch.path() / "b" / file));
  }
}

TEST_CASE("files of an earlier run are kept, unless they are asked to go") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  write_results(test::sample_run(), place);
  const std::string pictured = test::bytes_of(place / "vtk/bench.vtp");
  Run less = test::sample_run();
  less.sweeps.clear();
  less.conditions.pop_back();
  write_results(less, place);
  CHECK(test::bytes_of(place / "vtk/bench.vtp") == pictured);
  CHECK(fs::exists(place / "vtk/around.pvd"));
  const auto results = nlohmann::json::parse(test::bytes_of(place / "results.json"));
  CHECK(geometry::contains(results["earlier_files"].get<std::vector<std::string>>(), "vtk/bench.vtp"));
  CHECK_FALSE(geometry::contains(results["files"].get<std::vector<std::string>>(), "vtk/bench.vtp"));
  // A third run keeps what the first one wrote.
  write_results(less, place);
  CHECK(fs::exists(place / "vtk/bench.vtp"));
  write_results(less, {place, {}, true});
  CHECK_FALSE(fs::exists(place / "vtk/around.pvd"));
  CHECK_FALSE(fs::exists(place / "vtk/bench.vtp"));
  CHECK(fs::exists(place / "vtk/use.vtp"));
  CHECK(scratch.entries() == 1);
}

TEST_CASE("names that lead out of a results folder are not followed") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  write_results(test::sample_run(), place);
  auto results = nlohmann::ordered_json::parse(test::bytes_of(place / "results.json"));
  put(scratch.path() / "mine.txt", "mine");
  for (const std::string& name : {std::string("../mine.txt"), (scratch.path() / "mine.txt").string(),
                                  std::string("vtk/../../../planted.txt"), std::string("../../planted.txt")})
    results["files"].push_back(name);
  put(place / "results.json", results.dump());
  write_results(test::sample_run(), place);
  CHECK(test::bytes_of(place / "results.json").find("mine.txt") == std::string::npos);
  CHECK(test::bytes_of(place / "results.json").find("planted.txt") == std::string::npos);
  CHECK(test::bytes_of(scratch.path() / "mine.txt") == "mine");
  CHECK(scratch.entries() == 2);
}

TEST_CASE("answers that a run does not give again are not replaced") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  const auto write = [&](const Asked& asked, bool fresh = false) {
    write_results(test::sample_run(), {place, asked, fresh});
  };
  write({"predict", {"use", "bench"}, {}});
  CHECK_THROWS_WITH(write({"predict", {"use"}, {}}),
                    Contains("tuft predict for use and bench") && Contains("--fresh") && Contains("--out"));
  CHECK_THROWS_AS(write({"field", {"use", "bench"}, {}}), FolderError);
  write({"predict", {"bench", "use"}, {}});
  write({"predict", {}, {}});  // every condition: more than before
  CHECK_THROWS_AS(write({"predict", {"use", "bench"}, {}}), FolderError);
  write({"field", {"use"}, {"--section"}}, true);
  CHECK_THROWS_WITH(write({"field", {"use"}, {}}), Contains("with --section"));
  write({"field", {"use"}, {"--refine", "--section"}});
  CHECK(scratch.entries() == 1);
}

TEST_CASE("the draft of a killed run goes with the next run, one of a living run stays") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  const fs::path left = scratch.path() / ".out.part-abcdef", other = scratch.path() / ".other.part-abcdef";
  for (const fs::path& folder : {left, other}) {
    fs::create_directories(folder / "vtk");
    put(folder / "vtk/half.vtp", "half");
    fs::last_write_time(folder, fs::file_time_type::clock::now() - std::chrono::hours(1));
  }
  const Draft living = Draft::folder_beside(place);
  fs::last_write_time(living.path(), fs::file_time_type::clock::now() - std::chrono::hours(1));
  write_results(test::sample_run(), place);
  CHECK_FALSE(fs::exists(left));
  CHECK(fs::exists(other));
  CHECK(fs::exists(living.path()));
}

TEST_CASE("a single file never replaces a link, nor what it leads to") {
  const test::Scratch scratch;
  put(scratch.path() / "page.html", "ours: old");
  fs::create_symlink("page.html", scratch.path() / "link.html");
  CHECK_THROWS_WITH(write_whole_file(scratch.path() / "link.html", "ours: new", "ours"),
                    Contains("is a link"));
  CHECK(fs::is_symlink(scratch.path() / "link.html"));
  CHECK(test::bytes_of(scratch.path() / "page.html") == "ours: old");
  REQUIRE(mkfifo((scratch.path() / "pipe").c_str(), 0600) == 0);
  CHECK_THROWS_AS(write_whole_file(scratch.path() / "pipe", "ours: new", "ours"), FolderError);
  write_whole_file(scratch.path() / "page.html", "ours: new", "ours");
  CHECK(test::bytes_of(scratch.path() / "page.html") == "ours: new");
  CHECK(scratch.entries() == 3);
}

TEST_CASE("an empty folder is filled, a slash at the end does not matter") {
  const test::Scratch scratch;
  fs::create_directory(scratch.path() / "out");
  write_results(test::sample_run(), scratch.path() / "out/");
  CHECK(fs::exists(scratch.path() / "out/results.json"));
  CHECK(scratch.entries() == 1);
}

TEST_CASE("what is not ours is left alone") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  SECTION("a folder of something else") {
    fs::create_directory(place);
    put(place / "thesis.txt", "years of work");
    CHECK_THROWS_WITH(write_results(test::sample_run(), place), Contains("no results folder of tuft"));
    CHECK(test::bytes_of(place / "thesis.txt") == "years of work");
  }
  SECTION("a results.json of something else") {
    fs::create_directory(place);
    put(place / "results.json", R"({"format": "other"})");
    CHECK_THROWS_AS(write_results(test::sample_run(), place), FolderError);
    put(place / "results.json", "not json at all");
    CHECK_THROWS_AS(write_results(test::sample_run(), place), FolderError);
    put(place / "results.json", "[1, 2]");
    CHECK_THROWS_AS(write_results(test::sample_run(), place), FolderError);
  }
  SECTION("notes that somebody put beside our files") {
    write_results(test::sample_run(), place);
    put(place / "notes.txt", "mine");
    CHECK_THROWS_WITH(write_results(test::sample_run(), place), Contains("also holds notes.txt"));
    CHECK(test::bytes_of(place / "notes.txt") == "mine");
  }
  SECTION("a file") {
    put(place, "a file");
    CHECK_THROWS_WITH(write_results(test::sample_run(), place), Contains("is no folder"));
    CHECK(test::bytes_of(place) == "a file");
  }
  SECTION("a link") {
    fs::create_directory(scratch.path() / "elsewhere");
    fs::create_directory_symlink(scratch.path() / "elsewhere", place);
    CHECK_THROWS_WITH(write_results(test::sample_run(), place), Contains("is a link"));
    CHECK(fs::is_empty(scratch.path() / "elsewhere"));
    fs::remove_all(scratch.path() / "elsewhere");
  }
  CHECK(scratch.entries() == 1);
}

TEST_CASE("places that cannot hold a folder give a message") {
  const test::Scratch scratch;
  put(scratch.path() / "file", "");
  CHECK_THROWS_AS(write_results(test::sample_run(), scratch.path() / "file/out"), FolderError);
  CHECK_THROWS_WITH(write_results(test::sample_run(), scratch.path() / "missing/out"),
                    Contains("there is no folder"));
  CHECK_THROWS_AS(write_results(test::sample_run(), fs::path("/proc/tuft-out")), FolderError);
  CHECK_THROWS_AS(write_results(test::sample_run(), fs::path("/dev/full/out")), FolderError);
  CHECK_THROWS_AS(write_results(test::sample_run(), scratch.path() / std::string(300, 'x')), FolderError);
  CHECK(scratch.entries() == 1);
}

TEST_CASE("a result that is not finite leaves nothing behind, and the old folder as it was") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  write_results(test::sample_run(), place);
  const std::string before = test::bytes_of(place / "results.json");
  Run bad = test::sample_run();
  bad.sweeps[0].points[0].result.zones[0].pressure = std::nan("");
  CHECK_THROWS_AS(write_results(bad, place), NotFinite);
  CHECK(test::bytes_of(place / "results.json") == before);
  CHECK(scratch.entries() == 1);
}

TEST_CASE("a folder that is not published is taken away") {
  const test::Scratch scratch;
  {
    ResultsFolder folder(scratch.path() / "out");
    folder.write("results.json", "{}");
    folder.write("deep/er/file.txt", "x");
    CHECK(scratch.entries() == 1);
    CHECK_FALSE(fs::exists(scratch.path() / "out"));
  }
  CHECK(scratch.entries() == 0);
}

TEST_CASE("a full disk is noticed") {
  const test::Scratch scratch;
  {
    ResultsFolder folder(scratch.path() / "out");
    fs::create_symlink("/dev/full", folder.path_for("results.json"));
    CHECK_THROWS_WITH(folder.write("results.json", "{}"), Contains("No space left"));
  }
  CHECK(scratch.entries() == 0);
}

// In a process of its own, because the signal ends it.
TEST_CASE("an interrupt while writing removes the half folder, then ends the program") {
  const int number = GENERATE(SIGINT, SIGTERM, SIGHUP);
  const test::Scratch scratch;
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    signal(number, SIG_DFL);
    try {
      ResultsFolder folder(scratch.path() / "out");
      folder.write("a", "begun");
      raise(number);
      folder.write("b", "never");
    } catch (const FolderError&) {
      _exit(7);
    }
    _exit(8);
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  CHECK(WIFSIGNALED(status));
  CHECK(WTERMSIG(status) == number);
  CHECK(scratch.entries() == 0);
}

TEST_CASE("an interrupt just before publishing leaves the old folder as it was") {
  const test::Scratch scratch;
  const fs::path place = scratch.path() / "out";
  write_results(test::sample_run(), place);
  const std::string before = test::bytes_of(place / "results.json");
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    signal(SIGINT, SIG_DFL);
    try {
      ResultsFolder folder(place);
      folder.write("results.json", "new");
      raise(SIGINT);
      folder.publish();
    } catch (const FolderError&) {
      _exit(7);
    }
    _exit(8);
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  CHECK(WIFSIGNALED(status));
  CHECK(test::bytes_of(place / "results.json") == before);
  CHECK(scratch.entries() == 1);
}
