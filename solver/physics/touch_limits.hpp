// Published limits of the temperature of surfaces that are touched.
//
// CAUTION. This is no assessment of safety. The numbers are there to be put beside a computed temperature,
// which itself has a spread. Whether a product is safe to touch is decided by the standard that applies to
// it, in its valid edition and with its own conditions, and by a licensed test body.
#pragma once

namespace tuft::physics {

/// Materials the table knows.
enum class TouchMaterial { metal, glass, plastic, wood };

/// How a number was seen.
enum class Provenance {
  confirmed,   ///< in a public text that reproduces the source
  from_memory  ///< not seen in a text
};

/// One entry: limit [K] and where it comes from.
struct TouchLimit {
  double temperature = 0.0;
  Provenance provenance = Provenance::from_memory;
};

/// Limit for touching a material for a duration [s] > 0, for surfaces that anyone may touch (TS1): IEC
/// 62368-1 (table 42 of the early editions, 38 of later ones), at a room temperature of 25 C and not to be
/// scaled with it; as reproduced in a public brief of a certification body: metal and plastic confirmed
/// there, glass and wood from memory. A duration on the border of two rows gets the lower limit. Throws
/// std::invalid_argument for a duration that is not positive. No assessment of safety: see the caution at the
/// top of this file.
TouchLimit touch_limit(TouchMaterial material, double duration);

}  // namespace tuft::physics
