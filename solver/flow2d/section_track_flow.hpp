// The flows of a solved section, fit for particles (F40).
#pragma once

#include "solver/flow2d/tracks.hpp"
#include "solver/flow2d/section_result.hpp"

namespace tuft::section {

/// Where the particles of a section come from.
enum class TrackOrigin {
  vents,  ///< air that the device lets out
  room    ///< air that comes in over the rim of the section
};

/// The section as one grid, per metre across it. Vents are sources where the device lets air out, and gates
/// where it takes air in, named by their index; only the sources of `origin` are there.
field::TrackFlow track_flow(const SectionResult& section, TrackOrigin origin);

}  // namespace tuft::section
