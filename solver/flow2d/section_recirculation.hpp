// The way back from a section to the network: what the intakes take back.
#pragma once

#include "geometry/device/condition.hpp"
#include "solver/flow2d/section_result.hpp"

namespace tuft::flow2d {

/// The case with the section's recirculation fractions as `recirculates` of its vents, which
/// network::assemble turns into links. Entries the case has for pairs that the section cut are replaced,
/// others stay; where all entries of an intake would add to more than 1, the section's are lowered to what
/// the others leave. Fractions below `least` are left out, but where their highest is above it. A result that
/// is not usable changes nothing.
///
/// Each fraction carries its uncertainty: it lies anywhere between its lowest and highest (Reentry), and is
/// an uncertain input of the case, "vents.INTAKE.recirculates.OUTLET", so that samples of the network vary
/// it.
geometry::Case with_recirculation(const geometry::Case& content, const SectionResult& result,
                                  double least = 1e-6);

/// The same case with every fraction of the section at the lowest, or at the highest, of its uncertainty.
geometry::Case at_bound(geometry::Case with_recirculation, const SectionResult& result, bool highest);

}  // namespace tuft::flow2d
