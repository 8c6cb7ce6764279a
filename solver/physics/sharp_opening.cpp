#include "solver/physics/sharp_opening.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/ends.hpp"
#include "solver/physics/rectangular_duct.hpp"

namespace tuft::elements {

namespace {

using base::kPi;

/// Creeping limits: viscous coefficient times the hole's size [-].
constexpr double round_creep = 6.0 * kPi;  // on the diameter
constexpr double slot_creep = 32.0 / kPi;  // on the width

/// Half the loss coefficient of a hole whose thickness over hydraulic diameter is given.
double hole_inertia(double relative_thickness) {
  const double thin = 0.5 / (sharp_edge_discharge * sharp_edge_discharge);
  const double thick = 0.5 * (flush_entry_loss + exit_loss);
  return thick + (thin - thick) * free_jet_share(relative_thickness);
}

}  // namespace

FaceLaw sharp_slot(double width, double thickness) {
  const double s = base::require_positive(width, "slot width");
  const double t = base::require_not_negative(thickness, "wall thickness");
  return {slot_creep / s + 12.0 * t / (s * s), hole_inertia(t / (2.0 * s))};
}

FaceLaw sharp_rectangle(const Opening& opening, double thickness) {
  const double short_side = base::require_positive(std::min(opening.width, opening.height), "opening side");
  const double long_side = base::require_positive(std::max(opening.width, opening.height), "opening side");
  const double t = base::require_not_negative(thickness, "wall thickness");
  const double aspect = short_side / long_side;
  // A square is taken as the round hole of its area, d = 2 s / sqrt(pi).
  const double square_creep = round_creep * 0.5 * std::sqrt(kPi);
  const double creep = (slot_creep + (square_creep - slot_creep) * aspect) / short_side;
  return {creep + duct_friction(short_side, long_side, t),
          hole_inertia(t / hydraulic_diameter(short_side, long_side))};
}

}  // namespace tuft::elements
