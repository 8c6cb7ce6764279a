// tuft reference: every key of a case file, as text or as a JSON Schema.
#include <CLI/CLI.hpp>
#include <memory>

#include "geometry/casefile/reference.hpp"
#include "tools/tuft/commands.hpp"
#include "tools/tuft/console.hpp"

namespace tuft::program {

void add_reference(CLI::App& app, ExitStatus& status) {
  auto schema = std::make_shared<bool>(false);
  CLI::App* command = app.add_subcommand("reference", "Every key of a case file: meaning, unit, default");
  command->add_flag("--schema", *schema, "As a JSON Schema, for editors");
  command->footer("Examples:\n  tuft reference\n  tuft reference --schema > case.schema.json");
  command->callback([schema, &status] {
    say(*schema ? casefile::case_schema_json() : casefile::case_reference_markdown());
    status = ExitStatus::good;
  });
}

}  // namespace tuft::program
