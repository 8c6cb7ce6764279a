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

FaceLaw sharp_slot(double width, double thickness) {
  const double s = numerics::require_positive(width, "slot width");
  const double t = numerics::require_not_negative(thickness, "wall thickness");
  return {slot_creep / s + 12.0 * t / (s * s), hole_inertia(t / (2.0 * s))};
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
  return {creep + duct_friction(short_side, long_side, t),
          hole_inertia(t / hydraulic_diameter(short_side, long_side))};
}

FaceLaw passage(const Duct& duct) {
  const double bends = numerics::require_not_negative(duct.bends, "bends");
  // The hole in the wall, of the passage's length as thickness, brings creep, friction, entry and exit.
  const FaceLaw hole = sharp_rectangle({duct.width, duct.height}, duct.length);
  const double aspect = std::min(duct.width, duct.height) / std::max(duct.width, duct.height);
  const double relative_length = duct.length / hydraulic_diameter(duct.width, duct.height);
  const double development = development_loss(aspect) * (1.0 - free_jet_share(relative_length));
  return {hole.viscous, hole.inertial + 0.5 * (development + bends * right_angle_loss)};
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
  return {viscous, 0.5 * (inner + outer)};
}

FaceLaw fabric(double air_permeability, double test_pressure) {
  constexpr double test_temperature = 293.15;
  const double w = numerics::require_positive(air_permeability, "air permeability");
  const double dp = numerics::require_positive(test_pressure, "test pressure");
  return {dp / (viscosity(test_temperature) * w), 0.0};
}

}  // namespace tuft::physics
