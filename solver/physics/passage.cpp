#include "solver/physics/passage.hpp"

#include <algorithm>

#include "solver/numerics/checks.hpp"
#include "solver/physics/ends.hpp"
#include "solver/physics/rectangular_duct.hpp"
#include "solver/physics/sharp_opening.hpp"

namespace tuft::elements {

FaceLaw passage(const Duct& duct) {
  const double bends = base::require_not_negative(duct.bends, "bends");
  // The hole in the wall, of the passage's length as thickness, brings creep, friction, entry and exit.
  const FaceLaw hole = sharp_rectangle({duct.width, duct.height}, duct.length);
  const double aspect = std::min(duct.width, duct.height) / std::max(duct.width, duct.height);
  const double relative_length = duct.length / hydraulic_diameter(duct.width, duct.height);
  const double development = development_loss(aspect) * (1.0 - free_jet_share(relative_length));
  return {hole.viscous, hole.inertial + 0.5 * (development + bends * right_angle_loss)};
}

}  // namespace tuft::elements
