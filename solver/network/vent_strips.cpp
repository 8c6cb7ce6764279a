#include "solver/network/vent_strips.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::network {
namespace {

constexpr int kStrips = 8;                // of a single opening before layered air
constexpr double kStanding = 0.70710678;  // share of gravity along a face that stands: 45 degrees
constexpr double kLevel = 1e-9;           // the same, of a face that is level
constexpr double kLeastStanding = 0.01;   // more stirring would change temperatures by less than a hundredth

// Share of a rectangle's area before a place on a line in its plane through its centre. Half of either side
// reaches so far along the line.
double share_before(double place, double one_side, double other_side) {
  if (place > 0.0) return 1.0 - share_before(-place, one_side, other_side);
  const double wide = std::max(one_side, other_side), narrow = std::min(one_side, other_side);
  if (place >= narrow - wide) return 0.5 + 0.5 * place / wide;
  const double into = std::max(place + wide + narrow, 0.0);
  return into * into / (8.0 * wide * narrow);
}

}  // namespace

std::vector<VentStrip> level_strips(const geometry::Vent& vent, const Vec3& gravity) {
  if (gravity.isZero()) return {};
  Vec3 first, second;
  geometry::side_axes(vent, first, second);
  const Vec3 normal = geometry::face_normal(vent.face);
  Vec3 down = (gravity - gravity.dot(normal) * normal) / gravity.norm();
  if (down.norm() < kLevel)
    down = vent.width >= vent.height ? first : second;
  else
    down.normalize();
  const double one = 0.5 * vent.width * std::abs(down.dot(first));
  const double other = 0.5 * vent.height * std::abs(down.dot(second));
  const double step = 2.0 * (one + other) / kStrips;
  std::vector<VentStrip> strips;
  double before = 0.0;
  for (int i = 0; i < kStrips; ++i) {
    VentStrip strip;
    const double end = -one - other + (i + 1) * step;
    const double until = i + 1 < kStrips ? share_before(end, one, other) : 1.0;
    strip.centre = vent.centre + (end - 0.5 * step) * down;
    strip.share = until - before;
    strip.along = step * down;
    strip.across = strip.share * vent.width * vent.height / step * normal.cross(down);
    strips.push_back(strip);
    before = until;
  }
  return strips;
}

double standing_share(const geometry::Vent& vent, const Vec3& gravity) {
  const double facing = -geometry::face_normal(vent.face).dot(gravity) / gravity.norm();
  if (!(facing > 0.0)) return 1.0;
  const double u = std::min((1.0 - facing * facing) / (kStanding * kStanding), 1.0);
  return std::max(u * u * (3.0 - 2.0 * u), kLeastStanding);
}

}  // namespace tuft::network
