#include "solver/physics/openings.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/air.hpp"

namespace tuft::physics {
namespace {

using numerics::kPi;

/// Creeping limits: viscous coefficient times the hole's size [-].
constexpr double round_creep = 6.0 * kPi;  // on the diameter
constexpr double slot_creep = 32.0 / kPi;  // on the width

// Fitted to tests/published/hole_flow/table.txt by fit.py beside it; docs/theory.md, E6.
constexpr double early_thin = 2.308;       // loss coefficient of laminar flow through a hole, thin wall
constexpr double early_thin_fall = 0.545;  // how it falls with the open ratio
constexpr double early_round = 1.762;      // the same of a wall that is not thin, round hole ...
constexpr double early_slot = 1.559;       // ... and slot
constexpr double early_thick_fall = 0.394;
constexpr double thin_wall = 0.041;  // thickness over hydraulic diameter between the two
constexpr double onset_thin = 15.3;  // Reynolds number of the onset in a hole by itself
constexpr double onset_thick = 8.93;
constexpr double onset_fall = 0.449;  // how it falls with the open ratio

/// Reynolds number per length [1/m] from which air in a fabric has the upstream side's state: pores of a
/// tenth of a millimetre (judgement; only its order matters).
constexpr double fabric_onset = onset_thick / 1e-4;

/// Half the loss coefficient of a hole whose thickness over hydraulic diameter is given.
double hole_inertia(double relative_thickness) {
  const double thin = 0.5 / (sharp_edge_discharge * sharp_edge_discharge);
  const double thick = 0.5 * (flush_entry_loss + exit_loss);
  return thick + (thin - thick) * free_jet_share(relative_thickness);
}

}  // namespace

double friction_constant(double aspect) {
  const double a = aspect;
  return 24.0 * (1.0 + a * (-1.3553 + a * (1.9467 + a * (-1.7012 + a * (0.9564 - a * 0.2537)))));
}

double development_loss(double aspect) {
  const double a = aspect;
  // Constant term 2 (54/35 - 6/5), exact between plates; the rest fitted to the integrated series.
  return 24.0 / 35.0 + a * (1.45497 + a * (1.16780 + a * (-3.39288 + a * 1.63624)));
}

double hydraulic_diameter(double side_a, double side_b) { return 2.0 * side_a * side_b / (side_a + side_b); }

double duct_friction(double side_a, double side_b, double length) {
  const double diameter = hydraulic_diameter(numerics::require_positive(side_a, "side"),
                                             numerics::require_positive(side_b, "side"));
  const double aspect = std::min(side_a, side_b) / std::max(side_a, side_b);
  return 2.0 * friction_constant(aspect) * numerics::require_not_negative(length, "length") /
         (diameter * diameter);
}

FaceLaw with_onset(const FaceLaw& hole, const HoleShape& shape) {
  const double f = shape.open_ratio, x = shape.relative_thickness / thin_wall;
  const double thinness = 1.0 / (1.0 + x * x);
  const auto between = [&](double thick, double thin) { return thick + (thin - thick) * thinness; };
  const double filled = early_slot + (early_round - early_slot) * shape.roundness;
  FaceLaw law = hole;
  law.early = 0.5 * (1.0 - f) *
              between(filled * (1.0 - early_thick_fall * f), early_thin * (1.0 - early_thin_fall * f));
  law.late = law.inertial - law.early;
  law.onset = between(onset_thick, onset_thin) * (1.0 - onset_fall * f) / shape.size;
  return law;
}

FaceLaw sharp_slot(double width, double thickness) {
  const double s = numerics::require_positive(width, "slot width");
  const double t = numerics::require_not_negative(thickness, "wall thickness");
  const double relative = t / (2.0 * s);
  return with_onset({slot_creep / s + 12.0 * t / (s * s), hole_inertia(relative)}, {0.0, relative, s, 0.0});
}

FaceLaw sharp_rectangle(const Opening& opening, double thickness) {
  const double short_side =
      numerics::require_positive(std::min(opening.width, opening.height), "opening side");
  const double long_side =
      numerics::require_positive(std::max(opening.width, opening.height), "opening side");
  const double t = numerics::require_not_negative(thickness, "wall thickness");
  const double aspect = short_side / long_side;
  // A square is taken as the round hole of its area, d = 2 s / sqrt(pi).
  const double square_creep = round_creep * 0.5 * std::sqrt(kPi);
  const double creep = (slot_creep + (square_creep - slot_creep) * aspect) / short_side;
  const double relative = t / hydraulic_diameter(short_side, long_side);
  // The onset goes from the slot's width to that round hole's diameter as the creep does.
  const double size = short_side / (1.0 + (0.5 * std::sqrt(kPi) - 1.0) * aspect);
  return with_onset({creep + duct_friction(short_side, long_side, t), hole_inertia(relative)},
                    {0.0, relative, size, aspect});
}

FaceLaw passage(const Duct& duct) {
  const double bends = numerics::require_not_negative(duct.bends, "bends");
  // The hole in the wall, of the passage's length as thickness, brings creep, friction, entry and exit.
  const FaceLaw hole = sharp_rectangle({duct.width, duct.height}, duct.length);
  const double aspect = std::min(duct.width, duct.height) / std::max(duct.width, duct.height);
  const double relative_length = duct.length / hydraulic_diameter(duct.width, duct.height);
  const double development = development_loss(aspect) * (1.0 - free_jet_share(relative_length));
  // Where the wall is a duct, friction and development are there from the start, and add (judgement).
  const double hole_share = free_jet_share(relative_length);
  return {hole.viscous, hole.inertial + 0.5 * (development + bends * right_angle_loss),
          hole.early * hole_share, hole.late * hole_share, hole.onset};
}

double gap_mean_width(double inner_width, double outer_width) {
  const double a = numerics::require_positive(inner_width, "width at the vent's edge");
  const double b = numerics::require_positive(outer_width, "width at the device's edge");
  // With u = (b - a)/(b + a): ln(b/a) = 2 artanh(u), and the mean is (b + a)/2 * u/artanh(u).
  const double u = (b - a) / (b + a);
  const double ratio = std::fabs(u) < 1e-4 ? 1.0 - u * u / 3.0 : u / std::atanh(u);
  return 0.5 * (a + b) * ratio;
}

FaceLaw support_gap(const GapPath& path) {
  const double h = numerics::require_positive(path.height, "gap height");
  const double l = numerics::require_not_negative(path.length, "gap length");
  const double mean = gap_mean_width(path.inner_width, path.outer_width);
  const double viscous = 12.0 * l / (h * h) * path.inner_width / mean;

  const double to_edge = path.inner_width / path.outer_width;
  const double inner = right_angle_loss + development_loss(0.0);
  const double outer = 0.5 * (flush_entry_loss + exit_loss) * to_edge * to_edge;
  FaceLaw law{viscous, 0.5 * (inner + outer)};
  law.onset = onset_thick / h;
  return law;
}

FaceLaw fabric(double air_permeability, double test_pressure) {
  constexpr double test_temperature = 293.15;
  const double w = numerics::require_positive(air_permeability, "air permeability");
  const double dp = numerics::require_positive(test_pressure, "test pressure");
  FaceLaw law{dp / (viscosity(test_temperature) * w), 0.0};
  law.onset = fabric_onset;
  return law;
}

}  // namespace tuft::physics
