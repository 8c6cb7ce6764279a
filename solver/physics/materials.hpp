// What tell-tales and surfaces are made of: weight, stiffness and emissivity, with uncertainty and source.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "solver/physics/reading.hpp"

namespace tuft::physics {

/// The one of a name; throws std::invalid_argument "<what> = <name>: not known" where there is none.
template <class Thing>
const Thing& named(const std::vector<Thing>& all, const std::string& name, const char* what) {
  for (const Thing& thing : all)
    if (thing.name == name) return thing;
  throw std::invalid_argument(what + (" = " + name) + ": not known");
}

/// A sheet to cut strips from.
struct SheetMaterial {
  std::string name;
  Range area_density;  ///< [kg/m2]
  Range stiffness;     ///< bending stiffness per width of a strip whose length runs with the grain [N m]
  Range drag_factor = {1.0, 1.0, 1.0};  ///< share of a solid strip's drag (a feather lets air through)
};

/// A thread or yarn.
struct ThreadMaterial {
  std::string name;
  Range linear_density;  ///< [kg/m]
  Range diameter;        ///< as the air sees it, fuzz included [m]
  Range stiffness;       ///< bending stiffness [N m2]
};

/// Sheets the program knows; a fixed order; materials.cpp says where each number comes from. A name not known
/// throws std::invalid_argument in `sheet`.
const std::vector<SheetMaterial>& sheet_materials();
const SheetMaterial& sheet(const std::string& name);

/// Threads the program knows; likewise.
const std::vector<ThreadMaterial>& thread_materials();
const ThreadMaterial& thread(const std::string& name);

// How well surfaces radiate, as far as a thermal camera is concerned.

/// A kind of surface and its emissivity in the band of thermal cameras (8 to 14 um) or over all.
struct SurfaceFinish {
  std::string name;
  Range emissivity;
};

/// Surfaces the program knows, in a fixed order; materials.cpp says where each number comes from.
const std::vector<SurfaceFinish>& surfaces();

/// The surface of a name; throws std::invalid_argument if not known.
const SurfaceFinish& surface(const std::string& name);

/// Below this emissivity a camera sees more of the room than of the surface's own warmth than can be
/// corrected for: 0.6 (judgement). Bare metal is far below, whatever its emissivity is set to.
constexpr double least_emissivity = 0.6;

}  // namespace tuft::physics
