#include "solver/experiment/section_air.hpp"

#include <algorithm>
#include <cmath>

#include "solver/experiment/instrument_placing.hpp"

namespace tuft::bench {

namespace {

constexpr double kAcross = 0.342;  // sine of 20 degrees

/// The cell that holds a coordinate, and the two whose middles lie on either side of it.
struct Between {
  int cell = 0, low = 0, high = 0;
  double share = 0.0;  ///< of `high`
};

double middle(const std::vector<double>& faces, int cell) {
  const auto c = static_cast<std::size_t>(cell);
  return 0.5 * (faces[c] + faces[c + 1]);
}

std::optional<Between> between(const std::vector<double>& faces, double x) {
  if (faces.size() < 2 || !(x >= faces.front() && x <= faces.back())) return std::nullopt;
  const int last = static_cast<int>(faces.size()) - 2;
  const auto after = std::upper_bound(faces.begin(), faces.end(), x);
  Between found;
  found.cell = std::min(last, static_cast<int>(after - faces.begin()) - 1);
  found.low = std::max(0, x < middle(faces, found.cell) ? found.cell - 1 : found.cell);
  found.high = std::min(last, x < middle(faces, found.cell) ? found.cell : found.cell + 1);
  if (found.high > found.low) {
    const double a = middle(faces, found.low), b = middle(faces, found.high);
    found.share = std::clamp((x - a) / (b - a), 0.0, 1.0);
  }
  return found;
}

}  // namespace

bool SectionAir::cuts(int vent) const {
  const auto index = static_cast<std::size_t>(vent);
  return index < section_.vents.size() && section_.vents[index].cut == section::VentCut::cut;
}

std::optional<instruments::AirAt> SectionAir::at(const Vec3& place) const {
  const section::Plane& plane = section_.plane;
  const auto a = between(section_.x, place[plane.first()]), b = between(section_.y, place[plane.second()]);
  const auto is_air = [&](int i, int j) {
    return section_.part(i, j) == static_cast<int>(section::Part::air);
  };
  if (!a || !b || !is_air(a->cell, b->cell)) return std::nullopt;
  double weights = 0.0, u = 0.0, v = 0.0, temperature = 0.0;
  for (const auto& [i, wi] : {std::pair{a->low, 1.0 - a->share}, std::pair{a->high, a->share}}) {
    for (const auto& [j, wj] : {std::pair{b->low, 1.0 - b->share}, std::pair{b->high, b->share}}) {
      if (!is_air(i, j)) continue;
      weights += wi * wj;
      u += wi * wj * section_.u(i, j);
      v += wi * wj * section_.v(i, j);
      temperature += wi * wj * section_.temperature(i, j);
    }
  }
  // The cell that holds the place is air and one of the four, with a quarter at least.
  instruments::AirAt air;
  air.velocity.setZero();
  air.velocity[plane.first()] = u / weights;
  air.velocity[plane.second()] = v / weights;
  air.temperature = temperature / weights;
  return air;
}

Vec3 SectionAir::velocity(const Vec3& place) const {
  const auto air = at(place);
  return air ? air->velocity : Vec3(Vec3::Zero());
}

bool SectionAir::holds(const instruments::Hanging& hanging) const {
  return std::abs(hanging.direction.normalized()[section_.plane.normal]) < kAcross &&
         std::abs(hanging.facing.normalized()[section_.plane.normal]) < kAcross;
}

std::vector<AirPoint> air_in_section(const SectionAir& air, const geometry::Vent& vent, int index,
                                     const Vec3& gravity, const std::vector<double>& distances) {
  std::vector<AirPoint> points;
  if (!air.cuts(index)) return points;
  const Vec3 normal = geometry::face_normal(vent.face), up = -gravity.normalized();
  for (const double distance : distances) {
    const auto there = air.at(place_before(vent, gravity, distance, Part::middle));
    if (!there) continue;
    points.push_back({distance, there->velocity.dot(normal), there->velocity.norm(), there->velocity.dot(up),
                      there->temperature});
  }
  return points;
}

}  // namespace tuft::bench
