#include "solver/physics/fin_stack.hpp"

#include <algorithm>

#include "solver/numerics/checks.hpp"
#include "solver/physics/ends.hpp"
#include "solver/physics/rectangular_duct.hpp"

namespace tuft::elements {

FaceLaw fin_stack(const FinChannels& channels, double face_area) {
  base::require_positive(channels.count, "number of channels");
  base::require_positive(face_area, "face area");
  const double friction = duct_friction(channels.gap, channels.height, channels.length);
  const double ratio =
      base::require_within(channels.area() / face_area, 0.0, 1.0 + 1e-12, "channel area over face area");
  const double aspect = std::min(channels.gap, channels.height) / std::max(channels.gap, channels.height);
  const double loss = narrowing_loss(ratio) + development_loss(aspect) + widening_loss(ratio);
  return on_face({friction, 0.5 * loss}, ratio);
}

}  // namespace tuft::elements
