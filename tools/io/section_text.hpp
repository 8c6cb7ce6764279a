// A section as text for a terminal.
#pragma once

#include <string>

#include "tools/io/field_run.hpp"
#include "tools/io/look.hpp"

namespace tuft::output {

/// Where the section lies and why, how it was found, what intakes draw again of what outlets let out, and,
/// where that was fed back to the network, what it changed there. Ends with a newline. `field.section` is
/// set.
std::string section_text(const FieldRun& field, const Look& look);

/// "across x at 206 mm": where a plane lies.
std::string plane_words(const section::Plane& plane);

}  // namespace tuft::output
