// The tour of the README, pasted in order into an empty folder.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
using Catch::Matchers::Equals;
namespace fs = std::filesystem;

namespace {

/// A block ```sh of a document.
struct PastedBlock {
  std::string before;  ///< the text since the block before
  std::string script;  ///< its lines
};

std::string quoted(const fs::path& path) { return "'" + path.string() + "'"; }

// All blocks as one script. What fails is written down with its status, in a file a block.
void write_script(const std::vector<PastedBlock>& blocks, const fs::path& notes) {
  std::ofstream script(notes / "script");
  script << "trap 'echo \"$? $BASH_COMMAND\" >> " << notes.string() << "/failed.$PASTED' ERR\n";
  for (std::size_t i = 0; i < blocks.size(); ++i) script << "PASTED=" << i << "\n" << blocks[i].script;
  script << "touch " << quoted(notes / "end") << "\n";
}

void run_script(const fs::path& notes, const fs::path& folder) {
  const std::string command = "cd " + quoted(folder) + " && HOME=" + quoted(folder) +
                              " PATH=" + quoted(fs::path(TUFT_BINARY_DIR) / "bin") +
                              ":\"$PATH\" bash --norc " + quoted(notes / "script") + " < /dev/null > " +
                              quoted(notes / "shown") + " 2>&1";
  // The status is that of the last command, which is among those written down.
  [[maybe_unused]] const int status = std::system(command.c_str());
}

void compare_statuses(const PastedBlock& block, const std::string& failed, std::vector<std::string>& faults) {
  const std::vector<std::string> announced = matches(block.before, "exit status ([0-9]+)");
  std::set<std::string> missing(announced.begin(), announced.end()), known = missing;
  for (const std::string& line : lines_of(failed)) {
    const std::string status = line.substr(0, line.find(' '));
    if (!matches(status, "^([0-9]+)$").empty() && known.count(status) == 0)
      faults.push_back("ended with exit status " + line + " (not announced)");
    missing.erase(status);
  }
  for (const std::string& status : missing)
    faults.push_back("exit status " + status + " is announced, and no command ended so:\n" + block.script);
}

std::set<std::string> files_below(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) names.insert(entry.path().filename());
  return names;
}

// What looks like a file or a results folder of the commands pasted.
std::vector<std::string> files_named(const std::string& markdown) {
  return matches(markdown,
                 "`([A-Za-z][A-Za-z0-9_-]*(?:\\.(?:yaml|svg|html|csv|json|1)|-tuft|-[a-z]+ed|-study))`");
}

/// The blocks ```sh in order. Other blocks belong to the text.
std::vector<PastedBlock> pasted_blocks(const std::string& markdown) {
  std::vector<PastedBlock> blocks;
  PastedBlock block;
  bool inside = false, pasted = false;
  for (const std::string& line : lines_of(markdown)) {
    if (line.rfind("```", 0) == 0) {
      if (pasted) blocks.push_back(block), block = {};
      inside = !inside;
      pasted = inside && line == "```sh";
    } else {
      (pasted ? block.script : block.before) += line + "\n";
    }
  }
  return blocks;
}

/// Runs the blocks in one bash, in the folder, which is also its home, with the built program first on PATH,
/// and says what is wrong, a line each: a command whose exit status the text before its block does not
/// announce ("exit status 2"), an announced status that no command of the block had, a shell that did not
/// come to the end, and a file named in `backticks` that is nowhere below the folder afterwards. Empty:
/// nothing is wrong. `shown`: receives all that was printed.
std::vector<std::string> faults_of_pasting(const std::string& markdown, const fs::path& folder,
                                           std::string& shown) {
  const Scratch notes;
  const std::vector<PastedBlock> blocks = pasted_blocks(markdown);
  write_script(blocks, notes.path());
  run_script(notes.path(), folder);
  shown = bytes_of(notes.path() / "shown");
  std::vector<std::string> faults;
  if (!fs::exists(notes.path() / "end")) faults.push_back("the shell did not come to the end");
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const fs::path failed = notes.path() / ("failed." + std::to_string(i));
    compare_statuses(blocks[i], fs::exists(failed) ? bytes_of(failed) : "", faults);
  }
  const std::set<std::string> present = files_below(folder);
  for (const std::string& name : files_named(markdown)) {
    if (present.count(name) == 0) faults.push_back("the text names " + name + ", which is not there");
  }
  return faults;
}

/// The part of the README under a heading.
std::string part(const std::string& heading) {
  const std::string text = text_of(source_dir() / "README.md");
  const std::size_t start = text.find("\n## " + heading + "\n");
  REQUIRE(start != std::string::npos);
  return text.substr(start, text.find("\n## ", start + 4) - start);
}

std::vector<std::string> faults_in(const std::string& markdown) {
  const Scratch scratch;
  std::string shown;
  return faults_of_pasting(markdown, scratch.path(), shown);
}

}  // namespace

TEST_CASE("every command of the README's tour works, pasted in order into an empty folder") {
  const Scratch scratch;
  std::string shown;
  const std::vector<std::string> faults = faults_of_pasting(part("A short tour"), scratch.path(), shown);
  INFO(shown);
  CHECK_THAT(faults, Equals(std::vector<std::string>{}));
}

TEST_CASE("the README's tour has every command that ends by itself") {
  const Scratch scratch;
  const std::string help = run_tuft({"--help"}, scratch.path()).out;
  std::set<std::string> pasted;
  for (const PastedBlock& block : pasted_blocks(part("A short tour"))) {
    for (const std::string& command : matches(block.script, "\\btuft ([a-z]+)")) pasted.insert(command);
  }
  for (const std::string& command : matches(help.substr(help.find("Subcommands:")), "\n  ([a-z]+) ")) {
    INFO(command);
    CHECK(pasted.count(command) == (command == "watch" ? 0 : 1));
  }
}

TEST_CASE("blocks are found in order, each with the text before it") {
  const auto blocks = pasted_blocks("one\n```sh\na\nb\n```\ntwo\n```text\nc\n```\nthree\n```sh\nd\n```\n");
  REQUIRE(blocks.size() == 2);
  CHECK(blocks[0].before == "one\n");
  CHECK(blocks[0].script == "a\nb\n");
  CHECK(blocks[1].before == "two\nc\nthree\n");
  CHECK(blocks[1].script == "d\n");
}

TEST_CASE("a command that fails is found, unless its status is announced") {
  CHECK(faults_in("Good:\n```sh\ntuft --version\ncd . && pwd\n```\n").empty());
  CHECK_THAT(
      faults_in("```sh\ntuft predcit my.yaml\n```\n"),
      Equals(std::vector<std::string>{"ended with exit status 3 tuft predcit my.yaml (not announced)"}));
  CHECK(faults_in("This has exit status 3:\n```sh\ntuft predcit my.yaml\n```\n").empty());
  const auto other = faults_in("This has exit status 2:\n```sh\ntuft predcit my.yaml\n```\n");
  REQUIRE(other.size() == 2);
  CHECK_THAT(other[0], Contains("exit status 3"));
  CHECK_THAT(other[1], Contains("exit status 2 is announced"));
  // What is announced for one block does not hold for the next.
  CHECK(faults_in("Has exit status 1:\n```sh\nfalse\n```\nand\n```sh\nfalse\n```\n").size() == 1);
}

TEST_CASE("a shell that ends early, and a file that is not written, are found") {
  CHECK_THAT(faults_in("```sh\nexit 0\n```\n"),
             Equals(std::vector<std::string>{"the shell did not come to the end"}));
  CHECK(faults_in("It writes `a.csv`:\n```sh\nmkdir b && touch b/a.csv\n```\n").empty());
  CHECK_THAT(faults_in("It writes `a.csv`:\n```sh\ntouch a.svg\n```\n"),
             Equals(std::vector<std::string>{"the text names a.csv, which is not there"}));
}
