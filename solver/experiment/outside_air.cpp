#include "solver/experiment/outside_air.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "geometry/device/attitude.hpp"

namespace tuft::experiment {
namespace {

constexpr double kStefanBoltzmann = 5.670374419e-8;  // [W/(m2 K4)], CODATA 2018
constexpr double kLeastFlow = 1e-9;                  // [m3/s]; less moves nothing
constexpr double kFacesUp = 0.7;                     // cosine from which skin counts as facing up (judgement)
constexpr double kLeastExcess = 0.05;                // [K]
constexpr double kSmallestOpen = 1e-3;               // a vent pressed shut to less than this is shut

physics::AirState room_state(const geometry::Room& room) {
  const double pressure = physics::standard_pressure(*room.altitude);
  return physics::room_air(pressure, *room.temperature, *room.relative_humidity);
}

constexpr double kAcross = 0.342;  // sine of 20 degrees

/// The cell that holds a coordinate, and the two whose middles lie on either side of it.
struct Between {
  int cell = 0, low = 0, high = 0;
  double share = 0.0;  ///< of `high`
};

double middle(const std::vector<double>& faces, int cell) { return 0.5 * (faces[cell] + faces[cell + 1]); }

std::optional<Between> between(const std::vector<double>& faces, double x) {
  if (faces.size() < 2 || !(x >= faces.front() && x <= faces.back())) return std::nullopt;
  const int last = static_cast<int>(faces.size()) - 2;
  Between found;
  found.cell = numerics::interval_of(faces, x);
  found.low = std::max(0, x < middle(faces, found.cell) ? found.cell - 1 : found.cell);
  found.high = std::min(last, x < middle(faces, found.cell) ? found.cell : found.cell + 1);
  if (found.high > found.low) {
    const double a = middle(faces, found.low), b = middle(faces, found.high);
    found.share = std::clamp((x - a) / (b - a), 0.0, 1.0);
  }
  return found;
}

}  // namespace

physics::Face open_face(const geometry::Vent& vent, const study::VentResult& result) {
  physics::Face face{vent.width, vent.height, 1.0};
  if (vent.is_leak) {
    face.open_ratio = std::clamp(*vent.leak_area / face.area(), 1e-4, 1.0);
    return face;
  }
  const double open = (1.0 - *vent.blocked) * (1.0 - result.hidden) * (1.0 - result.covered);
  face.height *= std::clamp(open, kSmallestOpen, 1.0);
  face.open_ratio = std::clamp(*vent.cover.open_ratio, 1e-3, 1.0);
  return face;
}

Eigen::Matrix3d vent_axes(geometry::Face face) {
  Vec3 first, second;
  geometry::face_axes(face, first, second);
  const Vec3 normal = geometry::face_normal(face);
  Eigen::Matrix3d axes;
  axes << first, normal.cross(first), normal;
  return axes;
}

OutsideAir::OutsideAir(const geometry::Case& content, const study::ConditionResult& result) {
  const auto& condition = content.conditions[result.condition];
  const geometry::Pose pose = geometry::attitude_of(content, condition);
  gravity_ = physics::standard_gravity * pose.down();
  room_ = result.ambient_temperature;
  state_ = room_state(content.room);
  const geometry::Value& draught = content.room.draught.speed;
  draught_ = {std::sqrt(geometry::mean_square(draught)), draught.low, draught.high};
  density_ = physics::density(state_, room_);
  viscosity_ = physics::viscosity(room_) / density_;
  for (std::size_t v = 0; v < content.device.vents.size() && v < result.vents.size(); ++v) {
    const geometry::Vent& vent = content.device.vents[v];
    const study::VentResult& flows = result.vents[v];
    if (flows.shut) continue;
    physics::VentFlow flow;
    flow.face = open_face(vent, flows);
    flow.in = flows.inflow / density_;
    flow.out = flows.outflow / physics::density(state_, flows.temperature_out);
    if (flow.in + flow.out < kLeastFlow) continue;
    flow.out_temperature = flows.temperature_out;
    flow.room_temperature = room_;
    flow.air = state_;
    const Eigen::Matrix3d axes = vent_axes(vent.face);
    flow.gravity = axes.transpose() * gravity_;
    vents_.push_back({physics::NearVent(flow), vent.centre, axes});
  }
  for (std::size_t s = 0; s < content.device.skins.size() && s < result.skins.size(); ++s)
    add_skin(content.device.skins[s], result.skins[s]);
}

void OutsideAir::add_skin(const geometry::Skin& skin, const study::SkinResult& result) {
  const double excess = result.temperature - room_;
  if (result.lies_on || excess < kLeastExcess) return;
  const Vec3 normal = geometry::face_normal(skin.face);
  const Vec3 up = -gravity_.normalized();
  const double upwards = normal.dot(up);
  if (upwards < -kFacesUp) return;  // warm air creeps along below it: nothing rises there
  WarmSkin warm;
  warm.centre = skin.centre;
  warm.axes = vent_axes(skin.face);
  warm.temperature = result.temperature;
  warm.stands = upwards <= kFacesUp;
  warm.along = std::min(1.0, (up - upwards * normal).norm());
  const double area = skin.width * skin.height;
  const double radiated =
      *skin.emissivity * kStefanBoltzmann * area * (std::pow(result.temperature, 4) - std::pow(room_, 4));
  warm.patch.width = skin.width;
  warm.patch.height = skin.height;
  warm.patch.heat_flow = std::max(0.0, result.heat_out - radiated);
  warm.patch.excess = excess;
  warm.patch.room = room_;
  warm.patch.air = state_;
  const Vec3 climb = warm.axes.transpose() * up;
  warm.reach = 0.5 * (std::abs(climb.x()) * skin.width + std::abs(climb.y()) * skin.height);
  skins_.push_back(warm);
}

physics::AirAt OutsideAir::of_skin(const WarmSkin& skin, const Vec3& place) const {
  physics::AirAt air;
  air.temperature = room_;
  const Vec3 up = -gravity_.normalized();
  const Vec3 offset = place - skin.centre;
  const Vec3 local = skin.axes.transpose() * offset;
  if (!skin.stands) {
    const double height = offset.dot(up);
    if (height <= 0.0 || local.z() < 0.0) return air;
    const physics::PlumeAir plume = physics::patch_plume(skin.patch, height, local.x(), local.y());
    air.velocity = plume.speed * up;
    air.temperature += plume.temperature_excess;
    return air;
  }
  const Vec3 climb = (up - up.dot(skin.axes.col(2)) * skin.axes.col(2)).normalized();
  const Vec3 sideways = climb.cross(Vec3(skin.axes.col(2)));
  const Vec3 in_patch = skin.axes.transpose() * sideways;
  const double half =
      0.5 * (std::abs(in_patch.x()) * skin.patch.width + std::abs(in_patch.y()) * skin.patch.height);
  const double run = offset.dot(climb) + skin.reach;
  const bool beside = local.z() < 0.0 || run <= 1e-4 || std::abs(offset.dot(sideways)) > half;
  if (beside) return air;
  // Above the patch the layer keeps what it has gained (judgement).
  const double length = std::min(run, 2.0 * skin.reach);
  const physics::WallLayer layer =
      physics::wall_layer({skin.temperature, room_, std::max(skin.along, 1e-3), state_}, length);
  if (local.z() >= layer.thickness) return air;
  air.velocity = layer.speed(local.z()) * climb;
  air.temperature += layer.warmth(local.z()) * (skin.temperature - room_);
  return air;
}

physics::AirAt OutsideAir::at(const Vec3& place) const {
  physics::AirAt air = physics::air_from(vents_, place);
  if (vents_.empty()) air.temperature = room_;
  double excess = air.temperature - room_;
  for (const WarmSkin& skin : skins_) {
    const physics::AirAt own = of_skin(skin, place);
    air.velocity += own.velocity;
    const double more = own.temperature - room_;
    if (std::abs(more) > std::abs(excess)) excess = more;
  }
  air.temperature = room_ + excess;
  return air;
}

bool SectionAir::cuts(int vent) const {
  const auto index = static_cast<std::size_t>(vent);
  return index < section_.vents.size() && section_.vents[index].cut == flow2d::VentCut::cut;
}

std::optional<physics::AirAt> SectionAir::at(const Vec3& place) const {
  const flow2d::Plane& plane = section_.plane;
  const auto a = between(section_.x, place[plane.first()]), b = between(section_.y, place[plane.second()]);
  const auto is_air = [&](int i, int j) {
    return section_.part(i, j) == static_cast<int>(flow2d::Part::air);
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
  physics::AirAt air;
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

bool SectionAir::holds(const physics::Hanging& hanging) const {
  return std::abs(hanging.direction.normalized()[section_.plane.normal]) < kAcross &&
         std::abs(hanging.facing.normalized()[section_.plane.normal]) < kAcross;
}

}  // namespace tuft::experiment
