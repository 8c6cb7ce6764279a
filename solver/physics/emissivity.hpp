// How well surfaces radiate, as far as a thermal camera is concerned.
#pragma once

#include <string>
#include <vector>

#include "solver/physics/reading.hpp"

namespace tuft::instruments {

/// A kind of surface and its emissivity in the band of thermal cameras (8 to 14 um) or over all.
struct Surface {
  std::string name;
  Range emissivity;
  Known known = Known::FromMemory;
  std::string source;
};

/// Surfaces the program knows, in a fixed order. Confirmed ones were seen in emissivity appendices of
/// infrared-camera manuals, which cite Bramson, Wolfe & Zissis, Madding and Ohman.
const std::vector<Surface>& surfaces();

/// The surface of a name; throws std::invalid_argument if not known.
const Surface& surface(const std::string& name);

/// Below this emissivity a camera sees more of the room than of the surface's own warmth than can be
/// corrected for: 0.6 (judgement). Bare metal is far below, whatever its emissivity is set to.
constexpr double least_emissivity = 0.6;

}  // namespace tuft::instruments
