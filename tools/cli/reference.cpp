// tuft reference: every key of a case file, as text, as Markdown or as a JSON Schema.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <cstdlib>
#include <memory>

#include "geometry/casefile/reference.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/reference_text.hpp"

namespace tuft::cli {
namespace {

constexpr const char* kUsual =
    "if command -v less >/dev/null; then exec less -R; "
    "elif command -v more >/dev/null; then exec more; else exec cat; fi";
constexpr int kNotFound = 127;  // the shell's status for a command that is not there

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

std::string own_pager() { return environment("PAGER"); }

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
  FILE* pipe = popen(pager.c_str(), "w");
  if (pipe == nullptr) return false;
  // Not before: a program that is started while a signal is ignored ignores it as well.
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
  if (isatty(STDOUT_FILENO) == 0 || environment("TERM") == "dumb") {
    say(text);
    return;
  }
  setenv("LESS", "R", 0);  // less shows colour when told so
  const std::string pager = own_pager().empty() ? kUsual : own_pager();
  if (!shown_through(pager, text)) say(text);
}

struct Options {
  std::string asked;
  bool schema = false, markdown = false;
};

void show_part(const std::string& asked) {
  const std::vector<std::string> paths = casefile::keys_asked_for(asked);
  if (paths.empty())
    refuse("the reference has no section or key '" + asked + "'; " + casefile::nearest_reference(asked));
  say(cli::keys_text(paths, look()));
}

void show(const Options& options) {
  if (options.schema + options.markdown + !options.asked.empty() > 1)
    refuse("reference shows one thing at a time: a section, --markdown or --schema");
  if (options.schema) {
    say(casefile::case_schema_json());
  } else if (options.markdown) {
    say(casefile::case_reference_markdown());
  } else if (!options.asked.empty()) {
    show_part(options.asked);
  } else {
    page(cli::reference_text(paged_look()));
  }
}

std::string sections() {
  std::string text;
  for (const std::string& name : casefile::section_names()) text += (text.empty() ? "{" : ",") + name;
  return text + "}";
}

}  // namespace

void add_reference(CLI::App& app, ExitStatus& status) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("reference", "Every key of a case file: meaning, unit, default");
  command
      ->add_option("SECTION", options->asked,
                   "One section; or a key path such as fans.*.curve, or a key's name")
      ->type_name(sections());
  command->add_flag("--markdown", options->markdown, "The whole as Markdown, as in docs/case-file.md");
  command->add_flag("--schema", options->schema, "As a JSON Schema, for editors");
  command->footer(
      "Examples:\n  tuft reference vents\n  tuft reference 'fans.*.curve'\n  tuft reference hole\n"
      "  tuft reference                       all of it, on a terminal in $PAGER or less\n"
      "  tuft reference --schema > case.schema.json\n\n"
      "Exit status: 0 shown, 3 there is no such section or key.");
  command->callback([options, &status] {
    show(*options);
    status = ExitStatus::good;
  });
}

}  // namespace tuft::cli
