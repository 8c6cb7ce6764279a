#include "solver/physics/slot_comb.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/ends.hpp"
#include "solver/physics/perforated.hpp"

namespace tuft::physics {

namespace {

using numerics::kPi;

}  // namespace

// Creeping flow through the plane z = 0 is symmetric, so the velocity along the plate vanishes on all of it,
// and the flow is v = z grad(phi) - phi e_z with phi harmonic and p = 2 mu d(phi)/dz + const. On the webs phi
// = 0, in the slots p is constant by antisymmetry, so d(phi)/dz = -c with 2 mu c = dp/2. phi + c z is then
// the potential of a uniform field passing a grating of strips; far away it exceeds c z by (c L/pi)(-ln
// cos(pi f/2)), L the pitch. That excess is the mean velocity w: dp = 4 pi mu w / (L (-ln cos(pi f/2))), L =
// slot/f.
double slot_grating_creep(double open_ratio, double slot) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const double s = numerics::require_positive(slot, "slot width");
  if (f == 1.0) return 0.0;
  const double sine = std::sin(0.5 * kPi * f);
  // -ln cos x = -0.5 ln(1 - sin^2 x), which keeps its digits for small x.
  return 4.0 * kPi * f / (s * -0.5 * std::log1p(-sine * sine));
}

FaceLaw slot_sheet(double open_ratio, double slot, double thickness) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const double s = numerics::require_positive(slot, "slot width");
  const double t = numerics::require_not_negative(thickness, "sheet thickness");
  const double thin_share = free_jet_share(t / (2.0 * s));
  const double loss = thin_share * thin_plate_loss(f) + (1.0 - thin_share) * thick_plate_loss(f);
  // Webs that leave everything open are no webs: what they do to slow flow fades over the last tenth.
  // (Infinitely thin webs would still drag, as 1/ln of their width.)
  const double webs = std::min(1.0, (1.0 - f) / 0.1);
  const double friction = 12.0 * t / (s * s) / f;
  return {webs * (slot_grating_creep(f, s) + friction), 0.5 * loss};
}

FaceLaw slot_comb(double open_ratio, double slot, double thickness, const Opening& face) {
  return cover_in_wall(slot_sheet(open_ratio, slot, thickness), face, thickness);
}

}  // namespace tuft::physics
