#include "solver/physics/anemometer.hpp"

#include <Eigen/Geometry>
#include <array>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/jet.hpp"

namespace tuft::physics {
namespace {

double aperture_area(const Anemometer& anemometer) {
  numerics::require_positive(anemometer.diameter, "aperture of the anemometer");
  return 0.25 * numerics::kPi * anemometer.diameter * anemometer.diameter;
}

void require_anemometer(const Anemometer& anemometer) {
  aperture_area(anemometer);
  numerics::require_positive(anemometer.threshold.nominal, "threshold of the anemometer");
  numerics::require_positive(anemometer.threshold.deviation(), "uncertainty of the anemometer's threshold");
  numerics::require_not_negative(anemometer.absolute_error, "absolute error of the anemometer");
  numerics::require_not_negative(anemometer.relative_error, "relative error of the anemometer");
  numerics::require_not_negative(anemometer.loss.nominal, "loss coefficient of the anemometer");
}

}  // namespace

const std::vector<Anemometer>& anemometers() {
  // Diameter, threshold, absolute and relative error, loss. Errors and thresholds are typical of makers'
  // data, from memory; losses and the hot wire's own draught are judgements.
  static const std::vector<Anemometer> all = {
      {"vane-100mm", AnemometerKind::vane, 0.100, {0.30, 0.20, 0.45}, 0.10, 0.03, {0.8, 0.4, 1.5}},
      {"vane-16mm", AnemometerKind::vane, 0.016, {0.60, 0.40, 0.80}, 0.20, 0.03, {1.0, 0.5, 2.0}},
      {"hot-wire", AnemometerKind::hot_wire, 0.008, {0.08, 0.05, 0.15}, 0.04, 0.05, {0.5, 0.2, 1.0}}};
  return all;
}

const Anemometer& anemometer(const std::string& name) { return named(anemometers(), name, "anemometer"); }

double aperture_average(const Anemometer& anemometer, const AirVelocity& air, const Eigen::Vector3d& centre,
                        const Eigen::Vector3d& axis) {
  require_anemometer(anemometer);
  require_finite_vector(centre, "place of the anemometer");
  require_finite_vector(axis, "axis of the anemometer");
  numerics::require_positive(axis.norm(), "length of the anemometer's axis");
  const Eigen::Vector3d along = axis.normalized();
  const Eigen::Vector3d side = along.unitOrthogonal();
  const Eigen::Vector3d other = along.cross(side);
  // Gauss points of 0 .. 1 in (r/R)^2, along which the disc's area is even.
  constexpr std::array<double, 4> squares = {0.06943184420297371, 0.33000947820757187, 0.66999052179242813,
                                             0.93056815579702629};
  constexpr std::array<double, 4> weights = {0.17392742256872693, 0.32607257743127307, 0.32607257743127307,
                                             0.17392742256872693};
  constexpr int around = 12;
  double mean = 0.0;
  for (std::size_t ring = 0; ring < squares.size(); ++ring) {
    const double radius = 0.5 * anemometer.diameter * std::sqrt(squares[ring]);
    for (int k = 0; k < around; ++k) {
      const double angle = 2.0 * numerics::kPi * (k + 0.5) / around;
      const Eigen::Vector3d u = air(centre + radius * (std::cos(angle) * side + std::sin(angle) * other));
      const double felt = anemometer.kind == AnemometerKind::vane ? u.dot(along) : u.norm();
      mean += weights[ring] / around * felt;
    }
  }
  return numerics::require_finite(mean, "air velocity at the anemometer");
}

Reading read(const Anemometer& anemometer, double true_speed) {
  require_anemometer(anemometer);
  numerics::require_finite(true_speed, "speed at the anemometer");
  const double speed = std::abs(true_speed);
  Reading reading;
  const Range& threshold = anemometer.threshold;
  reading.detection = normal_below((speed - threshold.nominal) / threshold.deviation());
  reading.mean = anemometer.kind == AnemometerKind::vane ? speed : std::hypot(speed, threshold.nominal);
  reading.deviation =
      std::hypot(anemometer.absolute_error, anemometer.relative_error * speed) / numerics::kDeviations95;
  return reading;
}

double added_loss(const Anemometer& anemometer, double face_area, double vent_loss) {
  require_anemometer(anemometer);
  numerics::require_positive(face_area, "area of the vent");
  numerics::require_positive(vent_loss, "loss coefficient of the vent");
  const double own = anemometer.loss.nominal;
  const double covered = aperture_area(anemometer) / face_area;
  if (covered >= 1.0) return own / (covered * covered);
  const double slower = std::sqrt(vent_loss / (vent_loss + own));
  const double passed = 1.0 - covered + covered * slower;
  return vent_loss / (passed * passed) - vent_loss;
}

}  // namespace tuft::physics
