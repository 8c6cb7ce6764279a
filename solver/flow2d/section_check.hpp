// What of a section's input cannot be.
#pragma once

#include "solver/flow2d/section_solve.hpp"

namespace tuft::section {

/// Each throws std::invalid_argument with name, value and the broken rule.
void check_given(const geometry::Device& device, const SectionGiven& given);
void check_options(const SectionOptions& options);
void check_plane(const geometry::Device& device, const Plane& plane);

}  // namespace tuft::section
