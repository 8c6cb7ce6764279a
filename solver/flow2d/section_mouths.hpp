// The vents of a plane as cells just inside the chassis, where air is let out, drawn, or passes by a law.
#pragma once

#include "solver/flow2d/section_model.hpp"

namespace tuft::section {

/// Opens the cells behind every vent that is cut, and gives them their flow. The model's solids are set
/// already.
void add_mouths(const Scene& scene, const SectionGiven& given, Model* model);

}  // namespace tuft::section
