#include "geometry/device/device.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::geometry {
namespace {
const double kHalfRoot = std::sqrt(0.5);
}

bool has_metal(const Device& device, int fin_stack) {
  const auto leads = [&](const auto& thing) {
    return std::any_of(thing.joints.begin(), thing.joints.end(), [&](const Joint& joint) {
      return joint.to.kind == PlaceKind::fins && joint.to.index == fin_stack;
    });
  };
  return std::any_of(device.sources.begin(), device.sources.end(), leads) ||
         std::any_of(device.parts.begin(), device.parts.end(), leads);
}

Vec3 face_normal(Face face) {
  switch (face) {
    case Face::base:
      return -Vec3::UnitZ();
    case Face::top:
      return Vec3::UnitZ();
    case Face::left:
      return -Vec3::UnitX();
    case Face::right:
      return Vec3::UnitX();
    case Face::front:
      return -Vec3::UnitY();
    case Face::rear:
      return Vec3::UnitY();
    case Face::hinge:
      return {0.0, kHalfRoot, kHalfRoot};
  }
  return Vec3::Zero();
}

void face_axes(Face face, Vec3& first, Vec3& second) {
  first = Vec3::UnitX();
  second = Vec3::UnitZ();
  switch (face) {
    case Face::base:
    case Face::top:
      second = Vec3::UnitY();
      break;
    case Face::left:
    case Face::right:
      first = Vec3::UnitY();
      break;
    case Face::front:
    case Face::rear:
      break;
    case Face::hinge:
      second = {0.0, -kHalfRoot, kHalfRoot};
      break;
  }
}

Vec3 fan_axis(const Fan& fan, const Device& device) {
  for (const Place& place : {fan.draws_from, fan.blows_into}) {
    if (fan.kind != FanKind::axial || place.kind != PlaceKind::vent) continue;
    return face_normal(device.vents[static_cast<std::size_t>(place.index)].face).cwiseAbs();
  }
  return Vec3::UnitZ();
}

Vec3 on_face(const Device& device, Face face, double first, double second) {
  switch (face) {
    case Face::base:
      return {first, second, 0.0};
    case Face::top:
      return {first, second, device.size.z()};
    case Face::left:
      return {0.0, first, second};
    case Face::right:
      return {device.size.x(), first, second};
    case Face::front:
      return {first, 0.0, second};
    case Face::rear:
      return {first, device.size.y(), second};
    case Face::hinge:
      return {first, device.size.y(), device.size.z()};
  }
  return Vec3::Zero();
}

}  // namespace tuft::geometry
