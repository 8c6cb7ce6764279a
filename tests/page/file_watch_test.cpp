// Saves are noticed, however an editor saves.
#include "tools/page/file_watch.hpp"

#include <catch2/catch.hpp>
#include <fstream>

#include "tests/io/sample.hpp"

using tuft::page::FileWatch;
using tuft::test::Scratch;
namespace fs = std::filesystem;

namespace {

void write(const fs::path& path, const std::string& text) { std::ofstream(path) << text; }

}  // namespace

TEST_CASE("a file written in place, replaced, deleted and back is noticed") {
  const Scratch scratch;
  const fs::path file = scratch.path() / "a.yaml";
  write(file, "1");
  FileWatch watch(file);
  CHECK(watch.news() == FileWatch::News::none);
  write(file, "2");
  CHECK(watch.news() == FileWatch::News::saved);
  CHECK(watch.news() == FileWatch::News::none);
  write(scratch.path() / "a.yaml.new", "3");
  CHECK(watch.news() == FileWatch::News::none);
  fs::rename(scratch.path() / "a.yaml.new", file);
  CHECK(watch.news() == FileWatch::News::saved);
  fs::remove(file);
  CHECK(watch.news() == FileWatch::News::gone);
  write(file, "4");
  CHECK(watch.news() == FileWatch::News::saved);
}

TEST_CASE("other files of the folder are no news") {
  const Scratch scratch;
  write(scratch.path() / "a.yaml", "1");
  FileWatch watch(scratch.path() / "a.yaml");
  write(scratch.path() / "b.yaml", "1");
  fs::remove(scratch.path() / "b.yaml");
  CHECK(watch.news() == FileWatch::News::none);
}

TEST_CASE("a link is followed to the file that is edited") {
  const Scratch scratch;
  fs::create_directory(scratch.path() / "real");
  write(scratch.path() / "real/a.yaml", "1");
  fs::create_symlink(scratch.path() / "real/a.yaml", scratch.path() / "link.yaml");
  FileWatch watch(scratch.path() / "link.yaml");
  write(scratch.path() / "link.yaml", "2");
  CHECK(watch.news() == FileWatch::News::saved);
}

TEST_CASE("a folder that goes is told, and one that is not there refused") {
  const Scratch scratch;
  fs::create_directory(scratch.path() / "in");
  write(scratch.path() / "in/a.yaml", "1");
  FileWatch watch(scratch.path() / "in/a.yaml");
  fs::remove_all(scratch.path() / "in");
  CHECK(watch.news() == FileWatch::News::lost);
  CHECK_THROWS_AS(FileWatch(scratch.path() / "nowhere/a.yaml"), std::runtime_error);
}
