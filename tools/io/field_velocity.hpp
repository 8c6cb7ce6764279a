// The velocity of a plan layer at the corners of its cells, fit for streamlines. For field_lines.cpp.
#pragma once

#include <vector>

#include "geometry/device/device.hpp"
#include "tools/io/field_lines.hpp"

namespace tuft::output {

/// Velocities at the corners of the cells, (nx+1) by (ny+1), x fastest [m/s], and which faces let air pass.
struct CornerVelocity {
  field::Array2 u, v;
  field::Mask open_x;  ///< (nx+1) by ny: air passes the face across x
  field::Mask open_y;  ///< nx by (ny+1)
};

/// From the faces of the cells: the mean of the two faces at a corner. At walls air slides along: across them
/// the corners of a face without flow have no velocity, so a bilinear field on these corners crosses no wall.
/// Vents in the edge of the chassis let air through the faces before them: `ends` says how much. Without a
/// device there are none such.
CornerVelocity corner_velocity(const geometry::Device* device, const plan::LayerFields& layer,
                               const std::vector<std::vector<CellEnd>>& ends);

}  // namespace tuft::output
