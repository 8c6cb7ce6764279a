// tuft reference: a section, a key, all of it; for a person in a pipe and on a terminal, and for programs.
#include <signal.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/reference.hpp"
#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"
#include "tests/program/terminal.hpp"
#include "tools/io/utf8.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace casefile = tuft::casefile;

namespace {

std::string reference(const std::vector<std::string>& arguments) {
  const Scratch scratch;
  std::vector<std::string> words = {"reference"};
  words.insert(words.end(), arguments.begin(), arguments.end());
  const Outcome run = run_tuft(words, scratch.path());
  INFO(run.err);
  CHECK(run.status == 0);
  return run.out;
}

/// True if a line of the text is a heading for the key.
bool shows(const std::string& text, const std::string& path) {
  return ("\n" + text).find("\n  " + path + "\n") != std::string::npos ||
         ("\n" + text).find("\n" + path + "\n") != std::string::npos;
}

/// Which of SIGINT and SIGPIPE a process ignores, by its /proc/PID/status.
unsigned long ignored_by(const std::string& status) {
  const std::string key = "SigIgn:";
  const std::size_t at = status.find(key);
  REQUIRE(at != std::string::npos);
  const unsigned long both = 1UL << (SIGINT - 1) | 1UL << (SIGPIPE - 1);
  return std::stoul(status.substr(at + key.size()), nullptr, 16) & both;
}

}  // namespace

TEST_CASE("a section shows its keys and no others, without marks of Markdown, in 80 columns") {
  for (const std::string& section : casefile::section_names()) {
    INFO(section);
    const std::string text = reference({section});
    for (const casefile::Key& key : casefile::key_table()) {
      const bool inside = key.path == section || key.path.rfind(section + ".", 0) == 0 ||
                          key.path.rfind(section + "[", 0) == 0;
      INFO(key.path);
      CHECK(shows(text, key.path) == inside);
    }
    CHECK_THAT(text, !Contains("|") && !Contains("`") && !Contains("**"));
    for (const std::string& line : lines_of(text)) {
      INFO(line);
      CHECK(tuft::io::display_width(line) <= 80);
    }
  }
}

TEST_CASE("a key is shown with what it holds, its units, its defaults and what it means") {
  const std::string text = reference({"vents.*.cover.hole"});
  CHECK_THAT(text, Contains("A length, 0.01 mm to 200 mm. Units: mm, cm, m, in."));
  CHECK_THAT(text, Contains("\n        slots: 1..2..3.5 mm (finger-safe slots; judgement)\n"));
  CHECK_THAT(text, Contains("For perforated, mesh, louvre, slots."));
  CHECK_THAT(reference({"device.size"}), Contains("Required."));
}

TEST_CASE("a key can be asked for by its path, with names of one's own, and by its name") {
  const std::string curve = reference({"fans.*.curve"});
  for (const char* path : {"fans.*.curve", "fans.*.curve.speed", "fans.*.curve.points[]"})
    CHECK(shows(curve, path));
  CHECK_FALSE(shows(curve, "fans.*.speed"));
  // A point is two quantities of two kinds.
  CHECK_THAT(curve, Contains("a volume flow, then a pressure") && Contains("Pa"));
  CHECK(reference({"fans.main.curve"}) == curve);
  CHECK(reference({"claims.by"}) == reference({"claims[].by"}));
  const std::string hole = reference({"hole"});
  CHECK(shows(hole, "vents.*.cover.hole"));
  CHECK(shows(reference({"at"}), "passages.*.at"));
}

TEST_CASE("generic things are listed with what they give and why, and one can be asked for") {
  const std::string all = reference({"generic"});
  CHECK_THAT(all, Contains("blower-50") && Contains("heat-pipe-6") && Contains("honeycomb") &&
                      Contains("fabric-sofa"));
  CHECK_THAT(all, Contains("common practice, no source"));
  for (const std::string& line : lines_of(all)) CHECK(tuft::io::display_width(line) <= 80);
  const std::string one = reference({"blower-50"});
  CHECK_THAT(one, Contains("47..50..54 mm; thickness: 3.5..5..7 mm") && !Contains("blower-60"));
  const Scratch scratch;
  CHECK_THAT(run_tuft({"reference", "blower-55"}, scratch.path()).err, Contains("did you mean 'blower-50'?"));
  const auto json = nlohmann::json::parse(reference({"--generic-json"}));
  CHECK(json["fans"].size() >= 8);
  CHECK(json["supports"][0]["gives"].contains("permeability"));
  CHECK_THAT(reference({"fans.*.at"}),
             Contains("tuft field"));  // it no longer says that the place does not count
}

TEST_CASE("what the reference does not know is answered with the nearest word") {
  const Scratch scratch;
  const std::vector<std::pair<const char*, const char*>> slips = {
      {"vnets", "did you mean 'vents'?"},
      {"fans.*.curv", "did you mean 'fans.*.curve'?"},
      {"fans.main.curv", "did you mean 'fans.*.curve'?"},
      {"hol", "did you mean 'hole'?"},
      {"zzzzzzzz", "the sections are: tuft, device, room"},
      {".", "the sections are"},
      {"[", "the sections are"}};
  for (const auto& [asked, answer] : slips) {
    INFO(asked);
    const Outcome run = run_tuft({"reference", asked}, scratch.path());
    CHECK(run.status == 3);
    CHECK(run.out.empty());
    CHECK_THAT(run.err, Contains(answer));
  }
  CHECK(run_tuft({"reference", "vents", "--schema"}, scratch.path()).status == 3);
}

TEST_CASE("in a pipe the whole reference is plain text; Markdown and schema on demand") {
  const std::string text = reference({});
  for (const casefile::Key& key : casefile::key_table()) {
    INFO(key.path);
    CHECK(shows(text, key.path));
  }
  CHECK_THAT(text, Contains("Quantities") && Contains("2 mm */ 3") && !Contains("| ") && !Contains("\x1b"));
  CHECK(reference({"--markdown"}) == text_of(source_dir() / "docs/case-file.md"));
  CHECK(nlohmann::json::parse(reference({"--schema"})).contains("$schema"));
}

TEST_CASE("on a terminal the whole reference goes through the pager, and leaving it early is no error") {
  const Scratch scratch;
  const std::string all = (scratch.path() / "all").string();
  const auto paged = [&](const std::string& pager) {
    return type_to_tuft({"reference"}, scratch.path(), "", {{"PAGER", pager}, {"TERM", "xterm"}});
  };
  CHECK(paged("cat > " + all).status == 0);
  CHECK(bytes_of(all) == reference({}));
  const Outcome early = paged("head -n 1");
  CHECK(early.status == 0);
  CHECK(early.out == "The case file\r\n");
  CHECK(paged("true").out.empty());
  const Outcome missing = paged("no-such-pager");
  CHECK(missing.status == 0);
  CHECK_THAT(missing.out, Contains("fans.*.curve"));
  // Ctrl-C and a closed pipe mean to a pager what they mean to this test.
  CHECK(paged("cat /proc/self/status > " + all).status == 0);
  CHECK(ignored_by(bytes_of(all)) == ignored_by(bytes_of("/proc/self/status")));
}

TEST_CASE("a pipe that is closed early ends the program quietly") {
  const Scratch scratch;
  const std::string tuft = std::string(TUFT_BINARY_DIR) + "/bin/tuft";
  const std::string err = (scratch.path() / "err").string();
  CHECK(std::system(("'" + tuft + "' reference 2> " + err + " | head -n 1 > /dev/null").c_str()) == 0);
  CHECK(bytes_of(err).empty());
}
