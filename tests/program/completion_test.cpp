// Completion and the manual page: nothing left out, and accepted by what reads them.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>
#include <set>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

/// Commands, and the long options of each, as the help shows them.
std::map<std::string, std::set<std::string>> commands_in_help(const fs::path& folder) {
  const std::string help = run_tuft({"--help"}, folder).out;
  std::map<std::string, std::set<std::string>> commands;
  for (const std::string& command : matches(help.substr(help.find("Subcommands:")), "\n  ([a-z]+) ")) {
    const std::string own = run_tuft({command, "--help"}, folder).out;
    const auto options = matches(own, "\n  (?:-[a-z],)?(--[a-z-]+)");
    commands[command] = {options.begin(), options.end()};
  }
  REQUIRE(commands.size() > 10);
  return commands;
}

std::string completion(const std::string& shell, const fs::path& folder) {
  const Outcome run = run_tuft({"completion", shell}, folder);
  REQUIRE(run.status == 0);
  std::ofstream(folder / ("tuft." + shell)) << run.out;
  return run.out;
}

/// True if one line of the text holds both words.
bool has_line(const std::string& text, const std::string& one, const std::string& other) {
  for (const std::string& line : lines_of(text)) {
    if (line.find(one) != std::string::npos && line.find(other) != std::string::npos) return true;
  }
  return false;
}

bool has_program(const std::string& name) {
  return std::system(("command -v " + name + " >/dev/null 2>&1").c_str()) == 0;
}

/// What a shell command prints.
std::string output_of(const std::string& command, const fs::path& folder) {
  const fs::path out = folder / ".out";
  const int status =
      std::system(("cd '" + folder.string() + "' && " + command + " > '" + out.string() + "' 2>&1").c_str());
  const std::string text = bytes_of(out);
  return status == 0 ? text : text + "[failed]";
}

/// What bash would offer for these words, the last one being completed.
std::string offered(const std::string& words, int at, const fs::path& folder) {
  return output_of("bash --norc -c 'source ./tuft.bash; COMP_WORDS=(" + words + "); COMP_CWORD=" +
                       std::to_string(at) + "; _tuft; printf \"%s\\n\" \"${COMPREPLY[@]}\"'",
                   folder);
}

}  // namespace

TEST_CASE("every command and option occurs in each completion and in the manual page") {
  const Scratch scratch;
  const auto commands = commands_in_help(scratch.path());
  const std::string bash = completion("bash", scratch.path()), zsh = completion("zsh", scratch.path()),
                    fish = completion("fish", scratch.path()), man = run_tuft({"man"}, scratch.path()).out;
  for (const auto& [command, options] : commands) {
    INFO(command);
    CHECK_THAT(bash, Contains("    " + command + ")\n"));
    CHECK_THAT(zsh, Contains("    " + command + ")\n") && Contains("'" + command + ":"));
    CHECK_THAT(fish, Contains(" -a " + command + " "));
    CHECK_THAT(man, Contains(".SS tuft " + command));
    const std::string in_bash = bash.substr(bash.find("    " + command + ")\n"));
    const std::string in_zsh = zsh.substr(zsh.find("    " + command + ")\n"));
    const std::string in_man = man.substr(man.find(".SS tuft " + command));
    for (const std::string& option : options) {
      INFO(option);
      CHECK_THAT(in_bash.substr(0, in_bash.find("fi ;;\n")), Contains(option));
      CHECK_THAT(in_zsh.substr(0, in_zsh.find(";;\n")),
                 Contains("'" + option + "[") || Contains("'*" + option + "["));
      CHECK(has_line(fish, "__fish_seen_subcommand_from " + command + "'", " -l " + option.substr(2) + " "));
      std::string escaped;
      for (const char c : option) escaped += c == '-' ? std::string("\\-") : std::string(1, c);
      CHECK_THAT(in_man.substr(0, in_man.find(".SS", 4)), Contains(escaped));
    }
  }
}

TEST_CASE("bash completes commands, options, words and case files") {
  const Scratch scratch;
  completion("bash", scratch.path());
  std::ofstream(scratch.path() / "my case.yaml") << "x";
  std::ofstream(scratch.path() / "notes.txt") << "x";
  fs::create_directory(scratch.path() / "folder");
  CHECK(offered("tuft pre", 1, scratch.path()) == "predict\n");
  CHECK_THAT(offered("tuft \"\"", 1, scratch.path()),
             Contains("watch\n") && Contains("lint\n") && Contains("--help\n"));
  CHECK(offered("tuft predict --no", 2, scratch.path()) == "--no-files\n");
  CHECK(offered("tuft completion f", 2, scratch.path()) == "fish\n");
  CHECK(offered("tuft new --class h", 3, scratch.path()) == "handheld\n");
  CHECK(offered("tuft predict --out f", 3, scratch.path()) == "folder\n");
  const std::string files = offered("tuft lint \"\"", 2, scratch.path());
  CHECK_THAT(files, Contains("my case.yaml\n") && Contains("folder\n") && !Contains("notes.txt"));
  CHECK_THAT(output_of("bash --norc -c 'source ./tuft.bash; complete -p tuft'", scratch.path()),
             Contains("_tuft"));
}

TEST_CASE("zsh and fish accept their scripts, where they are there") {
  const Scratch scratch;
  completion("zsh", scratch.path());
  completion("fish", scratch.path());
  if (has_program("zsh")) CHECK(output_of("zsh -f -n ./tuft.zsh", scratch.path()) == "");
  if (has_program("fish")) {
    CHECK(output_of("fish --no-config --no-execute ./tuft.fish", scratch.path()) == "");
    CHECK_THAT(
        output_of("fish --no-config -c 'source ./tuft.fish; complete -C \"tuft pre\"'", scratch.path()),
        Contains("predict"));
    CHECK_THAT(output_of("fish --no-config -c 'source ./tuft.fish; complete -C \"tuft new --class \"'",
                         scratch.path()),
               Contains("fanless-box"));
  }
}

TEST_CASE("the manual page is read without a complaint") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "tuft.1") << run_tuft({"man"}, scratch.path()).out;
  if (has_program("groff")) {
    const std::string page = output_of("groff -man -Tutf8 -ww -z ./tuft.1", scratch.path());
    CHECK(page == "");
  }
  if (has_program("mandoc")) CHECK(output_of("mandoc -T lint -W warning ./tuft.1", scratch.path()) == "");
}

TEST_CASE("an unknown shell is told") {
  const Scratch scratch;
  const Outcome run = run_tuft({"completion", "tcsh"}, scratch.path());
  CHECK(run.status == 3);
  CHECK_THAT(run.err, Contains("bash, fish, zsh"));
}
