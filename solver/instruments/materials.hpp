// What tell-tales are made of: weight and stiffness, with doubt and source.
#pragma once

#include <string>
#include <vector>

#include "solver/instruments/reading.hpp"

namespace tuft::instruments {

// By definition of the units: 1 tex = 1 g/km, 1 den = 1 g/9 km, Nm = km/kg (metric count).

/// Mass per length [kg/m] of a yarn of a count in tex.
constexpr double linear_density_of_tex(double tex) { return tex * 1e-6; }
/// Mass per length [kg/m] of a yarn of a count in denier.
constexpr double linear_density_of_denier(double denier) { return denier * 1e-3 / 9000.0; }
/// Mass per length [kg/m] of a yarn of a metric count [km/kg].
constexpr double linear_density_of_metric_count(double count) { return 1e-3 / count; }
/// Count in tex of a yarn of which a ball of a mass [kg] runs a length [m].
constexpr double tex_of_ball(double mass, double length) { return mass / length * 1e6; }
/// Mass per area [kg/m2] of a grammage in g/m2.
constexpr double area_density_of_grammage(double grammage) { return grammage * 1e-3; }

/// Which way a strip is cut from a sheet.
enum class Grain {
  Along,  ///< its length runs with the machine direction, where paper is stiffer
  Across
};

/// A sheet to cut strips from.
struct SheetMaterial {
  std::string name;
  Range area_density;                   ///< [kg/m2]
  Range stiffness_along;                ///< bending stiffness per width, bent along the grain [N m]
  Range stiffness_across;               ///< bent across it [N m]
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
