#include "solver/physics/two_way_flow.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/numerics/constants.hpp"
#include "solver/physics/openings.hpp"
#include "solver/physics/strip_roots.hpp"

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

// Up to this share of the head at rest a span counts by its square alone: what the next term, its fourth
// power, would add to the head is a part in 1e12.
constexpr double kSmallSpan = 3e-3;

// One direction only, through strips that are alike or nearly so: the mean of j over heads that span S is
// j + S^2/24 d2j/dx2. False where that is not enough.
bool fill_level(OpeningState& state, double net, double span, const FluxLaw& law) {
  const bool forward = net >= 0.0;
  const StripLaw& strip = forward ? law.forward : law.backward;
  const double flux = std::abs(net);
  const double most = flux * (strip.alpha + std::abs(strip.upstream) +
                              (strip.beta + strip.early + std::abs(strip.late)) * flux);
  if (span > kSmallSpan * most) return false;
  const strip::Roots at = strip::roots_at(strip, flux);
  const double head = strip::head_at(strip, flux, at);
  if (span > kSmallSpan * head) return false;
  const double sign = forward ? 1.0 : -1.0;
  state.slope = strip::slope_at(strip, flux, at);
  const double flow_per_head = 1.0 / state.slope;
  const double by_span =
      span > 0.0 ? span / 12.0 * strip::bend_at(strip, flux, at) * flow_per_head * flow_per_head : 0.0;
  state.head = sign * (head + 0.5 * span * by_span);
  state.by.span = sign * by_span;
  const ByLaw by = strip::head_by_law_at(strip, flux, at);
  GrossFlux& gross = forward ? state.forward : state.backward;
  gross.flux = flux;
  gross.d_head = sign * flow_per_head;
  gross.d_span = -by_span * flow_per_head;
  gross.by = scaled(by, -flow_per_head);
  (forward ? state.by.forward : state.by.backward) = scaled(by, sign);
  return true;
}

// Fluxes at the two ends of an opening with a height; the lower one is negative where air goes the other way
// there.
struct Ends {
  double high = 0.0, low = 0.0;
  strip::Roots at_high, at_low;
};

double plain_flux(double alpha, double beta, double head) {
  return 2.0 * head / (alpha + std::sqrt(alpha * alpha + 4.0 * beta * head));
}

// A start near the ends for a net flux >= 0: as if the law had one inertial part, with which it meets the
// true one at a flux of the right size. That law has its one-way limit and, beyond it, ends by a few terms of
// a series in the span.
Ends first_ends(double net, double span, const StripLaw& law) {
  const double half = 0.5 * span;
  const double whole = law.beta + law.early + law.late;
  const double size = net * (law.alpha + whole * net) < half ? plain_flux(law.alpha, whole, half) : net;
  const double beta = std::max(strip_head(law, size) / size - law.alpha, 0.0) / size;
  const double slope = law.alpha + 2.0 * beta * net;
  const double level = net * (law.alpha + beta * net);
  Ends ends;
  if (level > 2.0 * span) {
    const double apart = half / slope, down = beta * apart * apart / (1.5 * slope);
    ends.high = net + apart - down;
    ends.low = net - apart - down;
    return ends;
  }
  double head = level + span * span * beta / (12.0 * slope * slope);
  if (level < span) {
    const double most = plain_flux(law.alpha, beta, span);
    const double one_way = most * most * (0.5 * law.alpha + 2.0 / 3.0 * beta * most) / span;
    head = net < one_way ? half * net / one_way : std::max(half, head);
  }
  ends.high = plain_flux(law.alpha, beta, head + half);
  const double below = head - half;
  ends.low = below >= 0.0 ? plain_flux(law.alpha, beta, below) : -plain_flux(law.alpha, beta, -below);
  return ends;
}

// Newton's method for both ends at once, net >= 0: their heads lie `span` apart, and the integral of the flux
// over the heads is net times that. False where it does not get there at once.
bool find_ends(double net, double span, const StripLaw& forward, const StripLaw& backward, Ends& ends) {
  constexpr int kMaxSteps = 10;
  for (int step = 0; step < kMaxSteps; ++step) {
    const double a = ends.high, b = ends.low, c = std::abs(b);
    const StripLaw& other = b >= 0.0 ? forward : backward;
    ends.at_high = strip::roots_at(forward, a);
    ends.at_low = strip::roots_at(other, c);
    double apart, integral;
    if (b >= 0.0) {
      const strip::HeadRange range = strip::range_of(forward, b, ends.at_low, a, ends.at_high);
      apart = range.secant * (a - b) - span;
      integral = range.work * (a - b) - net * span;
    } else {
      apart = strip::head_at(forward, a, ends.at_high) + strip::head_at(other, c, ends.at_low) - span;
      integral =
          strip::work_at(forward, a, ends.at_high) - strip::work_at(other, c, ends.at_low) - net * span;
    }
    const double of_low = (a * apart - integral) / (a - b);
    const double high_change = (of_low - apart) / strip::slope_at(forward, a, ends.at_high);
    const double low_change = of_low / strip::slope_at(other, c, ends.at_low);
    ends.high += high_change;
    ends.low += low_change;
    if (!(ends.high > 0.0)) return false;
    // The step after this one would change the fluxes by about the square of this change.
    if (std::abs(high_change) + std::abs(low_change) <= 3e-7 * ends.high) {
      ends.at_high = strip::roots_at(forward, ends.high);
      ends.at_low = strip::roots_at(ends.low >= 0.0 ? forward : backward, std::abs(ends.low));
      return true;
    }
  }
  return false;
}

GrossFlux one_sided(double flux, double span, const StripLaw& law, const strip::Roots& at) {
  const StripIntegral integral = strip::integral_of(law, flux, at);
  GrossFlux out;
  out.flux = integral.value / span;
  out.d_head = flux / span;
  out.d_span = (0.5 * flux - out.flux) / span;
  out.by = scaled(integral.by, 1.0 / span);
  return out;
}

// From the ends to the opening's state, net >= 0 with the laws of `forward` and `backward`.
void fill_from(const Ends& ends, double span, const StripLaw& forward, const StripLaw& backward,
               OpeningState& state) {
  state.head = strip::head_at(forward, ends.high, ends.at_high) - 0.5 * span;
  if (ends.low >= 0.0) {
    const StripMean mean = strip::mean_of(forward, ends.low, ends.at_low, ends.high, ends.at_high);
    state.forward = {mean.flux, 1.0 / mean.secant, span * mean.by_span, mean.by};
    state.backward = {};
  } else {
    state.forward = one_sided(ends.high, span, forward, ends.at_high);
    state.backward = one_sided(-ends.low, span, backward, ends.at_low);
    state.backward.d_head = -state.backward.d_head;
  }
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

namespace {

// By the head alone, which gets there from anywhere: the net flux is a rising function of it, concave on the
// forward side and convex on the other.
void find_head(double net, double span, const FluxLaw& law, OpeningState& state) {
  state.head = head_at(net, law);
  fill_gross(state, span, law);
  constexpr int kMaxSteps = 40;
  for (int step = 0; step < kMaxSteps; ++step) {
    const double rise = state.forward.d_head - state.backward.d_head;
    const double change = (net - (state.forward.flux - state.backward.flux)) / rise;
    state.head += change;
    fill_gross(state, span, law);
    if (std::abs(change) <= 1e-9 * (std::abs(state.head) + span)) break;
  }
}

}  // namespace

OpeningState opening_at_flux(double net, double span, const FluxLaw& law) {
  OpeningState state;
  if (fill_level(state, net, span, law)) return state;
  const bool turned = net < 0.0;
  const StripLaw& forward = turned ? law.backward : law.forward;
  const StripLaw& backward = turned ? law.forward : law.backward;
  Ends ends = first_ends(std::abs(net), span, forward);
  if (find_ends(std::abs(net), span, forward, backward, ends)) {
    fill_from(ends, span, forward, backward, state);
    if (turned) {
      state.head = -state.head;
      std::swap(state.forward, state.backward);
      state.forward.d_head = -state.forward.d_head;
      state.backward.d_head = -state.backward.d_head;
    }
  } else {
    find_head(net, span, law, state);
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
