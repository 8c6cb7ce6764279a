// The command line itself: help, version, mistakes, and the commands that need no case.
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/output/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;

TEST_CASE("version and help") {
  const Scratch scratch;
  const Outcome version = run_tuft({"--version"}, scratch.path());
  CHECK(version.status == 0);
  CHECK_THAT(version.out, Catch::Matchers::Matches("tuft [0-9]+\\.[0-9]+\\.[0-9]+\n"));
  const Outcome help = run_tuft({"--help"}, scratch.path());
  CHECK(help.status == 0);
  for (const char* command : {"predict", "check", "compare", "explain", "lint", "new", "reference"}) {
    CHECK_THAT(help.out, Contains(command));
    const Outcome own = run_tuft({command, "--help"}, scratch.path());
    CHECK(own.status == 0);
    CHECK_THAT(own.out, Contains("Example"));
  }
}

TEST_CASE("a bad command line is bad input") {
  const Scratch scratch;
  CHECK(run_tuft({}, scratch.path()).status == 3);
  CHECK(run_tuft({"predict"}, scratch.path()).status == 3);
  CHECK(run_tuft({"predict", "a.yaml", "--colour"}, scratch.path()).status == 3);
  CHECK(run_tuft({"--frobnicate"}, scratch.path()).status == 3);
  const Outcome wrong = run_tuft({"predcit", "a.yaml"}, scratch.path());
  CHECK(wrong.status == 3);
  CHECK_THAT(wrong.err, Contains("did you mean 'predict'?"));
  CHECK(wrong.out.empty());
}

TEST_CASE("new writes a case that predicts, and never overwrites") {
  const Scratch scratch;
  const Outcome first = run_tuft({"new", "My Notebook"}, scratch.path());
  INFO(first.out << first.err);
  CHECK(first.status == 0);
  REQUIRE(std::filesystem::exists(scratch.path() / "my-notebook.yaml"));
  const std::string text = bytes_of(scratch.path() / "my-notebook.yaml");
  CHECK_THAT(text, Contains("My Notebook"));
  const Outcome run = run_tuft({"predict", "my-notebook.yaml", "--no-files"}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  std::ofstream(scratch.path() / "my-notebook.yaml", std::ios::app) << "# mine\n";
  const Outcome again = run_tuft({"new", "My Notebook"}, scratch.path());
  CHECK(again.status == 5);
  CHECK_THAT(again.err, Contains("left alone"));
  CHECK(bytes_of(scratch.path() / "my-notebook.yaml") == text + "# mine\n");
}

TEST_CASE("new with a hostile name still writes a good file here") {
  const Scratch scratch;
  const std::string name = "../x: \"y\" {z} # \u00fc\n- [";
  const Outcome made = run_tuft({"new", name}, scratch.path());
  INFO(made.out << made.err);
  REQUIRE(made.status == 0);
  CHECK(scratch.entries() == 1);
  const std::string file = std::filesystem::directory_iterator(scratch.path())->path().filename().string();
  const Outcome run = run_tuft({"lint", file}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
}

TEST_CASE("reference prints the keys and a JSON Schema") {
  const Scratch scratch;
  const Outcome text = run_tuft({"reference"}, scratch.path());
  CHECK(text.status == 0);
  CHECK_THAT(text.out, Contains("cover") && Contains("draws-from"));
  const Outcome schema = run_tuft({"reference", "--schema"}, scratch.path());
  CHECK(schema.status == 0);
  const auto json = nlohmann::json::parse(schema.out);
  CHECK(json.contains("$schema"));
}
