// tuft reference: every key of a case file, as text, as Markdown or as a JSON Schema.
#include <CLI/CLI.hpp>
#include <memory>

#include "geometry/casefile/reference.hpp"
#include "tools/cli/reference_text.hpp"
#include "tools/cli/commands.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/pager.hpp"

namespace tuft::program {
namespace {

struct Options {
  std::string asked;
  bool schema = false, markdown = false;
};

void show_part(const std::string& asked) {
  const std::vector<std::string> paths = casefile::keys_asked_for(asked);
  if (paths.empty())
    refuse("the reference has no section or key '" + asked + "'; " + casefile::nearest_reference(asked));
  say(start::keys_text(paths, look()));
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
    page(start::reference_text(paged_look()));
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

}  // namespace tuft::program
