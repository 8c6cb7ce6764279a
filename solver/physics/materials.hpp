// What tell-tales are made of: weight and stiffness, with doubt and source.
#pragma once

#include <string>
#include <vector>

#include "solver/physics/reading.hpp"

namespace tuft::instruments {

/// A sheet to cut strips from.
struct SheetMaterial {
  std::string name;
  Range area_density;  ///< [kg/m2]
  Range stiffness;     ///< bending stiffness per width of a strip whose length runs with the grain [N m]
  Range drag_factor = {1.0, 1.0, 1.0};  ///< share of a solid strip's drag (a feather lets air through)
  Known weight_known = Known::FromMemory;
  Known stiffness_known = Known::FromMemory;
  std::string source;
};

/// A thread or yarn.
struct ThreadMaterial {
  std::string name;
  Range linear_density;  ///< [kg/m]
  Range diameter;        ///< as the air sees it, fuzz included [m]
  Range stiffness;       ///< bending stiffness [N m2]
  Known weight_known = Known::FromMemory;
  Known stiffness_known = Known::FromMemory;
  std::string source;
};

/// Sheets the program knows; a fixed order. A name not known throws std::invalid_argument in `sheet`.
const std::vector<SheetMaterial>& sheet_materials();
const SheetMaterial& sheet(const std::string& name);

/// Threads the program knows; likewise.
const std::vector<ThreadMaterial>& thread_materials();
const ThreadMaterial& thread(const std::string& name);

}  // namespace tuft::instruments
