// The how-tos: their commands are run, and what they show is what is printed.
//
// A block ```console holds commands ("$ tuft ...") and below each the lines it prints, in their order; "..."
// stands for lines left out. "$ echo $?" shows the exit status of the command before. A block ```yaml that
// begins with "# FILE.yaml" is that file, and likewise ```csv; cases/ is at hand.
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft::test;
namespace fs = std::filesystem;

namespace {

/// A block of code of a document.
struct Block {
  std::string language;
  std::vector<std::string> lines;
};

std::vector<Block> blocks_of(const std::string& markdown) {
  std::vector<Block> blocks;
  bool inside = false;
  for (const std::string& line : lines_of(markdown)) {
    if (line.rfind("```", 0) == 0) {
      if (!inside) blocks.push_back({line.substr(3), {}});
      inside = !inside;
    } else if (inside) {
      blocks.back().lines.push_back(line);
    }
  }
  CHECK_FALSE(inside);
  return blocks;
}

std::vector<std::string> words_of(const std::string& command) {
  std::istringstream in(command);
  std::vector<std::string> words;
  for (std::string word; in >> word;) {
    if (word.front() == '"') {  // a quoted word, spaces within
      std::string rest;
      while (word.size() < 2 || word.back() != '"') {
        REQUIRE(static_cast<bool>(in >> rest));
        word += " " + rest;
      }
      word = word.substr(1, word.size() - 2);
    }
    words.push_back(word);
  }
  return words;
}

/// Follows one document in a folder of its own.
class Follower {
 public:
  explicit Follower(const fs::path& document) : name_(name_of(document)) {
    for (const auto& entry : fs::directory_iterator(source_dir() / "cases")) {
      if (entry.path().extension() == ".yaml")
        fs::copy_file(entry.path(), scratch_.path() / entry.path().filename());
    }
    for (const Block& block : blocks_of(text_of(document))) {
      if (block.language == "yaml" || block.language == "csv") write(block);
      if (block.language == "console") follow(block);
    }
  }
  int commands() const { return commands_; }

 private:
  void write(const Block& block) const {
    const auto names = matches(block.lines.front(), "^# ([a-z-]+\\.(?:yaml|csv))$");
    if (names.empty()) return;  // a part of a file, to look at
    std::ofstream out(scratch_.path() / names.front());
    for (const std::string& line : block.lines) out << line << "\n";
  }

  void follow(const Block& block) {
    for (const std::string& line : block.lines) {
      INFO(name_ << ": " << line);
      if (line == "$ echo $?") {
        rest_ = std::to_string(last_.status) + "\n";
      } else if (line.rfind("$ ", 0) == 0) {
        run(line.substr(2));
      } else if (line != "...") {
        expect(line);
      }
    }
  }

  void run(const std::string& command) {
    std::vector<std::string> words = words_of(command);
    REQUIRE(words.front() == "tuft");
    words.erase(words.begin());
    last_ = run_tuft(words, scratch_.path());
    rest_ = last_.out + last_.err;
    INFO(rest_);
    CHECK((last_.status == 0 || last_.status == 1 || last_.status == 2));
    ++commands_;
  }

  // The next line that is the one shown; what lies before it was left out.
  void expect(const std::string& line) {
    const std::string text = "\n" + rest_;
    const std::size_t at = text.find("\n" + line + "\n");
    INFO("no longer printed here: " << line);
    CHECK(at != std::string::npos);
    if (at != std::string::npos) rest_ = text.substr(at + line.size() + 2);
  }

  std::string name_;
  Scratch scratch_;
  Outcome last_;
  std::string rest_;
  int commands_ = 0;
};

}  // namespace

TEST_CASE("what the how-tos show is what the program prints") {
  int documents = 0;
  for (const fs::path& document : files_under("docs/how-to", {".md"})) {
    INFO(name_of(document));
    ++documents;
    CHECK(Follower(document).commands() >= 2);
  }
  CHECK(documents >= 3);
}

TEST_CASE("every figure a document shows is the condition it names, with the roles it has") {
  std::size_t figures = 0;
  for (const fs::path& document : files_under("docs", {".md"})) {
    for (const std::string& name : matches(text_of(document), "figures/([a-z-]+\\.[a-z-]+)\\.svg")) {
      INFO(name_of(document) << " shows " << name << "; build/bin/write_figures cases docs writes it anew");
      ++figures;
      const std::string file = name.substr(0, name.find('.')), condition = name.substr(name.find('.') + 1);
      const std::string drawing = text_of(source_dir() / "docs/figures" / (name + ".svg"));
      const Scratch scratch;
      const Outcome run = run_tuft({"predict", (source_dir() / "cases" / (file + ".yaml")).string(),
                                    "--condition", condition, "--out", "r", "--quiet"},
                                   scratch.path());
      REQUIRE(run.status == 0);
      std::size_t vents = 0;
      for (const std::string& line : lines_of(bytes_of(scratch.path() / "r/vents.csv"))) {
        // condition,pose,support,load,vent,face,leak,role
        const auto fields = matches(line + ",", "([^,]*),");
        if (fields.size() < 8 || fields[0] != condition || fields[6] == "yes") continue;
        ++vents;
        INFO(fields[4] << " is " << fields[7]);
        const auto roles = matches(drawing, "data-vent=\"" + fields[4] + "\"[^>]*data-role=\"([a-z-]+)\"");
        CHECK_FALSE(roles.empty());
        for (const std::string& role : roles) CHECK(role == fields[7]);
      }
      CHECK(vents > 1);
    }
  }
  CHECK(figures >= 7);
}

TEST_CASE("the figure of strips is the one that tuft bench draws") {
  INFO("tools/refresh_how_to writes it anew");
  const Scratch scratch;
  const std::string demo = (source_dir() / "cases/slim-notebook.yaml").string();
  const Outcome run =
      run_tuft({"bench", demo, "--condition", "bench", "--against", "use-idle", "--out", "r", "--quiet"},
               scratch.path());
  REQUIRE(run.status == 0);
  const std::string now = bytes_of(scratch.path() / "r/bench.svg"),
                    shown = text_of(source_dir() / "docs/figures/slim-notebook.bench.strips.svg");
  // Words, roles and strips to the letter; places to half a pixel, for they may round otherwise elsewhere.
  const auto same = [&](const std::string& pattern) {
    const std::vector<std::string> found = matches(now, pattern);
    CHECK(found.size() > 5);
    CHECK(found == matches(shown, pattern));
  };
  same(">([^<>]+)<");
  same("(data-[a-z]+=\"[^\"]*\")");
  const std::string number = "[ ,\"ML](-?[0-9]+(?:\\.[0-9]+)?)";
  const std::vector<std::string> places = matches(now, number), places_shown = matches(shown, number);
  REQUIRE(places.size() == places_shown.size());
  for (std::size_t i = 0; i < places.size(); ++i)
    CHECK(std::stod(places[i]) == Approx(std::stod(places_shown[i])).margin(0.5));
}
