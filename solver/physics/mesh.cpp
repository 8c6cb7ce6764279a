#include "solver/physics/mesh.hpp"

#include "solver/numerics/checks.hpp"

namespace tuft::physics {

namespace {

// beta = level + slope / Re, least worst relative error over the table (see the header).
constexpr double beta_level = 0.502;
constexpr double beta_slope = 17.25;

}  // namespace

FaceLaw mesh_screen(double open_ratio, double gap) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const double s = numerics::require_positive(gap, "mesh gap");
  const double shape = (1.0 - f * f) / (f * f);
  return {0.5 * beta_slope * shape / s, 0.5 * beta_level * shape};
}

FaceLaw mesh(double open_ratio, double gap, double thickness, const Opening& face) {
  return cover_in_wall(mesh_screen(open_ratio, gap), face, thickness);
}

}  // namespace tuft::physics
