#include "solver/physics/cover.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/numerics/curves.hpp"

namespace tuft::physics {
namespace {

using numerics::kPi;

// Blevins 1984, as transcribed in python3-fluids: loss coefficient by open ratio.
constexpr double table_ratio[] = {0.10, 0.15, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50,
                                  0.55, 0.60, 0.65, 0.70, 0.75, 0.80, 0.85, 0.90};
constexpr double table_loss[] = {250.0, 85.0, 52.0, 30.0, 17.0, 11.0, 7.7,  5.5, 3.8,
                                 2.8,   2.0,  1.5,  1.1,  0.78, 0.53, 0.35, 0.08};

const numerics::MonotoneCubic& log_loss() {
  static const numerics::MonotoneCubic curve = [] {
    std::vector<double> ratio(std::begin(table_ratio), std::end(table_ratio));
    std::vector<double> loss;
    for (const double k : table_loss) loss.push_back(std::log(k));
    return numerics::MonotoneCubic(ratio, loss);
  }();
  return curve;
}

/// Sudden widening behind free jets of Kirchhoff's contraction pi/(pi + 2), of which a sparse plate consists.
double jet_loss(double open_ratio) {
  constexpr double contraction = kPi / (kPi + 2.0);
  const double x = 1.0 / (contraction * open_ratio) - 1.0;
  return x * x;
}

/// Sudden widening behind streams that fill the free area, up to a constant factor.
double widening_shape(double open_ratio) {
  const double x = (1.0 - open_ratio) / open_ratio;
  return x * x;
}

/// Share that is left of what webs, hole walls or blades do to slow flow, as they thin out towards an open
/// ratio of 1.
double web_share(double open_ratio) { return std::min(1.0, (1.0 - open_ratio) / 0.1); }

/// Loss coefficient of a sheet whose holes are so deep against their width.
double sheet_loss(double open_ratio, double relative_thickness) {
  const double thin_share = free_jet_share(relative_thickness);
  return thin_share * thin_plate_loss(open_ratio) + (1.0 - thin_share) * thick_plate_loss(open_ratio);
}

/// Reynolds number on gap or pore from which the air in it has the upstream side's state (judgement: that of
/// a hole's onset; only its order matters).
constexpr double pore_onset = 10.0;

/// What neighbours take off the creep through a hole of a square lattice: Rayleigh's sum of their pressure
/// fields, 1 - 0.344 f^1.5, and a second term that meets the solutions of tests/published/hole_flow at open
/// ratios of 0.3 and 0.55.
double lattice_creep(double open_ratio) {
  const double f = open_ratio;
  return 1.0 - 0.344 * f * std::sqrt(f) - 0.31 * f * f * f;
}

constexpr double share_of_thick_plate = 0.9;  // of louvres; judgement, see the header

// Mesh: beta = level + slope / Re, least worst relative error over the table (see the header).
constexpr double beta_level = 0.502;
constexpr double beta_slope = 17.25;

}  // namespace

FaceLaw cover_in_wall(const FaceLaw& cover, const Opening& face, double thickness) {
  const FaceLaw bare = sharp_rectangle(face, thickness);
  const double ends = 0.5 * (flush_entry_loss + exit_loss);
  // Contraction of the bare hole beyond its two ends; 0 in a wall so thick that the jet fills the hole.
  const double excess = bare.inertial - ends;
  const double left = excess > 0.0 ? excess * std::exp(-cover.inertial / (2.0 * excess)) : excess;
  // What sets in late of the bare hole's loss goes with its contraction.
  const double share = excess > 0.0 ? left / excess : 1.0;
  FaceLaw law = in_series(cover, {bare.viscous, 0.0, share * bare.early, share * bare.late, bare.onset});
  law.inertial = cover.inertial + ends + left;
  return law;
}

double thin_plate_loss(double open_ratio) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const numerics::MonotoneCubic& curve = log_loss();
  const double low = curve.x().front(), high = curve.x().back();
  if (f < low) return std::exp(curve.y().front()) * jet_loss(f) / jet_loss(low);
  if (f > high) return std::exp(curve.y().back()) * widening_shape(f) / widening_shape(high);
  return std::exp(curve(f).value);
}

double thick_plate_loss(double open_ratio) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  return (0.5 * (1.0 - f) + 1.0 - f * f) / (f * f);
}

FaceLaw perforated_sheet(double open_ratio, double hole, double thickness) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const double d = numerics::require_positive(hole, "hole diameter");
  const double t = numerics::require_not_negative(thickness, "sheet thickness");
  const double creep = 6.0 * kPi / d * lattice_creep(f) * web_share(f);
  const double friction = 32.0 * t / (d * d) * web_share(f);
  const FaceLaw one{creep + friction, 0.5 * sheet_loss(f, t / d) * f * f};
  return on_face(with_onset(one, {f, t / d, d, 1.0}), f);
}

FaceLaw mesh_screen(double open_ratio, double gap) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const double s = numerics::require_positive(gap, "mesh gap");
  const double shape = (1.0 - f * f) / (f * f);
  return {0.5 * beta_slope * shape / s, 0.5 * beta_level * shape, 0.0, 0.0, pore_onset / s};
}

FaceLaw louvre_blades(double open_ratio, double gap, double depth) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const double s = numerics::require_positive(gap, "blade gap");
  const double t = numerics::require_not_negative(depth, "blade depth");
  const double friction = 12.0 * std::sqrt(2.0) * t / (s * s) * web_share(f);
  return {friction / f, 0.5 * share_of_thick_plate * thick_plate_loss(f), 0.0, 0.0, pore_onset * f / s};
}

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
  // Webs that leave everything open are no webs: what they do to slow flow fades over the last tenth.
  // (Infinitely thin webs would still drag, as 1/ln of their width.)
  const double friction = 12.0 * t / (s * s) / f;
  const double relative = t / (2.0 * s);
  const FaceLaw one{web_share(f) * (slot_grating_creep(f, s) + friction) * f,
                    0.5 * sheet_loss(f, relative) * f * f};
  return on_face(with_onset(one, {f, relative, s, 0.0}), f);
}

FaceLaw foam_layer(double permeability, double inertia, double thickness) {
  const double k = numerics::require_positive(permeability, "permeability");
  const double c = numerics::require_not_negative(inertia, "Forchheimer coefficient");
  const double t = numerics::require_not_negative(thickness, "layer thickness");
  return {t / k, t * c, 0.0, 0.0, pore_onset / (10.0 * std::sqrt(k))};  // pores of some 10 sqrt(k)
}

FaceLaw given_loss(double loss, const Opening& face) {
  const double k = numerics::require_positive(loss, "loss coefficient");
  const FaceLaw bare = sharp_rectangle(face, 0.0);
  return {bare.viscous, 0.5 * k, 0.0, 0.0, bare.onset};
}

}  // namespace tuft::physics
