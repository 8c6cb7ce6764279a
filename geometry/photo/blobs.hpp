// Connected dark regions of a mask: how large, how long, where.
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/photo/homography.hpp"

namespace tuft::photo {

/// Samples of a grid that are in (1) or out (0), row by row.
struct Mask {
  int columns = 0, rows = 0;
  std::vector<std::uint8_t> in;
};

/// One region whose samples touch by their sides.
struct Blob {
  double area = 0.0;               ///< [cell areas]
  Vec2 centre = Vec2::Zero();      ///< from the grid's corner [in the unit of `cell`]
  double long_moment = 0.0;        ///< larger and smaller variance of its places about its centre,
  double short_moment = 0.0;       ///< along its own axes [unit^2]
  bool touches_rim = false;        ///< whether it reaches the grid's rim, so that part of it may be cut off
  bool reaches_all_sides = false;  ///< whether it reaches all four sides of the grid
  int column = 0, row = 0;         ///< one of its samples
};

/// All regions, in the order of their first samples. `cell`: size of a sample.
std::vector<Blob> blobs_of(const Mask& mask, const Vec2& cell);

}  // namespace tuft::photo
