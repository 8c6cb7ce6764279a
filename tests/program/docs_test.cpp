// The documents hold what they say: links, equation ids, file names, and the README's commands and examples.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <map>
#include <set>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft::test;
namespace fs = std::filesystem;

namespace {

std::vector<fs::path> documents() { return files_under("", {".md"}); }

/// Anchors of a Markdown file: its headings in lower case, spaces as hyphens, other signs left out.
std::set<std::string> anchors_of(const std::string& markdown) {
  std::set<std::string> anchors;
  for (const std::string& heading : matches(markdown, "(?:^|\n)#+ +([^\n]+)")) {
    std::string anchor;
    for (const char c : heading) {
      const auto letter = static_cast<unsigned char>(c);
      if (std::isalnum(letter) != 0 || c == '-' || c == '_')
        anchor += static_cast<char>(std::tolower(letter));
      if (c == ' ') anchor += '-';
    }
    anchors.insert(anchor);
  }
  return anchors;
}

/// Ids that theory.md defines, by their headings ("### E1 Face law"), in order.
std::vector<std::string> defined_ids() {
  return matches(text_of(source_dir() / "docs/theory.md"), "\n### ([A-Z][0-9]+) ");
}

/// The comments of a source file.
std::string comments_of(const fs::path& path) {
  std::string comments;
  for (const std::string& line : lines_of(text_of(path))) {
    const std::size_t start = line.find("//");
    if (start != std::string::npos) comments += line.substr(start) + "\n";
  }
  return comments;
}

/// Text between a line that begins with ```language and the next ```.
std::string code_block(const std::string& markdown, const std::string& language) {
  const std::string fence = "\n```" + language + "\n";
  const std::size_t start = markdown.find(fence);
  REQUIRE(start != std::string::npos);
  const std::size_t from = start + fence.size();
  return markdown.substr(from, markdown.find("\n```", from) - from + 1);
}

std::string readme() { return text_of(source_dir() / "README.md"); }

}  // namespace

TEST_CASE("every relative link leads to a file, and every anchor to a heading") {
  std::size_t links = 0;
  for (const fs::path& document : documents()) {
    for (const std::string& link : matches(text_of(document), "\\]\\(([^)\\s]+)\\)")) {
      if (link.find("://") != std::string::npos) continue;
      INFO(name_of(document) << " links to " << link);
      ++links;
      const std::string file = link.substr(0, link.find('#'));
      const fs::path target = file.empty() ? document : document.parent_path() / file;
      REQUIRE(fs::exists(target));
      if (link.find('#') == std::string::npos) continue;
      CHECK(anchors_of(text_of(target)).count(link.substr(link.find('#') + 1)) == 1);
    }
  }
  CHECK(links > 10);
}

TEST_CASE("every file named in a document exists") {
  std::size_t names = 0;
  for (const fs::path& document : documents()) {
    const std::string pattern =
        "`((?:geometry|solver|tools|tests|docs|cases)/[A-Za-z0-9_./-]+\\.(?:cpp|hpp|md|txt|yaml|json))`";
    for (const std::string& name : matches(text_of(document), pattern)) {
      INFO(name_of(document) << " names " << name);
      ++names;
      CHECK(fs::exists(source_dir() / name));
    }
  }
  CHECK(names > 50);
}

TEST_CASE("every equation has one id, counted without gaps") {
  const std::vector<std::string> ids = defined_ids();
  std::map<char, int> last;
  for (const std::string& id : ids) {
    INFO(id);
    CHECK(std::stoi(id.substr(1)) == last[id[0]] + 1);
    last[id[0]] = std::stoi(id.substr(1));
  }
  for (const char letter : {'A', 'E', 'G', 'N', 'S', 'R'}) CHECK(last[letter] > 0);
}

TEST_CASE("every equation names the file that holds it") {
  const std::string theory = text_of(source_dir() / "docs/theory.md");
  const std::vector<std::string> sections = matches(theory, "\n## (?:[^\n]*) \\(([AENGSR])\\)\n");
  CHECK(sections.size() == 6);
  // A section may name its file once for all its equations; elements name their own.
  for (const std::string& id : defined_ids()) {
    if (id[0] != 'E' && id[0] != 'A') continue;
    const std::size_t from = theory.find("\n### " + id + " ");
    const std::string text = theory.substr(from, theory.find("\n##", from + 4) - from);
    INFO(id);
    CHECK_FALSE(matches(text, "`(solver/[a-z_/]+\\.[ch]pp)`").empty());
  }
}

TEST_CASE("every equation id a comment names is in theory.md") {
  const std::vector<std::string> ids = defined_ids();
  const std::set<std::string> known(ids.begin(), ids.end());
  std::set<std::string> used;
  for (const char* folder : {"geometry", "solver", "tools", "tests"}) {
    for (const fs::path& path : files_under(folder, {".cpp", ".hpp"})) {
      for (const std::string& id : matches(comments_of(path), "\\b([ABCDEGHINRSW][1-9][0-9]?)\\b")) {
        INFO(name_of(path) << " names " << id);
        used.insert(id);
        CHECK(known.count(id) == 1);
      }
    }
  }
  for (const char* id : {"E1", "E2", "E3", "E4", "N1", "N2", "N3"}) CHECK(used.count(id) == 1);
}

TEST_CASE("every document a comment names exists, and every id of the field is in field.md") {
  const std::string field = text_of(source_dir() / "docs/field.md");
  std::set<std::string> documents_named;
  for (const char* folder : {"geometry", "solver", "tools", "tests"}) {
    for (const fs::path& path : files_under(folder, {".cpp", ".hpp"})) {
      const std::string comments = comments_of(path);
      INFO(name_of(path));
      for (const std::string& name : matches(comments, "(docs/[a-z-]+\\.(?:md|schema\\.json))")) {
        documents_named.insert(name);
        CHECK(fs::exists(source_dir() / name));
      }
      if (name_of(path).rfind("solver/flow2d/", 0) != 0) continue;
      for (const std::string& id : matches(comments, "\\b(F[1-9][0-9]?)\\b")) {
        INFO(id);
        CHECK_FALSE(matches(field, "\\b(" + id + ")\\b").empty());
      }
    }
  }
  CHECK(documents_named.count("docs/theory.md") == 1);
}

TEST_CASE("the commands of the README's first screen are there and can be run") {
  const std::string text = readme();
  const std::string block = code_block(text, "sh");
  CHECK(std::count(text.begin(), text.begin() + static_cast<long>(text.find("```sh")), '\n') < 20);
  std::set<std::string> commands;
  for (const std::string& line : lines_of(block)) {
    const std::string command = line.substr(0, line.find(' '));
    INFO(command);
    commands.insert(command);
    REQUIRE(fs::exists(source_dir() / command));
    CHECK((fs::status(source_dir() / command).permissions() & fs::perms::owner_exec) != fs::perms::none);
  }
  CHECK(commands == std::set<std::string>{"tools/run", "tools/test"});
}

TEST_CASE("the README's first screen shows one picture, before the commands") {
  const std::string text = readme();
  const std::size_t picture = text.find("!["), commands = text.find("```sh");
  CHECK(picture < commands);
  CHECK(text.find("![", picture + 1) == std::string::npos);
}

TEST_CASE("the README names subcommands that exist, and every one that does") {
  const Scratch scratch;
  const std::string help = run_tuft({"--help"}, scratch.path()).out;
  const std::string list = help.substr(help.find("Subcommands:"));
  const std::vector<std::string> present = matches(list, "\n  ([a-z]+) ");
  const std::vector<std::string> named = matches(readme(), "[\n`(]tuft ([a-z]+)");
  CHECK(std::set<std::string>(named.begin(), named.end()) ==
        std::set<std::string>(present.begin(), present.end()));
}

TEST_CASE("the README shows what the program prints") {
  const Scratch scratch;
  const std::string demo = (source_dir() / "cases/slim-notebook.yaml").string();
  const Outcome run = run_tuft({"predict", demo, "--no-files"}, scratch.path());
  REQUIRE(run.status == 0);
  const std::string out = "\n" + run.out;
  for (const std::string& line : lines_of(code_block(readme(), "text"))) {
    if (line == "...") continue;
    INFO("no longer printed: " << line);
    CHECK(out.find("\n" + line + "\n") != std::string::npos);
  }
}
