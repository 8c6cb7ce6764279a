// Which streamlines a figure shows.
#pragma once

#include <vector>

#include "tools/io/field_lines.hpp"

namespace tuft::output {

/// Streamlines thinned for the eye: each kept when enough of it keeps `apart` [m] from those before it, the
/// longest first. A line that goes round in an eddy ends where it begins to follow itself.
std::vector<FlowLine> thinned(const std::vector<FlowLine>& lines, double apart);

/// The line up to where it comes back to within about half of `apart` [m] of its own way and stays there.
FlowLine without_repeats(const FlowLine& line, double apart);

}  // namespace tuft::output
