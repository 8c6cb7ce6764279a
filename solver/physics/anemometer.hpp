// Vane and hot wire: what they average, from where on they answer, and how they choke what they measure.
#pragma once

#include <string>
#include <vector>

#include "solver/physics/tell_tale.hpp"

namespace tuft::physics {

enum class AnemometerKind {
  vane,     ///< a small wheel; feels the component along its axis, with its sign
  hot_wire  ///< feels the speed, whatever its direction: it can't tell in from out
};

/// An instrument for air speed.
struct Anemometer {
  std::string name;
  AnemometerKind kind = AnemometerKind::vane;
  double diameter = 0.0;        ///< of the aperture it averages over [m], > 0
  Range threshold;              ///< least speed it answers to; a hot wire's own warm draught [m/s]
  double absolute_error = 0.0;  ///< 95 % [m/s]
  double relative_error = 0.0;  ///< 95 % of the speed [-]
  Range loss;                   ///< loss coefficient on the velocity through its aperture [-]
};

/// Instruments of the usual kinds; makers' typical data from memory, losses judgement. `anemometer` throws
/// std::invalid_argument for a name not known.
const std::vector<Anemometer>& anemometers();
const Anemometer& anemometer(const std::string& name);

/// Speed [m/s] that reaches an instrument at a place, its axis along `axis` (any length > 0): for a vane the
/// mean of the component along the axis over the aperture, with its sign; for a hot wire the mean of the
/// speed. 4 Gauss points in the radius' square by 12 around; exact to polynomials of degree 7.
double aperture_average(const Anemometer& anemometer, const AirVelocity& air, const Eigen::Vector3d& centre,
                        const Eigen::Vector3d& axis);

/// What it shows when `true_speed` [m/s] (from `aperture_average`) reaches it; the reading has no sign.
/// Vane: turns with the probability Phi((|v| - threshold)/deviation), then shows |v|. Hot wire: its own
/// draught adds as a root of squares; `detection` is the probability that the reading stands out from still
/// air. Error: absolute and relative, as root of squares (docs/theory.md, I15).
Reading read(const Anemometer& anemometer, double true_speed);

/// Loss coefficient [-] on the face velocity that an instrument held right before a vent adds to it; solve
/// the device again with it to see what is left to measure. `face_area` of the vent [m2], `vent_loss` its own
/// loss coefficient on the face velocity. An aperture as large as the vent: K_i (A_vent/A_i)^2. A smaller one
/// covers a share phi of it, the rest stays free: both parts have the same pressure drop, so that
///
///     K0 + K_added = K0/(1 - phi + phi (K0/(K0 + K_i))^(1/2))^2        (docs/theory.md, I16; derived)
double added_loss(const Anemometer& anemometer, double face_area, double vent_loss);

}  // namespace tuft::physics
