#include "solver/physics/plume.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

constexpr double kPointEntrainment = 0.117;
// Speed of the warmth over the largest: the profile of warmth is about as wide as that of speed; judgement.
constexpr double kWarmthSpeed = 0.7;

// Growth of a turbulent plume, constant * z^exponent, from where the laminar one below it ends.
double grown(double constant, double exponent, double begin, double start_flow, double z) {
  const double origin = std::pow(start_flow / constant, 1.0 / exponent);
  return constant * std::pow(z - begin + origin, exponent);
}

PlumeFlow over_point(double b, double z, double nu) {
  const double speed = kWarmthSpeed * laminar_point_speed * std::sqrt(b / nu);
  const auto laminar = [&](double x) {
    const double flow = laminar_point_constant * nu * x;
    return PlumeFlow{flow, flow / speed, 1.0};
  };
  const double begin = std::sqrt(plume_transition * nu * nu * nu / b);
  if (z <= begin) return laminar(z);
  const PlumeFlow below = laminar(begin);
  const double radius = std::sqrt(below.area / numerics::kPi) + 1.2 * kPointEntrainment * (z - begin);
  constexpr double exponent = 5.0 / 3.0;
  return {grown(point_plume_constant * std::cbrt(b), exponent, begin, below.flow, z),
          numerics::kPi * radius * radius, exponent};
}

// Of a metre.
PlumeFlow over_line(double b, double z, double nu) {
  const auto laminar = [&](double x) {
    const double flow = laminar_line_constant * std::pow(b, 0.2) * std::pow(nu, 0.4) * std::pow(x, 0.6);
    const double speed =
        kWarmthSpeed * laminar_line_speed * std::pow(b, 0.4) * std::pow(nu, -0.2) * std::pow(x, 0.2);
    return PlumeFlow{flow, flow / speed, 0.6};
  };
  const double begin = std::cbrt(plume_transition * nu * nu * nu / b);
  if (z <= begin) return laminar(z);
  const PlumeFlow below = laminar(begin);
  const double constant = std::pow(2.0 * line_plume_entrainment, 2.0 / 3.0) * std::cbrt(b);
  return {grown(constant, 1.0, begin, below.flow, z), below.area + 2.0 * line_plume_entrainment * (z - begin),
          1.0};
}

}  // namespace

PlumeFlow plume_at(const PlumeSource& source, double height, double nu) {
  const double above = height - source.base;
  const double extent = std::max(source.top - source.base, 0.0);
  const double images = 1.0 + source.wall;
  const double b = images * source.buoyancy * (extent > 0.0 ? std::clamp(above / extent, 0.0, 1.0) : 1.0);
  if (above <= 0.0 || b <= 0.0) return {};
  // A broad source is a narrow one that lies lower.
  const double z = above + source.shorter / (2.0 * line_plume_entrainment);
  PlumeFlow line = over_line(b / source.longer, z, nu);
  line.flow *= source.longer;
  line.area *= source.longer;
  PlumeFlow point = over_point(b, z, nu);
  // As wide as a line has become over six of its lengths, it draws from all around as a point does.
  PlumeFlow plume = line.flow > point.flow ? line : point;
  const double at_wall = std::min(extent / above, 1.0);
  plume.flow *= (1.0 - (1.0 - laminar_wall_share) * at_wall) / images;
  plume.area /= images;
  return plume;
}

}  // namespace tuft::physics
