// Published limits of the temperature of surfaces that are touched.
//
// CAUTION. This is no assessment of safety. The numbers are there to be put beside a computed temperature,
// which itself has a spread. Whether a product is safe to touch is decided by the standard that applies to
// it, in its valid edition and with its own conditions, and by a licensed test body.
#pragma once

#include <array>

#include "solver/base/constants.hpp"

namespace tuft::elements {

/// Materials the table knows.
enum class TouchMaterial { Metal, Glass, Plastic, Wood };

/// Class of thermal source: TS1 may be touched by anyone, TS2 by a person who is warned or instructed.
enum class TouchClass { TS1, TS2 };

/// How a number was seen.
enum class Provenance {
  Confirmed,  ///< in a public text that reproduces the source
  FromMemory  ///< not seen in a text
};

/// One entry: limit [K] and where it comes from.
struct TouchLimit {
  double temperature = 0.0;
  Provenance provenance = Provenance::FromMemory;
};

/// Limits of one range of contact durations, in the order of TouchMaterial.
struct TouchRow {
  double shorter_than = 0.0;  ///< the row holds for contacts shorter than this [s], and not in an earlier row
  std::array<TouchLimit, 4> limits;
};

/// IEC 62368-1 (table 42 of the early editions, 38 of later ones), TS1, at a room temperature of 25 C and not
/// to be scaled with it; as reproduced in a public brief of a certification body: metal and plastic confirmed
/// there, glass and wood from memory.
const std::array<TouchRow, 4>& touch_table();

/// What TS2 is above TS1 [K] (confirmed as above).
constexpr double touch_class_step = 10.0;

/// Limit for touching a material for a duration [s] > 0. A duration on the border of two rows gets the lower
/// limit. Throws std::invalid_argument for a duration that is not positive. No assessment of safety: see the
/// caution at the top of this file.
TouchLimit touch_limit(TouchMaterial material, double duration, TouchClass touch_class = TouchClass::TS1);

/// Burn threshold for contact of 8 hours and longer, any material [K]: 43 C, ISO 13732-1:2006 (confirmed in
/// two public texts that cite it). For what is worn on the body.
constexpr double prolonged_contact_threshold = 43.0 + base::kZeroCelsius;

}  // namespace tuft::elements
