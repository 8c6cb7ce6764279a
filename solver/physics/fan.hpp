// Fans: a curve of static pressure against flow, at any speed, density and direction of flow.
#pragma once

#include <vector>

#include "solver/numerics/curves.hpp"

namespace tuft::physics {

/// One point of a fan curve, static pressure rise at a volume flow.
struct FanPoint {
  double flow = 0.0;      ///< [m3/s]
  double pressure = 0.0;  ///< [Pa]
};

/// A fan's rise and its derivative.
struct FanRise {
  double pressure = 0.0;  ///< static pressure rise in the fan's direction [Pa]
  double slope = 0.0;     ///< d pressure / d volume flow [Pa s/m3]
};

enum class FanKind { blower, axial };

/// Density fan curves are stated at unless said otherwise [kg/m3] (dry air, 20 C, 101325 Pa).
constexpr double standard_fan_density = 1.204;

/// Loss of a fan driven far past its free delivery, driven backwards, or with a still rotor:
/// dp = locked_rotor_loss * (p_shut / Q_free^2) Q |Q| at the curve's own density, p_shut and Q_free being its
/// shut-off pressure and free delivery (straight on from the last point where that lies above zero).
/// JUDGEMENT; no measurement of a small still rotor, or of a small fan driven backwards, was found: the still
/// rotor costs at the free delivery as much as the fan can give at most. Spread: a third to three times.
constexpr double locked_rotor_loss = 1.0;

/// Static-pressure curve p = (rho/rho_0) n^2 f(Q/n), n = N/N_0: the fan laws (Q ~ N, p ~ rho N^2) at any
/// speed and density. f is a monotone cubic through the given points (a stall dip or hump is kept), continued
/// on both sides by quadratics with the same slope at the join:
///
///     Q/n beyond the last point (q1, p1):  f = p1 + f'(q1) (q - q1) - k (q - q1)^2
///     Q < 0 (blown backwards):             f = p0 + f'(0) q + b k q^2,   b = 1 unless it was multiplied
///
/// Multiplied out with n^2 both have a finite limit at n = 0, the still rotor p = -(rho/rho_0) k Q |Q|, so a
/// stopped fan is no special case and nothing is divided by the speed. f and its slope are
/// continuous everywhere. Evaluation allocates nothing. A value type.
class FanCurve {
 public:
  /// From measured points: flows [m3/s] rising from 0, at least two, the first pressure > 0, the last point
  /// below its neighbour; taken at `speed` [rev/s] > 0 and `density` [kg/m3] > 0. The last point need not be
  /// at zero pressure. Throws std::invalid_argument with the reason otherwise.
  static FanCurve from_points(const std::vector<FanPoint>& points, double speed,
                              double density = standard_fan_density);

  /// A fan of which only size and speed are known: impeller diameter and axial thickness [m], speed [rev/s],
  /// all > 0. An axial fan's coefficients are means of data sheets, a blower's and both shapes are JUDGEMENT
  /// (fan.cpp lists them); spread +-35 % on flow and +-30 % on pressure. For an axial fan the frame's size
  /// serves as diameter.
  static FanCurve typical(FanKind kind, double diameter, double thickness, double speed);

  /// The same fan with flow and pressure multiplied (both > 0): the uncertainty of a curve.
  FanCurve scaled(double flow_factor, double pressure_factor) const;

  /// The same fan with its continuations' k multiplied, and that of Q < 0 once more (both > 0): the
  /// uncertainty of what is not on the curve.
  FanCurve with_resistance(double factor, double backwards) const;

  /// Static pressure rise at volume flow [m3/s] (negative: backwards), speed [rev/s] >= 0, density [kg/m3].
  FanRise rise(double volume_flow, double speed, double density) const;

  /// Speed the curve is stated at [rev/s].
  double speed() const { return speed_; }
  /// Density the curve is stated at [kg/m3].
  double density() const { return density_; }
  /// Pressure rise at zero flow, at speed() and density() [Pa].
  double shut_off_pressure() const { return curve_.y().front(); }
  /// Flow at zero pressure rise, at speed() [m3/s].
  double free_delivery() const { return free_delivery_; }
  /// The points the curve goes through, at speed() and density().
  std::vector<FanPoint> points() const;

 private:
  FanCurve(numerics::MonotoneCubic curve, double speed, double density);

  numerics::MonotoneCubic curve_;
  double speed_ = 1.0;
  double density_ = standard_fan_density;
  double resistance_ = 0.0;           ///< the k above [Pa s2/m6]
  double backward_resistance_ = 0.0;  ///< the same of Q < 0
  double free_delivery_ = 0.0;
};

/// Tip speed pi D N [m/s].
double tip_speed(double diameter, double speed);

}  // namespace tuft::physics
