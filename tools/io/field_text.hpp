// A field run as text for a terminal.
#pragma once

#include <string>

#include "tools/io/field_run.hpp"
#include "tools/io/look.hpp"

namespace tuft::output {

/// A header line, whether the roles agree and how far flows and temperatures are apart, what to mind about
/// the solution, and a row a vent. Ends with a newline.
std::string field_text(const FieldRun& field, const Look& look);

/// "Roles agree at all 5 vents. Flows differ by ..., temperatures by ...": the difference in words.
std::string agreement_sentence(const FieldRun& field);

}  // namespace tuft::output
