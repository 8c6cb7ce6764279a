// The flows of solved plan layers and sections, fit for particles (F40).
#pragma once

#include "geometry/device/device.hpp"
#include "solver/flow2d/layer_result.hpp"
#include "solver/flow2d/section_result.hpp"
#include "solver/flow2d/tracks.hpp"

namespace tuft::flow2d {

/// The layers inside the chassis with what joins them: vents are sources and gates to the outside, named by
/// their index; fans and passages lead from cells to cells; what comes out of a fin stack goes to its exit
/// zone. A vent in the edge of the chassis is a gate in its cells' faces, one in base or top lets the cells
/// leak. Where a vent's cell breathes both ways both are there. Gaps outside of the chassis are left out.
/// `cell`: the side the layers were solved with [m].
TrackFlow track_flow(const geometry::Device& device, const PlanResult& plan, double cell);

/// Where the particles of a section come from.
enum class TrackOrigin {
  vents,  ///< air that the device lets out
  room    ///< air that comes in over the rim of the section
};

/// The section as one grid, per metre across it. Vents are sources where the device lets air out, and gates
/// where it takes air in, named by their index; only the sources of `origin` are there.
TrackFlow track_flow(const SectionResult& section, TrackOrigin origin);

}  // namespace tuft::flow2d
