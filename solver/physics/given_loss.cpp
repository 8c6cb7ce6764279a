#include "solver/physics/given_loss.hpp"

#include "solver/numerics/checks.hpp"

namespace tuft::physics {

FaceLaw given_loss(double loss, const Opening& face) {
  const double k = numerics::require_positive(loss, "loss coefficient");
  return {sharp_rectangle(face, 0.0).viscous, 0.5 * k};
}

}  // namespace tuft::physics
