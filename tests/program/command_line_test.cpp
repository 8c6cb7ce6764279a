// The command line itself: help, version, mistakes, and the commands that need no case.
#include <catch2/catch.hpp>
#include <fstream>
#include <iomanip>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tools/io/utf8.hpp"

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
  CHECK(run_tuft({"predict"}, scratch.path()).status == 3);
  CHECK(run_tuft({"predict", "a.yaml", "--colour"}, scratch.path()).status == 3);
  CHECK(run_tuft({"--frobnicate"}, scratch.path()).status == 3);
  const Outcome wrong = run_tuft({"predcit", "a.yaml"}, scratch.path());
  CHECK(wrong.status == 3);
  CHECK_THAT(wrong.err, Contains("did you mean 'predict'?"));
  CHECK(wrong.out.empty());
}

TEST_CASE("a mistyped option is answered with the one that was meant") {
  const Scratch scratch;
  const std::vector<std::pair<std::vector<std::string>, const char*>> slips = {
      {{"predict", "a.yaml", "--condtion", "use"},
       "tuft: predict has no option '--condtion'; did you mean '--condition'? tuft predict --help says "
       "more\n"},
      {{"predict", "a.yaml", "--outt=x"},
       "tuft: predict has no option '--outt'; did you mean '--out'? tuft predict --help says more\n"},
      {{"check", "a.yaml", "--search-states"},
       "tuft: check has no option '--search-states'; it is an option of predict, report; tuft check --help "
       "says "
       "more\n"},
      {{"lint", "a.yaml", "b.yaml"},
       "tuft: lint does not know what to do with 'b.yaml'; tuft lint --help says more\n"},
      {{"predict", "a.yaml", "--details", "use"},
       "tuft: a name is joined to --details by an equals sign: --details=use; tuft predict --help says "
       "more\n"},
      {{"predict", "--details", "use", "a.yaml"},
       "tuft: a name is joined to --details by an equals sign: --details=use; tuft predict --help says "
       "more\n"},
      {{"predict", "--details", "a.yaml", "b.yaml"},
       "tuft: predict does not know what to do with 'b.yaml'; tuft predict --help says more\n"},
      {{"box.yaml"},
       "tuft: 'box.yaml' is no command; the command comes before the case file: tuft predict box.yaml\n"},
      {{"predict", "a.yaml", "--samples", "5"},
       "tuft: --samples: must be 0, or from 32 to 1048576, and is 5; tuft predict --help says more\n"},
      {{"lint"}, "tuft: lint needs CASE: Case file; tuft lint --help says more\n"},
      {{"--versoin"},
       "tuft: tuft has no option '--versoin'; did you mean '--version'? tuft --help says more\n"}};
  for (const auto& [arguments, message] : slips) {
    const Outcome run = run_tuft(arguments, scratch.path());
    CHECK(run.status == 3);
    CHECK(run.err == message);
  }
  const Outcome bare = run_tuft({"predict", "a.yaml", "--out"}, scratch.path());
  CHECK(bare.status == 3);
  CHECK_THAT(bare.err, Contains("--out needs a value"));
}

TEST_CASE("what is printed into a pipe fits 80 columns") {
  for (const char* name : {"slim-notebook", "handheld-console", "fanless-router", "mini-desktop"}) {
    const std::string path = std::string(name) + ".yaml";  // nothing is written there
    for (const std::vector<std::string>& command : {std::vector<std::string>{"predict", path, "--no-files"},
                                                    {"check", path},
                                                    {"lint", path, "--all"}}) {
      const Outcome run = run_tuft(command, std::string(TUFT_SOURCE_DIR) + "/cases");
      CHECK(run.status == 0);
      std::istringstream lines(run.out);
      for (std::string line; std::getline(lines, line);) {
        INFO(command[0] << ": " << line);
        // A word that is longer, such as a path, stands alone on its line.
        const bool one_word = line.find(' ', line.find_first_not_of(' ')) == std::string::npos;
        CHECK((tuft::io::display_width(line) <= 80 || one_word));
      }
    }
  }
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
  CHECK(scratch.entries() == 2);  // the case, and a drawing of it
  const std::string file = "x-y-z-ü.yaml";
  const Outcome run = run_tuft({"lint", file}, scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
}

TEST_CASE("tuft alone says what it is for, in 80 columns") {
  const Scratch scratch;
  const Outcome run = run_tuft({}, scratch.path());
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  for (const char* job : {"tuft check ", "tuft compare ", "tuft bench ", "tuft new ", "tuft reference "})
    CHECK_THAT(run.out, Contains(job));
  std::istringstream lines(run.out);
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) CHECK(tuft::io::display_width(line) <= 80);
  CHECK(count <= 24);
}

TEST_CASE("what tuft alone names works in its order on the file it begins with") {
  const Scratch scratch;
  std::istringstream lines(run_tuft({}, scratch.path()).out);
  int commands = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("    tuft ", 0) != 0) continue;
    std::istringstream words(line.substr(9));
    std::vector<std::string> arguments;
    for (std::string word; words >> std::quoted(word);) arguments.push_back(word);
    const Outcome run = run_tuft(arguments, scratch.path());
    INFO(line << "\n" << run.err);
    CHECK(run.status == 0);
    ++commands;
  }
  CHECK(commands == 4);
}

TEST_CASE("a seed below nought and absurd numbers of threads are told as such") {
  const Scratch scratch;
  const std::string file = case_path("chassis.yaml");
  for (const char* seed : {"-1", "99999999999999999999999", "1e30", "x"}) {
    const Outcome run = run_tuft({"study", file, "--seed", seed}, scratch.path());
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains("must be a whole number from 0 on") && Contains(seed));
  }
  for (const char* threads : {"0", "-3", "100000", "many"}) {
    const Outcome run = run_tuft({"lint", file}, scratch.path(), {{"OMP_NUM_THREADS", threads}});
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains("OMP_NUM_THREADS must be a whole number from 1 to 1024; found '" +
                                 std::string(threads) + "'"));
  }
  CHECK(run_tuft({"lint", file}, scratch.path(), {{"OMP_NUM_THREADS", "2"}}).status == 0);
}
