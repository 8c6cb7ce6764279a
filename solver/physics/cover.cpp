#include "solver/physics/cover.hpp"

#include <cmath>

#include "solver/physics/ends.hpp"

namespace tuft::physics {

FaceLaw cover_in_wall(const FaceLaw& cover, const Opening& face, double thickness) {
  const FaceLaw bare = sharp_rectangle(face, thickness);
  const double ends = 0.5 * (flush_entry_loss + exit_loss);
  // Contraction of the bare hole beyond its two ends; 0 in a wall so thick that the jet fills the hole.
  const double excess = bare.inertial - ends;
  const double left = excess > 0.0 ? excess * std::exp(-cover.inertial / (2.0 * excess)) : excess;
  return {cover.viscous + bare.viscous, cover.inertial + ends + left};
}

}  // namespace tuft::physics
