// tuft doctor: what it says of a healthy place, and of one where nothing can be written.
#include <unistd.h>

#include <catch2/catch.hpp>

#include "tests/output/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;

TEST_CASE("doctor says what the build has, and leaves nothing") {
  const Scratch scratch;
  const Outcome run = run_tuft({"doctor"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  for (const char* part : {"Eigen", "SUNDIALS", "VTK", "librsvg", "zlib", "libmicrohttpd", "threads", "MPI",
                           "page's solver", "browser", "schema", "results folder", "solve"}) {
    CHECK_THAT(run.out, Contains(part));
  }
  // The packages of tools/packages.txt include emscripten, so that a build for tests has it.
  CHECK_THAT(run.out, Contains("a page turns the device live"));
  CHECK_THAT(run.out, Contains("All is well.") && !Contains("!!"));
  CHECK(scratch.entries() == 0);
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
