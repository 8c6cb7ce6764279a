#include "solver/physics/ends.hpp"

namespace tuft::elements {

double free_jet_share(double thickness_over_hole) {
  const double x = thickness_over_hole / 0.68;
  return 1.0 / (1.0 + x * x * x * x);
}

}  // namespace tuft::elements
