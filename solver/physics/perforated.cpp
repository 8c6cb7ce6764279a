#include "solver/physics/perforated.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/numerics/curves.hpp"
#include "solver/physics/ends.hpp"

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

/// Share of the hole walls that is left when webs thin out towards an open ratio of 1.
double web_share(double open_ratio) { return std::min(1.0, (1.0 - open_ratio) / 0.1); }

}  // namespace

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
  const double thin_share = free_jet_share(t / d);
  const double loss = thin_share * thin_plate_loss(f) + (1.0 - thin_share) * thick_plate_loss(f);
  const double creep = 6.0 * kPi / d * (1.0 - f * std::sqrt(f));
  const double friction = 32.0 * t / (d * d) * web_share(f);
  return {(creep + friction) / f, 0.5 * loss};
}

FaceLaw perforated(double open_ratio, double hole, double thickness, const Opening& face) {
  return cover_in_wall(perforated_sheet(open_ratio, hole, thickness), face, thickness);
}

}  // namespace tuft::physics
