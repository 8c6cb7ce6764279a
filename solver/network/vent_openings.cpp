#include "solver/network/vent_openings.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "geometry/device/lists.hpp"
#include "solver/network/vent_law.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/jet_suction.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::network {
namespace {

using geometry::contains;
using geometry::Place;
using geometry::PlaceKind;
using geometry::Vent;

// What an opening draws keeps the zone's warm air away from it, and so stops the exchange under heavier air
// sooner: its weight among the flows that purge. Fitted to the field (open_box_test).
constexpr double kFreshPurge = 2.5;

}  // namespace

VentAssembly::VentAssembly(Assembly& in, const ZoneAssembly& zones, const DuctNodes& ducts)
    : in_(in),
      zones_(zones),
      ducts_(ducts),
      lid_angle_(lid_angle(in.device, in.condition)),
      close_(surroundings_of(in.content, in.condition)),
      room_air_(in.content, in.condition,
                physics::density(in.network.graph.ambient.state, in.network.graph.ambient.temperature)) {}

int VentAssembly::node_behind(const Vent& vent, const Vec3& centre) const {
  const Place& place = vent.behind;
  switch (place.kind) {
    case PlaceKind::zone:
      return zones_.zone_node_at(place.index, centre);
    case PlaceKind::fins:
      return at(in_.network.layout.fin_node, place.index);
    case PlaceKind::fan_inlet:
      return at(ducts_.fan_in, place.index);
    case PlaceKind::fan_outlet:
      return at(ducts_.fan_out, place.index);
    case PlaceKind::vent:
    case PlaceKind::part:
    case PlaceKind::skin:
    case PlaceKind::source:
      break;  // no vent lies before these
  }
  return kOutside;
}

// Share of a hinge vent that the lid leaves free.
double VentAssembly::free_of_lid(const Vent& vent) const {
  const auto& table = in_.device.lid.hides_hinge;
  if (vent.face != geometry::Face::hinge || !in_.device.lid.present || table.empty()) return 1.0;
  std::vector<double> angle, share;
  for (const auto& row : table) {
    angle.push_back(row.angle);
    share.push_back(row.share);
  }
  return 1.0 - numerics::Ramp(angle, share).at(lid_angle_).value;
}

// The surface close to a vent, or none.
const Surface* VentAssembly::surface_at(int v) const {
  const geometry::Face face = at(in_.device.vents, v).face;
  if (touched(v)) return close_.before(face);
  return close_.lid && close_.lid->face == face ? &*close_.lid : nullptr;
}

bool VentAssembly::touched(int v) const {
  return !in_.support.touches_given || contains(in_.support.touches, v);
}

Opening VentAssembly::vent_opening(const Vent& vent, const Vec3& centre, double area) const {
  Opening opening;
  opening.name = vent.name;
  opening.a = node_behind(vent, centre);
  opening.law = vent_law(vent, in_.laws);
  opening.area = area;
  opening.centre = centre;
  opening.normal = geometry::face_normal(vent.face);
  Vec3 first, second;
  geometry::side_axes(vent, first, second);
  opening.width = first * vent.width;
  opening.height = second * vent.height;
  opening.depth = *vent.cover.thickness;
  opening.span_left = counterflow_share(vent);
  // Heads over its height are spent on the stream inside as they are between openings.
  if (const ZoneStream* stream = zones_.stream_at(opening.a)) {
    const double own = opening.law.inertial / (area * area);
    const double taken = stream->resistance / (own + stream->resistance);
    opening.span_left = 1.0 - stream->layered * taken;
    opening.purging = 1.0 + (kFreshPurge - 1.0) * stream->layered;
  }
  return opening;
}

void VentAssembly::add_vents() {
  in_.network.layout.vent_openings.resize(in_.device.vents.size());
  in_.network.layout.vent_node.resize(in_.device.vents.size());
  in_.network.layout.front.resize(in_.device.vents.size());
  gap_node_.assign(in_.device.vents.size(), kOutside);
  for (int v : by_name(in_.device.vents)) {
    at(in_.network.layout.vent_node, v) =
        node_behind(at(in_.device.vents, v), at(in_.device.vents, v).centre);
    add_vent(v);
  }
}

void VentAssembly::add_vent(int v) {
  const Vent& vent = at(in_.device.vents, v);
  std::vector<int>& openings = at(in_.network.layout.vent_openings, v);
  const double free = free_of_lid(vent);
  at(in_.network.layout.front, v).hidden = 1.0 - free;
  double area = vent_area(vent) * free;
  if (area < Assembly::kLeastArea) return;
  const Surface* surface = surface_at(v);
  const bool laid_over = contains(in_.support.covers, v);
  const double covered = laid_over ? 1.0 : (surface != nullptr ? surface->covered : 0.0);
  VentSurroundings& front = at(in_.network.layout.front, v);
  front.near_surface = surface != nullptr;
  front.gap = surface != nullptr ? surface->gap_at(vent.centre) : 0.0;
  front.covered = covered;
  const Surface* fabric = surface != nullptr ? surface : (close_.resting ? &*close_.resting : nullptr);
  if (covered > 0.0) {
    if (fabric != nullptr && fabric->breathes && area * covered > Assembly::kLeastArea)
      openings.push_back(add_covered_part(vent, area * covered, fabric->fabric));
    area *= 1.0 - covered;
    if (area < Assembly::kLeastArea) return;
  }
  const int before = surface != nullptr ? add_gap(v, *surface, covered) : kOutside;
  if (surface != nullptr && before == kOutside) return;  // no way out of the gap: shut
  std::vector<Opening> parts = openings_of(vent, area);
  for (Opening& strip : parts) {
    strip.b = before;
    if (surface == nullptr) strip.outside = room_air_.before(vent.face);
    openings.push_back(parts.size() > 1 ? in_.add_opening(strip) : in_.add_two_way(strip));
  }
}

// The part pressed against fabric: air goes through cover and fabric, one behind the other.
int VentAssembly::add_covered_part(const Vent& vent, double area, const physics::FaceLaw& fabric) {
  Opening opening = vent_opening(vent, vent.centre, area);
  opening.name += " (through fabric)";
  opening.law = physics::in_series(opening.law, fabric);
  opening.normal = Vec3::Zero();
  return in_.add_two_way(opening);
}

// The space in front of a vent on the resting face, with its ways to the face's edges and through the
// fabric.
int VentAssembly::add_gap(int v, const Surface& surface, double covered) {
  const Vent& vent = at(in_.device.vents, v);
  const std::vector<GapWay> ways = ways_to_edges(in_.device, surface, vent);
  if (ways.empty() && !surface.breathes) return kOutside;
  const int node = in_.add_node(vent.name + " (gap)", vent.centre, 0.0,
                                vent.width * vent.height * surface.gap_at(vent.centre));
  at(gap_node_, v) = node;
  for (const GapWay& way : ways) add_way(vent.name + " (gap edge)", node, kOutside, way);
  if (surface.breathes) {
    GapWay through;
    through.end = vent.centre;
    through.law = surface.fabric;
    // The pocket reaches the layer under the part of the vent that is not pressed shut and, sideways, as
    // far as the layer is thick (judgement).
    through.area =
        (1.0 - covered) * vent.width * vent.height + 2.0 * (vent.width + vent.height) * surface.thickness;
    add_way(vent.name + " (pocket through fabric)", node, kOutside, through);
  }
  return node;
}

void VentAssembly::add_way(const std::string& name, int a, int b, const GapWay& way) {
  Opening opening;
  opening.name = name;
  opening.a = a;
  opening.b = b;
  opening.law = way.law;
  opening.area = way.area;
  opening.centre = way.end;
  opening.width = way.span;
  if (b == kOutside && !way.outward.isZero()) opening.outside = room_air_.at_mouth(way.outward);
  if (way.height > 0.0) opening.laminar = {LaminarKind::gap, way.height, physics::kGapLaminar};
  in_.add_two_way(opening);
}

// What jets of openings into the room draw with on the others in their face (E21). A seam makes no jet.
void VentAssembly::add_jets() {
  if (*in_.laws.jet_suction == 0.0) return;
  const double density =
      physics::density(in_.network.graph.ambient.state, in_.network.graph.ambient.temperature);
  for (int o : by_name(in_.device.vents)) {
    const Vent& outlet = at(in_.device.vents, o);
    if (outlet.is_leak) continue;
    const double open = outlet.cover.loss_given ? 1.0 : *outlet.cover.open_ratio;
    for (int jet : open_to_room(o)) {
      const double free = open * at(in_.network.graph.openings, jet).area;
      for (int b : by_name(in_.device.vents)) {
        const Vent& beside = at(in_.device.vents, b);
        if (b == o || beside.face != outlet.face) continue;
        const double per_square =
            *in_.laws.jet_suction *
            physics::jet_suction(1.0 / density, free, (beside.centre - outlet.centre).norm(), density);
        for (int drawn : open_to_room(b)) in_.network.graph.jets.push_back({jet, drawn, per_square});
      }
    }
  }
}

std::vector<int> VentAssembly::open_to_room(int v) const {
  std::vector<int> list;
  for (int opening : at(in_.network.layout.vent_openings, v)) {
    const Opening& one = at(in_.network.graph.openings, opening);
    if (one.b == kOutside && !one.normal.isZero()) list.push_back(opening);
  }
  return list;
}

void VentAssembly::add_ways_between_vents() {
  const std::vector<int> order = by_name(in_.device.vents);
  for (std::size_t i = 0; i < order.size(); ++i) {
    for (std::size_t j = i + 1; j < order.size(); ++j) {
      const int a = at(gap_node_, order[i]);
      const int b = at(gap_node_, order[j]);
      const Vent& from = at(in_.device.vents, order[i]);
      const Vent& to = at(in_.device.vents, order[j]);
      if (a == kOutside || b == kOutside || from.face != to.face) continue;
      // A seam's rectangle only says where it runs; it opens no way for the air of the gap.
      if (from.is_leak || to.is_leak) continue;
      const auto way = way_between(*surface_at(order[i]), from, to);
      if (way) add_way(from.name + " to " + to.name + " (gap)", a, b, *way);
    }
  }
}

// Whole, or in the strips that the zone behind is layered by.
std::vector<Opening> VentAssembly::openings_of(const Vent& vent, double area) const {
  const std::vector<VentStrip> strips = zones_.strips_of(vent);
  std::vector<Opening> openings;
  for (const VentStrip& strip : strips) {
    Opening opening = vent_opening(vent, strip.centre, area * strip.share);
    if (strips.size() > 1) {
      opening.width = strip.along;
      opening.height = strip.across;
      // The strips share the head over the whole height. Its doubt is taken off what they resist instead,
      // which gives the same flow both ways.
      opening.law = physics::scaled(opening.law, 1.0 / *in_.laws.exchange);
      // Exchange under heavier air has the size of the whole opening (E4).
      opening.exchange = 1.0 / std::sqrt(strip.share);
    }
    openings.push_back(opening);
  }
  return openings;
}

}  // namespace tuft::network
