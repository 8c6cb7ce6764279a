#include "solver/physics/strip_law.hpp"

#include <cmath>

#include "solver/physics/strip_roots.hpp"

namespace tuft::physics {
namespace {

using namespace strip;

}  // namespace

double strip_head(const StripLaw& law, double flux) { return head_at(law, flux, roots_at(law, flux)); }

double strip_slope(const StripLaw& law, double flux) { return slope_at(law, flux, roots_at(law, flux)); }

ByLaw strip_head_by_law(const StripLaw& law, double flux) {
  return head_by_law_at(law, flux, roots_at(law, flux));
}

ByLaw strip::head_by_law_at(const StripLaw& law, double j, const Roots& at) {
  ByLaw by;
  by.alpha = j;
  by.upstream = j * at.early.u * at.early.inverse;
  by.inertia = j * (law.beta * j + law.early * at.early.u + law.late * at.late.u);
  // dM/do = -j u/s, dT/do = -j^3/s^3.
  const double rise = j * at.early.inverse;
  by.onset = -law.early * j * at.early.o * at.early.u * at.early.inverse -
             law.late * j * at.late.o * at.late.u * at.late.inverse -
             law.upstream * at.early.o * rise * rise * rise;
  return by;
}

double early_flux(const StripLaw& law, double head) {
  const double beta = law.beta + law.early + law.late;
  const double alpha = law.onset > 0.0 ? law.alpha : law.alpha + law.upstream;
  return 2.0 * head / (alpha + std::sqrt(alpha * alpha + 4.0 * beta * head));
}

double strip_flux(const StripLaw& law, double head) {
  double j = early_flux(law, head);
  if (law.onset == 0.0 || head == 0.0) return j;
  constexpr int kMaxSteps = 30;
  for (int step = 0; step < kMaxSteps; ++step) {
    const Roots at = roots_at(law, j);
    const double slope = slope_at(law, j, at);
    const double newton = (head - head_at(law, j, at)) / slope;
    // Halley's step: its error is about the cube of that before.
    const double change = newton / (1.0 + 0.5 * newton * bend_at(law, j, at) / slope);
    j += change;
    if (std::abs(change) <= 1e-5 * j) break;
  }
  return j;
}

StripIntegral strip_integral(const StripLaw& law, double flux) {
  return integral_of(law, flux, roots_at(law, flux));
}

StripIntegral strip::integral_of(const StripLaw& law, double j, const Roots& at) {
  const auto area = [](const Root& r) { return r.u * r.u * (2.0 * r.u + 3.0 * r.o) / 6.0; };
  const Root& e = at.early;
  StripIntegral out;
  out.value = work_at(law, j, at);
  out.by.alpha = -0.5 * j * j;
  out.by.upstream = -0.5 * e.u * e.u;
  out.by.inertia = -(law.beta * j * j * j / 3.0 + law.early * area(e) + law.late * area(at.late));
  // int j^3/s^3 dj from 0 is u^2/s.
  out.by.onset = 0.5 * (law.early * e.o * e.u * e.u + law.late * at.late.o * at.late.u * at.late.u) +
                 law.upstream * e.o * e.u * e.u * e.inverse;
  return out;
}

StripMean strip_mean(const StripLaw& law, double low_flux, double high_flux) {
  return mean_of(law, low_flux, roots_at(law, low_flux), high_flux, roots_at(law, high_flux));
}

namespace strip {

StripMean mean_of(const StripLaw& law, double j0, const Roots& a, double j1, const Roots& b) {
  const double p = j1 + j0;
  const HeadRange range = range_of(law, j0, a, j1, b);
  const Pair &early = range.early, &late = range.late;
  const double inverse = 1.0 / range.secant;
  StripMean out;
  out.secant = range.secant;
  out.flux = range.work * inverse;
  // T: p^2 o^3/(2 P W D^2) with P = s1 s0, W = j1 s0 + j0 s1, D = s1 + s0.
  const double turned = 0.5 * range.rest * range.cross * p * early.inverse * early.inverse;
  out.by_span =
      -(law.beta / 6.0 + law.early * bend_of(early) + law.late * bend_of(late) + law.upstream * turned) *
      inverse * inverse * inverse;
  out.by.alpha = -0.5 * p * inverse;
  out.by.upstream = -0.5 * early.sum_u * early.ratio * inverse;
  out.by.inertia =
      -(law.beta * range.squares / 3.0 + law.early * area_of(early) + law.late * area_of(late)) * inverse;
  out.by.onset = (law.early * onset_of(early) + law.late * onset_of(late) +
                  law.upstream * law.onset * early.ratio * (1.0 - range.rest)) *
                 inverse;
  return out;
}

}  // namespace strip

StripLaw strip_law(const FaceLaw& law, const SideState& upstream, const SideState& downstream) {
  StripLaw strip;
  const double half = 0.5 * law.viscous;
  strip.alpha = half * (upstream.kinematic + downstream.kinematic);
  strip.upstream = half * (upstream.kinematic - downstream.kinematic);
  strip.early = law.early * upstream.specific_volume;
  strip.late = law.late * upstream.specific_volume;
  strip.beta = (law.inertial - law.early - law.late) * upstream.specific_volume;
  strip.onset = law.onset * upstream.viscosity;
  return strip;
}

}  // namespace tuft::physics
