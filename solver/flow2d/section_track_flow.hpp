// The flows of a solved section, fit for particles (F40).
#pragma once

#include "solver/flow2d/section_result.hpp"
#include "solver/flow2d/tracks.hpp"

namespace tuft::flow2d {

/// Where the particles of a section come from.
enum class TrackOrigin {
  vents,  ///< air that the device lets out
  room    ///< air that comes in over the rim of the section
};

/// The section as one grid, per metre across it. Vents are sources where the device lets air out, and gates
/// where it takes air in, named by their index; only the sources of `origin` are there.
flow2d::TrackFlow track_flow(const SectionResult& section, TrackOrigin origin);

}  // namespace tuft::flow2d
