#include "solver/network/zone_air.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/fan_speed.hpp"
#include "solver/network/shared_air.hpp"
#include "solver/network/vent_law.hpp"

namespace tuft::network {
namespace {

using geometry::PlaceKind;
using geometry::Vent;

constexpr double kTypicalWarming =
    10.0;                          // of a zone's air [K], where fans and buoyancy are weighed; judgement
constexpr double kStirring = 2.0;  // flows that jets stir across, per fan's flow, at Ar = 1; judgement
// Below it a zone counts as mixed: more stirring would change its temperatures by less than a hundredth of
// their rise, and round-off would count.
constexpr double kLeastLayered = 0.01;
constexpr double kLeastStreamLoss = 1e-4;  // share of the losses that stays there: no stream is without any

Vec3 inside(const geometry::Zone& zone, const Vec3& place) {
  const Vec3 half = 0.5 * zone.size;
  return place.cwiseMax(zone.centre - half).cwiseMin(zone.centre + half);
}

// How far two parts lie side by side, and not one upon the other: 0 where their contact is less high than
// one opening lies above the other, 1 where both are level. Air that is warmer above then has a level
// surface somewhere within the parts, however their contact leans, and does not turn over there (N8).
double beside(double above, double contact) {
  if (contact <= above) return 0.0;
  const double u = 1.0 - above / contact;
  return u * u * (3.0 - 2.0 * u);
}

}  // namespace

void ZoneAssembly::add_zones() {
  in_.network.layout.zone_node.resize(in_.device.zones.size());
  in_.network.layout.zone_parts.resize(in_.device.zones.size());
  in_.network.layout.parts.resize(in_.device.zones.size());
  find_fan_flow();
  places_.resize(in_.device.zones.size());
  strips_.resize(in_.device.zones.size());
  standing_.assign(in_.device.zones.size(), 1.0);
  for (int z : by_name(in_.device.zones)) {
    const geometry::Zone& zone = at(in_.device.zones, z);
    if (air_ == ZoneAir::layered && add_parts(z)) continue;
    const int node = in_.add_node(zone.name, zone.centre, *zone.wall_conductance, zone.size.prod());
    at(in_.network.layout.zone_node, z) = node;
    at(in_.network.layout.zone_parts, z) = {{node, 1.0}};
    for (const PlacedHeat& heat : placed_in(z)) in_.network.layout.placed.push_back({heat, {1.0}});
    at(places_, z) = {zone.centre};
  }
}

// The openings that divide a zone's air among them. Seams do not: they are long, and little passes. Nor does a
// vent that is taped shut.
std::vector<std::pair<std::string, Vec3>> ZoneAssembly::openings_of(int z) const {
  std::vector<std::pair<std::string, Vec3>> list;
  for (int v : by_name(in_.device.vents)) {
    const Vent& vent = at(in_.device.vents, v);
    if (vent.is_leak || vent.behind.kind != PlaceKind::zone || vent.behind.index != z) continue;
    if (vent_area(vent) >= Assembly::kLeastArea) list.emplace_back(vent.name, vent.centre);
  }
  for (int p : by_name(in_.device.passages)) {
    const geometry::Passage& passage = at(in_.device.passages, p);
    if (passage.zone_a == z || passage.zone_b == z) list.emplace_back(passage.name, passage.centre);
  }
  return list;
}

// A single vent that stands is taken in strips where a plume layers the air behind it: cool air comes in
// through the lower ones, and the warm layer leaves through the upper ones.
std::vector<std::pair<std::string, Vec3>> ZoneAssembly::strips_in(int z) {
  std::vector<std::pair<std::string, Vec3>> list;
  if (!has_placed_source(z)) return list;
  for (const Vent& vent : in_.device.vents) {
    if (vent.is_leak || vent.behind.kind != PlaceKind::zone || vent.behind.index != z) continue;
    at(strips_, z) = level_strips(vent, in_.network.graph.ambient.gravity);
    at(standing_, z) = standing_share(vent, in_.network.graph.ambient.gravity);
    for (const VentStrip& strip : at(strips_, z))
      list.emplace_back(vent.name + " " + std::to_string(list.size() + 1), strip.centre);
  }
  return list;
}

// What heavy air that falls through a vent in strips stirs from part to part, each way [kg/s].
double ZoneAssembly::stirred_by_level_vent(int z) const {
  const double flow =
      heat_into(z) / (physics::specific_heat(in_.network.graph.ambient.temperature) * kTypicalWarming);
  return flow * (1.0 / at(standing_, z) - 1.0);
}

// A node for each opening of a zone, and the streams between them (N8); false where one is enough.
bool ZoneAssembly::add_parts(int z) {
  const geometry::Zone& zone = at(in_.device.zones, z);
  auto openings = openings_of(z);
  if (openings.size() == 1) openings = strips_in(z);
  if (openings.size() < 2) return false;
  std::vector<Vec3> places;
  for (const auto& opening : openings) places.push_back(inside(zone, opening.second));
  Parts& parts = at(in_.network.layout.parts, z);
  const bool known = known_parts_ != nullptr && at(*known_parts_, z).are_of(zone.centre, zone.size, places);
  parts = known ? at(*known_parts_, z) : parts_of_box(zone.centre, zone.size, places);
  std::vector<int> nodes(places.size(), kOutside);
  std::vector<ZonePart>& list = at(in_.network.layout.zone_parts, z);
  const ZonePlumes plumes = add_plumes(z, places, parts);
  for (std::size_t p = 0; p < places.size(); ++p) {
    if (parts.share[p] == 0.0) continue;
    const double share = plumes.volume[p];
    nodes[p] = in_.add_node(zone.name + " (at " + openings[p].first + ")", places[p],
                            *zone.wall_conductance * share, zone.size.prod() * share);
    list.push_back({nodes[p], share});
    at(places_, z).push_back(places[p]);
  }
  at(in_.network.layout.zone_node, z) =
      std::max_element(list.begin(), list.end(), [](const ZonePart& a, const ZonePart& b) {
        return a.share < b.share;
      })->node;
  const double layered = layered_share(z, places);
  const std::vector<double> losses =
      stream_losses(zone.centre, zone.size, in_.network.graph.ambient.gravity, places, parts.faces,
                    {stream_options_.loss_factor * *in_.laws.mixing});
  const double stirred = stirred_by_level_vent(z);
  double resistance = 0.0;
  for (std::size_t f = 0; f < parts.faces.size(); ++f) {
    resistance = std::max(resistance, add_stream(zone, parts.faces[f], places, nodes, losses[f], layered,
                                                 jets_stir(z, layered) + stirred));
    in_.network.graph.openings.back().plume = plumes.streams[f];
  }
  for (const ZonePart& part : list) streams_[part.node] = {resistance, layered * at(standing_, z)};
  return true;
}

// Whatever its power: loads that follow each other share the nodes of one network.
bool ZoneAssembly::has_placed_source(int z) const {
  const auto heats = [z](const geometry::HeatShare& share) {
    return share.into.kind == PlaceKind::zone && share.into.index == z;
  };
  return std::any_of(
      in_.device.sources.begin(), in_.device.sources.end(), [&](const geometry::Source& source) {
        return source.is_placed && std::any_of(source.shares.begin(), source.shares.end(), heats);
      });
}

// Heat that goes into the air of a zone at a given place.
std::vector<PlacedHeat> ZoneAssembly::placed_in(int z) const {
  std::vector<PlacedHeat> list;
  for (int s : by_name(in_.device.sources)) {
    const geometry::Source& source = at(in_.device.sources, s);
    const double power = power_under(in_.load, s);
    if (!source.is_placed || power == 0.0) continue;
    for (const geometry::HeatShare& share : source.shares)
      if (share.into.kind == PlaceKind::zone && share.into.index == z)
        list.push_back({s, z, source.centre, source.size, power * *share.share});
  }
  return list;
}

// Heat that goes into the air of a zone, wherever [W].
double ZoneAssembly::heat_into(int z) const {
  double sum = 0.0;
  for (int s : by_name(in_.device.sources))
    for (const geometry::HeatShare& share : at(in_.device.sources, s).shares)
      if (share.into.kind == PlaceKind::zone && share.into.index == z)
        sum += std::max(power_under(in_.load, s), 0.0) * *share.share;
  return sum;
}

// Parts that are nearest nowhere have no node, and no heat goes there.
ZonePlumes ZoneAssembly::add_plumes(int z, const std::vector<Vec3>& places, const Parts& parts) {
  const geometry::Zone& zone = at(in_.device.zones, z);
  const std::vector<PlacedHeat> heats = placed_in(z);
  ZonePlumes plumes = plumes_in({zone.centre, zone.size, &places, &parts, in_.network.graph.ambient,
                                 *in_.laws.entrainment, heat_into(z)},
                                heats);
  for (std::size_t h = 0; h < heats.size(); ++h) {
    PlacedShares placed{heats[h], {}};
    for (std::size_t p = 0; p < places.size(); ++p)
      if (parts.share[p] > 0.0) placed.shares.push_back(plumes.shares[h][p]);
    in_.network.layout.placed.push_back(placed);
  }
  return plumes;
}

// The node of a zone whose place is nearest.
int ZoneAssembly::zone_node_at(int z, const Vec3& place) const {
  const auto& places = at(places_, z);
  std::size_t best = 0;
  for (std::size_t p = 1; p < places.size(); ++p)
    if ((places[p] - place).squaredNorm() < (places[best] - place).squaredNorm()) best = p;
  return at(in_.network.layout.zone_parts, z)[best].node;
}

// Flow that the fans of the air a zone shares drive together, at half their free delivery [kg/s].
void ZoneAssembly::find_fan_flow() {
  const SharedAir shared = shared_air(in_.device);
  const double density =
      physics::density(in_.network.graph.ambient.state, in_.network.graph.ambient.temperature);
  fan_flow_.assign(in_.device.zones.size(), 0.0);
  for (int f : by_name(in_.device.fans)) {
    const physics::FanCurve& curve = at(in_.fan_curves, f);
    const double flow =
        0.5 * curve.free_delivery() * order_to(in_.device, in_.load, f).speed / curve.speed() * density;
    for (std::size_t z = 0; z < fan_flow_.size(); ++z)
      if (shared.of_zone[z] == at(shared.of_fan, f)) fan_flow_[z] += flow;
  }
}

// Share of layers in a zone's air: 1 without fans; where they drive, Ar^2/(1 + Ar^2) with the Archimedes
// number of the air that their flow draws through the zone's openings (N8).
double ZoneAssembly::layered_share(int z, const std::vector<Vec3>& places) const {
  const double flow = at(fan_flow_, z);
  if (flow <= 0.0) return 1.0;
  const Ambient& ambient = in_.network.graph.ambient;
  double area = 0.0;
  for (int v : by_name(in_.device.vents)) {
    const Vent& vent = at(in_.device.vents, v);
    if (vent.behind.kind == PlaceKind::zone && vent.behind.index == z) area += vent_area(vent);
  }
  for (int p : by_name(in_.device.passages)) {
    const geometry::Passage& passage = at(in_.device.passages, p);
    if (passage.zone_a == z || passage.zone_b == z) area += *passage.width * *passage.height;
  }
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const Vec3& place : places) {
    low = std::min(low, ambient.gravity.dot(place));
    high = std::max(high, ambient.gravity.dot(place));
  }
  const double speed = flow / (physics::density(ambient.state, ambient.temperature) * area);
  const double archimedes = (high - low) * kTypicalWarming / ambient.temperature / (speed * speed);
  return archimedes * archimedes / (1.0 + archimedes * archimedes);
}

// What the fans' jets stir from part to part of a zone's air, each way [kg/s].
double ZoneAssembly::jets_stir(int z, double layered) const {
  return kStirring * at(fan_flow_, z) * (1.0 / std::max(layered, kLeastLayered) - 1.0);
}

// The stream from one part of a zone to the next. The lower part's air fills the way between them: heat is
// taken up on the way, half of it before the middle.
// Returns its resistance I/A^2 where nothing mixes the zone.
double ZoneAssembly::add_stream(const geometry::Zone& zone, const PartFace& face,
                                const std::vector<Vec3>& places, const std::vector<int>& nodes, double loss,
                                double layered, double stirred) {
  const Vec3& from = at(places, face.a);
  const Vec3& to = at(places, face.b);
  const Vec3& gravity = in_.network.graph.ambient.gravity;
  int axis = 0;
  face.area.cwiseAbs().maxCoeff(&axis);
  const int first = (axis + 1) % 3, second = (axis + 2) % 3;
  const double width = std::min(zone.size[first], zone.size[second]);
  const double length = (to - from).norm();
  Opening opening;
  opening.name = zone.name + " (inside)";
  opening.a = at(nodes, face.a);
  opening.b = at(nodes, face.b);
  opening.area = face.area.norm();
  const double left = std::max(layered, kLeastStreamLoss);
  opening.law = {12.0 * length / (width * width) * left, 0.5 * loss * left};
  opening.centre = zone.centre;
  opening.centre[axis] = gravity.dot(to - from) > 0.0 ? from[axis] : to[axis];
  opening.normal = face.area.normalized();
  const double scale = std::sqrt(opening.area / (zone.size[first] * zone.size[second]));
  opening.width = Vec3::Unit(first) * zone.size[first] * scale;
  opening.height = Vec3::Unit(second) * zone.size[second] * scale;
  opening.depth = length;
  opening.span_left =
      beside(std::abs(gravity.dot(to - from)), span_lever(gravity, opening.width, opening.height));
  opening.mixing = stirred;
  in_.add_opening(opening);
  return 0.5 * loss / (opening.area * opening.area);
}

const ZoneStream* ZoneAssembly::stream_at(int node) const {
  const auto found = streams_.find(node);
  return found != streams_.end() ? &found->second : nullptr;
}

std::vector<VentStrip> ZoneAssembly::strips_of(const Vent& vent) const {
  if (!vent.is_leak && vent.behind.kind == PlaceKind::zone && !at(strips_, vent.behind.index).empty())
    return at(strips_, vent.behind.index);
  VentStrip whole;
  whole.centre = vent.centre;
  return {whole};
}

}  // namespace tuft::network
