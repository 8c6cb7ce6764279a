#include "solver/physics/two_way_flow.hpp"

#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::physics {
namespace {

// The whole opening flows forward: heads low..high >= 0.
GrossFlux one_way(double low, double high, const StripLaw& law) {
  const double span = high - low;
  const double j1 = strip_flux(law, high);
  const StripMean mean = strip_mean(law, span > 0.0 ? strip_flux(law, low) : j1, j1);
  GrossFlux out;
  out.flux = mean.flux;
  out.d_head = 1.0 / mean.secant;
  out.d_span = span * mean.by_span;
  out.by = mean.by;
  return out;
}

ByLaw scaled(const ByLaw& by, double factor) {
  return {by.alpha * factor, by.upstream * factor, by.inertia * factor, by.onset * factor};
}

// Only the strips above the neutral line flow forward: highest head `high` > 0, lowest < 0.
GrossFlux partly(double high, double span, const StripLaw& law) {
  const double j = strip_flux(law, high);
  const StripIntegral integral = strip_integral(law, j);
  GrossFlux out;
  out.flux = integral.value / span;
  out.d_head = j / span;
  out.d_span = (0.5 * j - out.flux) / span;
  out.by = scaled(integral.by, 1.0 / span);
  return out;
}

// E2 without span.
double head_at(double net, const FluxLaw& law) {
  return net >= 0.0 ? strip_head(law.forward, net) : -strip_head(law.backward, -net);
}

void fill_gross(OpeningState& state, double span, const FluxLaw& law) {
  state.forward = gross_flux(state.head, span, law.forward);
  state.backward = gross_flux(-state.head, span, law.backward);
  state.backward.d_head = -state.backward.d_head;
}

// One direction only, all strips alike.
void fill_level(OpeningState& state, double net, const FluxLaw& law) {
  const bool forward = net >= 0.0;
  const StripLaw& strip = forward ? law.forward : law.backward;
  const double flux = std::abs(net);
  state.slope = strip_slope(strip, flux);
  const ByLaw by = strip_head_by_law(strip, flux);
  GrossFlux& gross = forward ? state.forward : state.backward;
  gross.flux = flux;
  gross.d_head = (forward ? 1.0 : -1.0) / state.slope;
  gross.by = scaled(by, -1.0 / state.slope);
  (forward ? state.by.forward : state.by.backward) = scaled(by, forward ? 1.0 : -1.0);
}

constexpr double kPurgeRatio = 0.20 / 0.055;  // flooding flow over exchange flow at no net flow
constexpr double kPurgeExponent = 2.3;

}  // namespace

FluxLaw flux_law(const FaceLaw& law, const SideState& a, const SideState& b) {
  return {strip_law(law, a, b), strip_law(law, b, a)};
}

StripLaw mean_strip(const FluxLaw& law) {
  const StripLaw& f = law.forward;
  const StripLaw& b = law.backward;
  return {0.5 * (f.alpha + b.alpha), 0.5 * (f.upstream + b.upstream), 0.5 * (f.beta + b.beta),
          0.5 * (f.early + b.early), 0.5 * (f.late + b.late),         0.5 * (f.onset + b.onset)};
}

GrossFlux gross_flux(double head, double span, const StripLaw& law) {
  const double high = head + 0.5 * span;
  const double low = head - 0.5 * span;
  if (high <= 0.0) return {};
  if (low >= 0.0) return one_way(low, high, law);
  return partly(high, span, law);
}

OpeningState opening_at_flux(double net, double span, const FluxLaw& law) {
  OpeningState state;
  state.head = head_at(net, law);
  if (!(span > 0.0)) {
    fill_level(state, net, law);
    return state;
  }
  fill_gross(state, span, law);
  constexpr int kMaxSteps = 40;
  for (int step = 0; step < kMaxSteps; ++step) {
    const double rise = state.forward.d_head - state.backward.d_head;
    const double change = (net - (state.forward.flux - state.backward.flux)) / rise;
    state.head += change;
    fill_gross(state, span, law);
    // The step after this one would change the head by the square of this change, below round-off.
    if (std::abs(change) <= 1e-9 * (std::abs(state.head) + span)) break;
  }
  state.slope = 1.0 / (state.forward.d_head - state.backward.d_head);
  state.by.forward = scaled(state.forward.by, -state.slope);
  state.by.backward = scaled(state.backward.by, state.slope);
  state.by.span = -state.slope * (state.forward.d_span - state.backward.d_span);
  return state;
}

double equivalent_span(double along_width, double along_height) {
  return std::sqrt(along_width * along_width + along_height * along_height);
}

double epstein_coefficient(double length_over_diameter) {
  const double x = length_over_diameter;
  const double duct = 1.0 + 400.0 * x * x * x;
  const double x2 = x * x;
  const double friction = std::pow(x2 * x2 * x2 + 117.0 * x2, 0.75);
  return 0.055 * std::pow(duct, 1.0 / 6.0) / std::cbrt(1.0 + 0.00527 * std::sqrt(duct) * friction);
}

ExchangeLaw exchange_law(double area, double depth) {
  const double diameter = std::sqrt(4.0 * area / numerics::kPi);
  const double velocity_number = 8.0 * epstein_coefficient(depth / diameter) / numerics::kPi;
  return {area,
          velocity_number * velocity_number / (2.0 * sharp_edge_discharge * sharp_edge_discharge) * diameter};
}

Exchange exchange_under_heavier_air(const ExchangeLaw& law, double drive, const StripLaw& strip,
                                    double through) {
  Exchange out;
  if (drive <= 0.0 || law.area <= 0.0) return out;
  const double flux = strip_flux(strip, law.head_per_drive * drive);
  const double still = 0.5 * law.area * flux;
  const double used = through / (kPurgeRatio * still);
  if (used >= 1.0) return out;
  const double left = std::pow(1.0 - used, kPurgeExponent);
  const double left_slope = -kPurgeExponent * left / (1.0 - used);
  out.flow = still * left;
  out.d_through = left_slope / kPurgeRatio;
  const double by_head = (left - used * left_slope) * 0.5 * law.area / strip_slope(strip, flux);
  out.d_drive = by_head * law.head_per_drive;
  out.by = scaled(strip_head_by_law(strip, flux), -by_head);
  return out;
}

}  // namespace tuft::physics
