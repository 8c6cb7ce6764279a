// The tour of the README, pasted in order into an empty folder.
#include <catch2/catch.hpp>
#include <set>

#include "tests/output/sample.hpp"
#include "tests/program/pasted.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
using Catch::Matchers::Equals;

namespace {

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
