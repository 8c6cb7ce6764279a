// Colour maps whose steps look alike, computed from a construction of our own.
//
// A sequential map runs through OKLab with lightness falling evenly while the hue moves at even pace along an
// arc of a circle in the plane of a and b: every step of the value is the same distance in OKLab. It starts
// near the colour of paper, so that nothing looks like nothing, and prints well in grey. A diverging map is
// two straight lines in OKLab from near white to two hues that people with any colour vision tell apart.
#pragma once

#include "tools/figure/colour.hpp"

namespace tuft::figure {

enum class MapKind {
  cool,      ///< sequential: sand, sea green, indigo. Speeds, flows
  warm,      ///< sequential: sand, coral, aubergine. Temperatures
  diverging  ///< blue, near white, brown: below and above a middle. Pressures
};

/// The colour at a place, 0..1; held to the ends outside, and for NaN the start.
Oklab map_colour(MapKind kind, double place);

/// The same as bytes.
Rgb map_rgb(MapKind kind, double place);

}  // namespace tuft::figure
