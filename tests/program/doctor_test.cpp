// tuft doctor: what it says of a healthy place, and of one where nothing can be written.
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

/// The text without the breaks that lines of a terminal need.
std::string one_line(const std::string& text) {
  std::istringstream stream(text);
  std::string line, word;
  while (stream >> word) line += (line.empty() ? "" : " ") + word;
  return line;
}

}  // namespace

TEST_CASE("doctor says what the build has, and leaves nothing") {
  const Scratch scratch;
  const Outcome run = run_tuft({"doctor"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  for (const char* part : {"Eigen", "SUNDIALS", "VTK", "librsvg", "libpng", "GLib", "zlib", "libmicrohttpd",
                           "threads", "MPI", "page's solver", "drawing page", "ffmpeg", "libjpeg", "browser",
                           "schema", "results folder", "solve"}) {
    CHECK_THAT(run.out, Contains(part));
  }
  CHECK_THAT(run.out, Contains("All is well.") && !Contains("!!"));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("doctor says where the page's solver is, or where it would be and how to get it") {
  const Scratch scratch;
  const fs::path built = fs::path(TUFT_BINARY_DIR) / "bin/tuft", copy = scratch.path() / "bin/tuft";
  const fs::path engine = scratch.path() / "share/tuft/page-engine.wasm";
  fs::create_directory(copy.parent_path());
  fs::copy_file(built, copy);
  const auto doctor = [&](const fs::path& program) {
    const Outcome run = run_tuft({"doctor"}, scratch.path(), {}, "", program);
    CHECK(run.status == 0);  // pages are made without it
    return one_line(run.out);
  };
  CHECK_THAT(doctor(copy), Contains(engine.string() + " is not there") && Contains("--target page_engine"));
  fs::create_directories(engine.parent_path());
  std::ofstream(engine) << std::string("\0asm", 4) << "of other sources";
  CHECK_THAT(doctor(copy), Contains(engine.string() + " was made from other sources than this program"));
  std::ofstream(engine) << "no WebAssembly";
  CHECK_THAT(doctor(copy), Contains("can't be read as WebAssembly"));
  const fs::path made = fs::path(TUFT_BINARY_DIR) / "share/tuft/page-engine.wasm";
  if (!fs::exists(made)) return;  // a build without emscripten
  fs::copy_file(made, engine, fs::copy_options::overwrite_existing);
  CHECK_THAT(doctor(copy), Contains(engine.string() + ": a page solves any angle live"));
}

TEST_CASE("doctor tells a folder that can't be written, and no browser") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"doctor", "--out", "nowhere/at/all"}, scratch.path(), {{"PATH", "/nonexistent"}});
  INFO(run.out);
  CHECK(run.status == 5);
  CHECK_THAT(run.out, Contains("!!  results folder") && Contains("none on the PATH"));
  CHECK(scratch.entries() == 0);
}
