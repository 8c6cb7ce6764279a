#include "geometry/device/device.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::geometry {
namespace {

const double kHalfRoot = std::sqrt(0.5);

// The axis a face lies across, and whether it is the one at the axis' high end. The hinge counts as the rear.
struct FacePlace {
  int axis;
  bool high;
};
constexpr FacePlace kFacePlaces[] = {{2, false}, {2, true}, {0, false}, {0, true},
                                     {1, false}, {1, true}, {1, true}};

constexpr const FacePlace& place_of(Face face) { return kFacePlaces[static_cast<std::size_t>(face)]; }
constexpr int first_axis(Face face) { return place_of(face).axis == 0 ? 1 : 0; }
constexpr int second_axis(Face face) { return place_of(face).axis == 2 ? 1 : 2; }

}  // namespace

bool is_joined(const Device& device, const Place& place) {
  const auto leads = [&](const auto& thing) {
    return std::any_of(thing.joints.begin(), thing.joints.end(), [&](const Joint& joint) {
      return joint.to.kind == place.kind && joint.to.index == place.index;
    });
  };
  return std::any_of(device.sources.begin(), device.sources.end(), leads) ||
         std::any_of(device.parts.begin(), device.parts.end(), leads);
}

const std::string& place_name(const Device& device, const Place& place) {
  const List list = list_of(place.kind);
  return list == List::zones        ? device.zones[place.index].name
         : list == List::fin_stacks ? device.fin_stacks[place.index].name
         : list == List::fans       ? device.fans[place.index].name
         : list == List::parts      ? device.parts[place.index].name
         : list == List::skins      ? device.skins[place.index].name
         : list == List::sources    ? device.sources[place.index].name
                                    : device.vents[place.index].name;
}

Vec3 fin_direction(const Device& device, std::size_t stack) {
  for (const Vent& vent : device.vents) {
    if (vent.behind.kind != PlaceKind::fins || vent.behind.index != static_cast<int>(stack)) continue;
    if (vent.face != Face::hinge) return face_normal(vent.face).cwiseAbs();
  }
  return Vec3::UnitY();
}

Vec3 fin_extents(const Device& device, std::size_t stack) {
  const FinStack& fins = device.fin_stacks[stack];
  const Vec3 along = fin_direction(device, stack);
  const Vec3 side = std::abs(along.x()) > 0.5 ? Vec3::UnitY() : Vec3::UnitX();
  const double across = *fins.count * (*fins.gap + *fins.fin_thickness);
  return along * *fins.length + side * across + (Vec3::Ones() - along - side) * *fins.height;
}

Vec3 face_normal(Face face) {
  if (face == Face::hinge) return {0.0, kHalfRoot, kHalfRoot};
  const Vec3 axis = Vec3::Unit(place_of(face).axis);
  return place_of(face).high ? axis : Vec3(-axis);
}

void face_axes(Face face, Vec3& first, Vec3& second) {
  first = Vec3::Unit(first_axis(face));
  second = face == Face::hinge ? Vec3(0.0, -kHalfRoot, kHalfRoot) : Vec3(Vec3::Unit(second_axis(face)));
}

double turn_sense(Face face) {
  return face == Face::base || face == Face::left || face == Face::rear ? -1.0 : 1.0;
}

void side_axes(Face face, double turned, Vec3& first, Vec3& second) {
  face_axes(face, first, second);
  if (turned == 0.0) return;
  const double along = std::cos(turned), across = turn_sense(face) * std::sin(turned);
  const Vec3 turned_first = along * first + across * second;
  second = along * second - across * first;
  first = turned_first;
}

void side_axes(const Vent& vent, Vec3& first, Vec3& second) {
  side_axes(vent.face, vent.turned, first, second);
}

Eigen::Vector2d extents_on_face(double width, double height, double turned) {
  if (turned == 0.0) return {width, height};
  const double along = std::abs(std::cos(turned)), across = std::abs(std::sin(turned));
  return {width * along + height * across, width * across + height * along};
}

Eigen::Vector2d extents_on_face(const Vent& vent) {
  return extents_on_face(vent.width, vent.height, vent.turned);
}

Vec3 fan_axis(const Fan& fan, const Device& device) {
  for (const Place& place : {fan.draws_from, fan.blows_into}) {
    if (fan.kind != FanKind::axial || place.kind != PlaceKind::vent) continue;
    return face_normal(device.vents[place.index].face).cwiseAbs();
  }
  return Vec3::UnitZ();
}

Vec3 on_face(const Device& device, Face face, double first, double second) {
  const FacePlace& place = place_of(face);
  Vec3 point;
  point[place.axis] = place.high ? device.size[place.axis] : 0.0;
  point[first_axis(face)] = first;
  point[second_axis(face)] = face == Face::hinge ? device.size.z() : second;
  return point;
}

}  // namespace tuft::geometry
