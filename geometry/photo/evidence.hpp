// What speaks for dark places in a picture being holes, and what against.
#pragma once

#include <vector>

#include "geometry/photo/blobs.hpp"
#include "geometry/photo/straighten.hpp"

namespace tuft::photo {

/// What the dark regions of a patch look like. Light is relative to that of the shell.
struct Evidence {
  /// Median light in the middles of the dark regions [-]: of a hole into an unlit space next to nothing.
  double dark = 0.0;
  /// Share of these middles that is as dark as the darkest there [-]: 1 where all are evenly dark, less where
  /// something shows within the holes.
  double deep = 1.0;
  /// How much larger the large ones of the whole regions are than the small ones, without a tenth at either
  /// end: the ratio of areas less 1 [-]; infinite where fewer than four are whole, or
  /// less than a quarter of what is dark.
  double unlike = 0.0;
  /// Share of all that is dark in one region that reaches every side of the patch [-]: holes stand apart.
  double joined = 0.0;
};

/// Of a patch that `even_light` has been applied to: its dark regions, and those of them that are no specks.
Evidence evidence_of(const Straight& evened, const Mask& mask, const std::vector<Blob>& regions);

}  // namespace tuft::photo
