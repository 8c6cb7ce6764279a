// tuft reference: every key of a case file, as text, as Markdown or as a JSON Schema.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <sstream>

#include "geometry/casefile/generic.hpp"
#include "geometry/casefile/reference.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/grid.hpp"

namespace tuft::cli {
namespace {

using casefile::Key;
using io::Ink;
using io::Look;

// The text without the marks of Markdown (`code`, **strong**).
std::string without_marks(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.compare(i, 2, "**") == 0) {
      ++i;
    } else if (text[i] != '`') {
      out += text[i];
    }
  }
  return out;
}

bool is_heading(const std::string& line) { return line.rfind('#', 0) == 0; }
bool is_row(const std::string& line) { return line.rfind('|', 0) == 0; }

std::string heading(const std::string& line, const Look& look) {
  return inked(line.substr(line.find_first_not_of("# ")), Ink::strong, look) + "\n";
}

// "| one | two |" -> one, and two below it. The rule under a table's head is left out.
std::string row(const std::string& line, const Look& look) {
  if (line.rfind("|--", 0) == 0) return "";
  const std::size_t bar = line.find(" | "), end = line.rfind(" |");
  if (bar == std::string::npos || end <= bar) return without_marks(line) + "\n";
  return "  " + without_marks(line.substr(2, bar - 2)) + "\n" +
         io::fill("      ", without_marks(line.substr(bar + 3, end - bar - 3)), look.width);
}

// The little Markdown that our own texts use: paragraphs filled to the look's width, headings set apart, each
// row of a table of two columns as its first cell with the second below it.
std::string markdown_text(const std::string& markdown, const Look& look) {
  std::string text, paragraph;
  const auto end_paragraph = [&] {
    if (!paragraph.empty()) text += io::fill("", without_marks(paragraph), look.width);
    paragraph.clear();
  };
  std::istringstream lines(markdown);
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || is_heading(line) || is_row(line)) end_paragraph();
    if (line.empty()) {
      text += "\n";
    } else if (is_heading(line)) {
      text += heading(line, look);
    } else if (is_row(line)) {
      text += row(line, look);
    } else {
      paragraph += line + " ";
    }
  }
  end_paragraph();
  return text;
}

constexpr const char* kSigns = "* stands for a name that you choose, [] for each item of a list.";

bool is_section(const Key& key) { return key.path.find_first_of(".[") == std::string::npos; }

// Words filled behind a margin.
std::string filled(const std::string& margin, const std::string& words, const Look& look) {
  return words.empty() ? "" : io::fill(margin, without_marks(words), look.width);
}

std::string capital(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
    words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words;
}

// A person's words for "map": the keys that follow.
std::string held(const Key& key) {
  std::string text = casefile::holds(key);
  if (key.type == casefile::Type::map) text.replace(0, std::string("map").size(), "the keys below");
  return capital(text) + ".";
}

// A quantity's usual units; a share says its own in words.
std::string units(const Key& key) {
  const bool quantity = key.type == casefile::Type::quantity || key.type == casefile::Type::quantities;
  if (!quantity && !key.or_quantity) return "";
  const std::string examples = casefile::dimension_info(key.dimension).examples;
  if (key.second != casefile::Dimension::other)
    return " Units: " + examples + "; then " + casefile::dimension_info(key.second).examples + ".";
  return examples.empty() ? "" : " Units: " + examples + ".";
}

std::string default_text(const Key& key, const std::string& margin, const Look& look) {
  if (key.required) return filled(margin, "Required" + casefile::required_unless(key) + ".", look);
  if (key.defaults.empty()) return "";
  if (key.defaults.size() == 1 && key.defaults[0].when.empty()) {
    const casefile::Default& only = key.defaults[0];
    return filled(margin, "Without it: " + only.value + " (" + only.why + ").", look);
  }
  std::string text = margin + "Without it:\n";
  for (const casefile::Default& entry : key.defaults) {
    const std::string when = entry.when.empty() ? "" : entry.when + ": ";
    text += filled(margin + "  " + when, entry.value + " (" + entry.why + ")", look);
  }
  return text;
}

std::string section_text(const Key& key, const Look& look) {
  std::string text = inked(key.path, Ink::strong, look) + "\n" + filled("  ", key.says, look);
  text += default_text(key, "  ", look);
  if (key.type == casefile::Type::word)
    text += filled("  ", "It is " + casefile::code_list(key.words) + ".", look);
  return text;
}

std::string key_text(const Key& key, const Look& look) {
  return "  " + inked(key.path, Ink::strong, look) + "\n" + filled("      ", held(key) + units(key), look) +
         filled("      ", casefile::meaning(key), look) + default_text(key, "      ", look);
}

// The keys at these paths of the key table, in order, wrapped to the look's width. Sections get a heading.
std::string keys_text(const std::vector<std::string>& paths, const Look& look) {
  std::string text;
  for (const std::string& path : paths) {
    const Key* key = casefile::find_key(path);
    if (key == nullptr) continue;
    text += (text.empty() ? "" : "\n") + (is_section(*key) ? section_text(*key, look) : key_text(*key, look));
  }
  const bool signs = std::any_of(paths.begin(), paths.end(), [](const std::string& path) {
    return path.find_first_of("*[") != std::string::npos;
  });
  return signs ? text + "\n" + filled("", kSigns, look) : text;
}

// The whole reference: how a file is written, then every section.
std::string reference_text(const Look& look) {
  std::string text = markdown_text(casefile::case_introduction_markdown(), look);
  for (const std::string& section : casefile::section_names())
    text += "\n" + keys_text(casefile::keys_asked_for(section), look);
  return text;
}

constexpr const char* kUsual =
    "if command -v less >/dev/null; then exec less -R; "
    "elif command -v more >/dev/null; then exec more; else exec cat; fi";
constexpr int kNotFound = 127;  // the shell's status for a command that is not there

std::string own_pager() { return io::environment("PAGER"); }

// Signals that are the pager's while it runs: Ctrl-C ends a search there, and its end is no fault of ours.
class Patience {
 public:
  Patience() : interrupt_(signal(SIGINT, SIG_IGN)), pipe_(signal(SIGPIPE, SIG_IGN)) {}
  ~Patience() {
    signal(SIGINT, interrupt_);
    signal(SIGPIPE, pipe_);
  }
  Patience(const Patience&) = delete;
  Patience& operator=(const Patience&) = delete;

 private:
  void (*interrupt_)(int);
  void (*pipe_)(int);
};

// False if there is no such pager. What it does not read is not missed.
bool shown_through(const std::string& pager, const std::string& text) {
  std::fflush(stdout);
  // A program that is started while a signal is ignored ignores it as well, and a pager ends by a closed pipe.
  const auto before = signal(SIGPIPE, SIG_DFL);
  FILE* pipe = popen(pager.c_str(), "w");
  signal(SIGPIPE, before);
  if (pipe == nullptr) return false;
  const Patience patience;
  std::fwrite(text.data(), 1, text.size(), pipe);
  const int status = pclose(pipe);
  return !(WIFEXITED(status) && WEXITSTATUS(status) == kNotFound);
}

// The look of a text that `page` will show: as on standard output, but without colour where the person's own
// pager may not show it.
io::Look paged_look() {
  io::Look result = look();
  if (!own_pager().empty() && own_pager().rfind("less", 0) != 0) result.colour = false;
  return result;
}

// Shows a text on the terminal through $PAGER, else less, else more; where standard output is no terminal,
// writes it there. A pager that is left before the end of the text is no error.
void page(const std::string& text) {
  if (isatty(STDOUT_FILENO) == 0 || io::environment("TERM") == "dumb") {
    say(text);
    return;
  }
  setenv("LESS", "R", 0);  // less shows colour when told so
  const std::string pager = own_pager().empty() ? kUsual : own_pager();
  if (!shown_through(pager, text)) say(text);
}

struct ReferenceOptions {
  std::string asked;
  bool schema = false, markdown = false, generic_json = false;
};

// One generic thing: its name, what it looks like, what it gives, and why.
std::string thing_text(const casefile::GenericThing& thing, const Look& look) {
  std::string gives;
  for (const casefile::Entry& entry : thing.gives.entries)
    gives += (gives.empty() ? "" : "; ") + entry.key + ": " + entry.value.text;
  return "  " + inked(thing.name, Ink::strong, look) + "\n" +
         filled("      ", capital(thing.says) + ". " + gives + " (" + thing.why + ").", look);
}

constexpr const char* kGeneric =
    "Generic things: what a case file may say by name instead of by numbers. What the file states itself "
    "counts "
    "instead. fans, fins, parts and supports take them as `like: NAME`; a grille as `cover: NAME` or `cover: "
    "{like: NAME}`, a support as `NAME` alone too; joins as a path: `joins: {side-fins: heat-pipe-6}`.";

// The generic things that somebody asks for: all of them, or those of one name. Empty: nothing is called so.
std::string generic_text_of(const std::string& asked, const Look& look) {
  std::string text, list;
  for (const casefile::GenericThing& thing : casefile::generic_things()) {
    if (asked != "generic" && asked != thing.name) continue;
    if (thing.list != list) text += "\n" + inked(thing.list, Ink::strong, look) + "\n";
    list = thing.list;
    text += thing_text(thing, look);
  }
  return text.empty() ? "" : filled("", kGeneric, look) + text;
}

void show_part(const std::string& asked) {
  if (const std::string generic = generic_text_of(asked, look()); !generic.empty()) return say(generic);

  const std::vector<std::string> paths = casefile::keys_asked_for(asked);
  if (paths.empty())
    refuse("the reference has no section or key '" + asked + "'; " + casefile::nearest_reference(asked));
  say(keys_text(paths, look()));
}

ExitStatus show(const ReferenceOptions& options) {
  if (options.schema + options.markdown + options.generic_json + !options.asked.empty() > 1)
    refuse("reference shows one thing at a time: a section, --markdown, --schema or --generic-json");
  if (options.generic_json) {
    say(casefile::generic_things_json());
  } else if (options.schema) {
    say(casefile::case_schema_json());
  } else if (options.markdown) {
    say(casefile::case_reference_markdown());
  } else if (!options.asked.empty()) {
    show_part(options.asked);
  } else {
    page(reference_text(paged_look()));
  }
  return ExitStatus::good;
}

std::string sections() {
  std::string text;
  for (const std::string& name : casefile::section_names()) text += (text.empty() ? "{" : ",") + name;
  return text + ",generic}";
}

}  // namespace

void add_reference(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, show, "reference", "Every key of a case file: meaning, unit, default",
      "Examples:\n  tuft reference vents\n  tuft reference 'fans.*.curve'\n  tuft reference hole\n"
      "  tuft reference generic               fans, grilles, fabrics and so on that a file may name\n"
      "  tuft reference                       all of it, on a terminal in $PAGER or less\n"
      "  tuft reference --schema > case.schema.json\n\n"
      "Exit status: 0 shown, 3 there is no such section or key.");
  command
      .add_option("SECTION", options.asked,
                  "A section, a key path such as fans.*.curve, the name of a key, or `generic`: things a "
                  "file may name instead of numbers")
      ->type_name(sections());
  command.add_flag("--markdown", options.markdown,
                   "The whole reference as Markdown, as in docs/case-file.md");
  command.add_flag("--schema", options.schema, "As a JSON Schema, for editors");
  command.add_flag("--generic-json", options.generic_json, "The generic things as JSON, for programs");
}

}  // namespace tuft::cli
