#include "solver/network/surface.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/graph.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::network {
namespace {

// Fabric that passes less than this at 100 Pa is tight [m/s]: 1 um of air in a second.
constexpr double kTight = 1e-6;

using geometry::Device;
using geometry::Face;
using geometry::Support;
using geometry::SupportKind;
using geometry::Vec3;
using geometry::Vent;
using physics::scaled;

constexpr double kShut = 1e-5;             // a gap below this passes nothing worth counting [m]
constexpr double kTouching = 1e-3;         // least length of a way through a gap [m]
constexpr double kLidClosed = 0.17453;     // 10 degrees
constexpr double kFacesDown = 0.70710678;  // 45 degrees

constexpr Face kBoxFaces[] = {Face::base, Face::top, Face::left, Face::right, Face::front, Face::rear};

// The box corner that lies lowest.
Vec3 lowest_corner(const Device& device, const Vec3& down) {
  Vec3 corner = Vec3::Zero();
  for (int axis = 0; axis < 3; ++axis)
    if (down[axis] > 0.0) corner[axis] = device.size[axis];
  return corner;
}

std::optional<Face> face_looking_down(const Vec3& down) {
  std::optional<Face> best;
  double most = kFacesDown - 1e-9;
  for (Face face : kBoxFaces) {
    const double value = geometry::face_normal(face).dot(down);
    if (value <= most + 1e-12) continue;
    most = value;
    best = face;
  }
  return best;
}

double base_gap(const Device& device, const Support& support) {
  return support.gap_given ? *support.gap : *device.feet;
}

// Height whose cube stands for a gap changing linearly from one end to the other: the integral of dx / h^3
// over it, (h0 + h1) / (2 h0^2 h1^2) per length (derived).
double lubrication_height(double h0, double h1) {
  if (h0 <= 0.0 || h1 <= 0.0) return 0.0;
  return std::cbrt(2.0 * h0 * h0 * h1 * h1 / (h0 + h1));
}

std::optional<GapWay> make_way(const Surface& surface, const Vec3& start, const Vec3& end, double length,
                               double inner_width, double outer_width, const Vec3& across) {
  physics::GapPath path;
  path.height = lubrication_height(surface.gap_at(start), surface.gap_at(end));
  path.length = length;
  path.inner_width = inner_width;
  path.outer_width = outer_width;
  if (path.height < kShut) return std::nullopt;
  GapWay way;
  way.end = end;
  way.span = across * outer_width;
  way.law = physics::support_gap(path);
  // Entry, turn and exit happen at the vents, and a wedge's lower mouth is what they are lost in.
  const double narrow = path.height / std::min(surface.gap_at(start), surface.gap_at(end));
  way.law.inertial *= narrow * narrow;
  way.law = scaled(way.law, surface.resistance);
  way.area = path.face_area();
  way.height = path.height;
  return way;
}

// In-face coordinates of a face: axes from its origin corner, and their lengths.
struct FaceFrame {
  Vec3 axis[2];
  double length[2];
};

FaceFrame frame_of(const Device& device, Face face) {
  FaceFrame frame;
  geometry::face_axes(face, frame.axis[0], frame.axis[1]);
  for (int i : {0, 1}) frame.length[i] = std::abs(frame.axis[i].dot(device.size));
  return frame;
}

// Way out of a vent along one axis (0 or 1) of its face towards its low or its high end.
std::optional<GapWay> way_out(const Surface& surface, const FaceFrame& frame, const Vent& vent, int axis,
                              bool towards_high) {
  const Vec3& along = frame.axis[axis];
  const Vec3& across = frame.axis[1 - axis];
  const Eigen::Vector2d extents = geometry::extents_on_face(vent);
  const double vent_along = extents[axis];
  const double vent_across = extents[1 - axis];
  const double centre_along = along.dot(vent.centre);
  const double centre_across = across.dot(vent.centre);
  const double edge = towards_high ? frame.length[axis] : 0.0;
  const double mouth = centre_along + (towards_high ? 0.5 : -0.5) * vent_along;
  // A seam may fill its face. Air still turns within the thickness of the shell: without a length the way
  // would have no slope at rest, and its state no answer.
  const double length = std::max(std::abs(edge - mouth), kTouching);
  // The stream spreads by 45 degrees to either side as far as the face goes (judgement).
  const double low = std::max(centre_across - 0.5 * vent_across - length, 0.0);
  const double high = std::min(centre_across + 0.5 * vent_across + length, frame.length[1 - axis]);
  const Vec3 end =
      vent.centre + along * (edge - centre_along) + across * (0.5 * (low + high) - centre_across);
  const Vec3 start = vent.centre + along * (mouth - centre_along);
  std::optional<GapWay> way =
      make_way(surface, start, end, length, vent_across, std::max(high - low, vent_across), across);
  if (way) way->outward = towards_high ? along : Vec3(-along);
  return way;
}

}  // namespace

double Surface::gap_at(const Vec3& point) const { return std::max(gap + gradient.dot(point - anchor), 0.0); }

std::optional<Surface> resting_surface(const Device& device, const geometry::Pose& pose,
                                       const Support& support) {
  if (support.kind == SupportKind::air) return std::nullopt;
  Surface surface;
  const bool soft = support.kind == SupportKind::soft || support.kind == SupportKind::lap;
  if (support.kind == SupportKind::wall) {
    surface.face = Face::base;
    surface.gap = base_gap(device, support);
  } else {
    const Vec3 down = pose.down();
    const std::optional<Face> face = face_looking_down(down);
    if (!face) return std::nullopt;
    surface.face = *face;
    const bool on_feet = *face == Face::base || support.kind == SupportKind::stand;
    surface.gap = on_feet ? base_gap(device, support) : (soft ? 0.0 : *support.edge_gap);
    surface.anchor = lowest_corner(device, down);
    surface.gradient = -down - geometry::face_normal(*face) * geometry::face_normal(*face).dot(-down);
  }
  if (soft) {
    // A gap that was given is the clear gap: the device has sunk in already.
    if (!support.gap_given) surface.gap -= *support.sink;
    surface.breathes = *support.permeability > kTight;
    if (surface.breathes) surface.fabric = physics::fabric(*support.permeability);
    surface.thickness = *support.thickness;
  }
  surface.covered = std::clamp(*support.covered, 0.0, 1.0);
  return surface;
}

std::optional<Surface> closed_lid(const Device& device, double lid_angle) {
  if (!device.lid.present || lid_angle > kLidClosed) return std::nullopt;
  Surface surface;
  surface.face = Face::top;
  surface.anchor = {0.0, device.size.y(), device.size.z()};
  surface.gap = *device.lid.clearance;
  surface.gradient = {0.0, -std::tan(lid_angle), 0.0};
  return surface;
}

double lid_angle(const Device& device, const geometry::Condition& condition) {
  return condition.lid_given ? *condition.lid_angle : *device.lid.angle;
}

Surroundings surroundings_of(const geometry::Case& content, const geometry::Condition& condition) {
  const Device& device = content.device;
  Surroundings out{
      resting_surface(device, at(content.poses, condition.pose), at(content.supports, condition.support)),
      closed_lid(device, lid_angle(device, condition))};
  if (out.resting) out.resting->fabric = scaled(out.resting->fabric, *content.laws.fabric);
  for (auto* surface : {&out.resting, &out.lid})
    if (*surface) (*surface)->resistance = *content.laws.gap;
  return out;
}

std::vector<GapWay> ways_to_edges(const Device& device, const Surface& surface, const Vent& vent) {
  const FaceFrame frame = frame_of(device, surface.face);
  std::vector<GapWay> ways;
  for (bool towards_high : {false, true})
    for (int axis : {0, 1})
      if (const auto way = way_out(surface, frame, vent, axis, towards_high)) ways.push_back(*way);
  return ways;
}

std::optional<GapWay> way_between(const Surface& surface, const Vent& from, const Vent& to) {
  Vec3 first, second;
  geometry::face_axes(surface.face, first, second);
  const Vec3 offset = to.centre - from.centre;
  const Eigen::Vector2d near = geometry::extents_on_face(from), far = geometry::extents_on_face(to);
  const double clear_first = std::abs(first.dot(offset)) - 0.5 * (near.x() + far.x());
  const double clear_second = std::abs(second.dot(offset)) - 0.5 * (near.y() + far.y());
  const bool along_first = clear_first >= clear_second;
  // Vents that touch are still some way apart for the air between them.
  const double length = std::max(along_first ? clear_first : clear_second, kTouching);
  const double inner = along_first ? near.y() : near.x();
  const double outer = along_first ? far.y() : far.x();
  std::optional<GapWay> way = make_way(surface, from.centre, to.centre, length, inner, outer, Vec3::Zero());
  if (way) way->end = 0.5 * (from.centre + to.centre);  // the same whichever vent is named first
  return way;
}

}  // namespace tuft::network
