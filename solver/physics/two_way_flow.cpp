#include "solver/physics/two_way_flow.hpp"

#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::physics {
namespace {

// Flux under one head, x >= 0: the root of alpha j + beta j^2 = x in the form that has no cancellation.
double strip_flux(double x, double root, double alpha) { return 2.0 * x / (alpha + root); }

double root_at(double x, double alpha, double beta) { return std::sqrt(alpha * alpha + 4.0 * beta * x); }

// The whole opening flows forward: heads low..high >= 0.
GrossFlux one_way(double low, double high, double alpha, double beta) {
  const double s0 = root_at(low, alpha, beta);
  const double s1 = root_at(high, alpha, beta);
  const double j0 = strip_flux(low, s0, alpha);
  const double j1 = strip_flux(high, s1, alpha);
  const double s = s0 + s1;
  const double squares = j1 * j1 + j1 * j0 + j0 * j0;
  const double span = high - low;
  GrossFlux out;
  out.flux = (alpha * (j1 + j0) + 4.0 / 3.0 * beta * squares) / s;
  out.d_head = 2.0 / s;
  out.d_span = -4.0 / 3.0 * beta * span / (s * s * s);
  out.d_alpha = -(j1 + j0) / s;
  out.d_beta = -2.0 / 3.0 * squares / s;
  return out;
}

// Only the strips above the neutral line flow forward: highest head `high` > 0, lowest < 0.
GrossFlux partly(double high, double span, double alpha, double beta) {
  const double j = strip_flux(high, root_at(high, alpha, beta), alpha);
  const double integral = j * j * (0.5 * alpha + 2.0 / 3.0 * beta * j);
  GrossFlux out;
  out.flux = integral / span;
  out.d_head = j / span;
  out.d_span = (0.5 * j - out.flux) / span;
  out.d_alpha = -0.5 * j * j / span;
  out.d_beta = -j * j * j / (3.0 * span);
  return out;
}

// E2 without span.
double head_at(double net, const FluxLaw& law) {
  const double beta = net >= 0.0 ? law.beta_forward : law.beta_backward;
  return net * (law.alpha + beta * std::abs(net));
}

void fill_gross(OpeningState& state, double span, const FluxLaw& law) {
  state.forward = gross_flux(state.head, span, law.alpha, law.beta_forward);
  state.backward = gross_flux(-state.head, span, law.alpha, law.beta_backward);
  state.backward.d_head = -state.backward.d_head;
}

constexpr double kPurgeRatio = 0.20 / 0.055;  // flooding flow over exchange flow at no net flow
constexpr double kPurgeExponent = 2.3;

}  // namespace

GrossFlux gross_flux(double head, double span, double alpha, double beta) {
  const double high = head + 0.5 * span;
  const double low = head - 0.5 * span;
  if (high <= 0.0) return {};
  if (low >= 0.0) return one_way(low, high, alpha, beta);
  return partly(high, span, alpha, beta);
}

OpeningState opening_at_flux(double net, double span, const FluxLaw& law) {
  OpeningState state;
  state.head = head_at(net, law);
  fill_gross(state, span, law);
  constexpr int kMaxSteps = 40;
  for (int step = 0; span > 0.0 && step < kMaxSteps; ++step) {
    const double rise = state.forward.d_head - state.backward.d_head;
    const double change = (net - (state.forward.flux - state.backward.flux)) / rise;
    state.head += change;
    fill_gross(state, span, law);
    // The step after this one would change the head by the square of this change, below round-off.
    if (std::abs(change) <= 1e-9 * (std::abs(state.head) + span)) break;
  }
  if (span > 0.0) {
    state.slope = 1.0 / (state.forward.d_head - state.backward.d_head);
  } else {
    const double beta = net >= 0.0 ? law.beta_forward : law.beta_backward;
    state.slope = law.alpha + 2.0 * beta * std::abs(net);
  }
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

Exchange exchange_under_heavier_air(const ExchangeLaw& law, double drive, double alpha, double beta,
                                    double through) {
  Exchange out;
  if (drive <= 0.0 || law.area <= 0.0) return out;
  const double head = law.head_per_drive * drive;
  const double root = std::sqrt(alpha * alpha + 4.0 * beta * head);
  const double flux = 2.0 * head / (alpha + root);
  const double still = 0.5 * law.area * flux;
  const double used = through / (kPurgeRatio * still);
  if (used >= 1.0) return out;
  const double left = std::pow(1.0 - used, kPurgeExponent);
  const double left_slope = -kPurgeExponent * left / (1.0 - used);
  out.flow = still * left;
  out.d_through = left_slope / kPurgeRatio;
  const double by_still = left - used * left_slope;
  out.d_drive = by_still * 0.5 * law.area * law.head_per_drive / root;
  out.d_alpha = -by_still * 0.5 * law.area * flux / root;
  out.d_beta = -by_still * 0.5 * law.area * flux * flux / root;
  return out;
}

}  // namespace tuft::physics
