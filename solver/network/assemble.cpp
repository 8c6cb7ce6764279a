#include "solver/network/assemble.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>

#include "geometry/device/attitude.hpp"
#include "solver/network/fan_speed.hpp"
#include "solver/network/outside_pressure.hpp"
#include "solver/network/surface.hpp"
#include "solver/network/vent_law.hpp"
#include "solver/network/zone_parts.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/fin_heat.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::network {
namespace {

using geometry::Device;
using geometry::Place;
using geometry::PlaceKind;
using geometry::Vent;

// Face of a fin stack over its clear channels: fins take a fifth of it; judgement.
constexpr double kFinFaceRatio = 1.25;
// What an opening draws keeps the zone's warm air away from it, and so stops the exchange under heavier air
// sooner: its weight among the flows that purge. Fitted to the field (open_box_test).
constexpr double kFreshPurge = 2.5;
constexpr double kTypicalWarming =
    10.0;                          // of a zone's air [K], where fans and buoyancy are weighed; judgement
constexpr double kStirring = 2.0;  // flows that jets stir across, per fan's flow, at Ar = 1; judgement
// Below it a zone counts as mixed: more stirring would change its temperatures by less than a hundredth of
// their rise, and round-off would count.
constexpr double kLeastLayered = 0.01;
constexpr double kLeastStreamLoss = 1e-4;  // share of the losses that stays there: no stream is without any
constexpr double kLeastArea = 1e-12;       // [m2]: below it an opening counts as shut
// Air a node holds at least [m3]: a fan's mouth, a gap. It only sets how fast the node's temperature follows.
constexpr double kLeastVolume = 1e-6;

bool contains(const std::vector<int>& list, int value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

class Assembler {
 public:
  Assembler(const geometry::Case& content, const geometry::Condition& condition, ZoneAir air,
            const StreamOptions& streams, const std::vector<Parts>* parts)
      : case_(content),
        condition_(condition),
        air_(air),
        stream_options_(streams),
        known_parts_(parts),
        device_(content.device),
        laws_(content.laws),
        pose_(geometry::attitude_of(content, condition)),
        support_(at(content.supports, condition.support)),
        load_(at(content.loads, condition.load)),
        lid_angle_(lid_angle(content.device, condition)),
        close_(surroundings_of(content, condition)) {}

  Network build() {
    set_ambient();
    add_zones();
    add_fan_and_fin_nodes();
    add_passages();
    add_fin_channels();
    add_vents();
    add_ways_between_vents();
    add_fans();
    add_powers();
    return std::move(network_);
  }

 private:
  int add_node(const std::string& name, const Vec3& reference, double wall_conductance, double volume = 0.0) {
    const Ambient& ambient = network_.graph.ambient;
    const double capacity = physics::density(ambient.state, ambient.temperature) *
                            physics::specific_heat(ambient.temperature) * std::max(volume, kLeastVolume);
    network_.graph.nodes.push_back({name, reference, 0.0, wall_conductance, capacity});
    return static_cast<int>(network_.graph.nodes.size()) - 1;
  }

  int add_opening(const Opening& opening) {
    network_.graph.openings.push_back(opening);
    return static_cast<int>(network_.graph.openings.size()) - 1;
  }

  // What drives air both ways is in doubt: the head over the opening's height (E3), and the heavier air above
  // it (E4).
  int add_two_way(Opening opening) {
    opening.span_left *= *laws_.exchange;
    opening.exchange = *laws_.exchange;
    return add_opening(opening);
  }

  void set_ambient() {
    Ambient& ambient = network_.graph.ambient;
    ambient.temperature = *case_.room.temperature;
    ambient.state = physics::room_air(physics::standard_pressure(*case_.room.altitude), ambient.temperature,
                                      *case_.room.relative_humidity);
    ambient.gravity = physics::standard_gravity * pose_.down();
    room_air_.emplace(case_, condition_, physics::density(ambient.state, ambient.temperature));
  }

  void add_zones() {
    network_.layout.zone_node.resize(device_.zones.size());
    network_.layout.zone_parts.resize(device_.zones.size());
    network_.layout.parts.resize(device_.zones.size());
    places_.resize(device_.zones.size());
    for (int z : by_name(device_.zones)) {
      const geometry::Zone& zone = at(device_.zones, z);
      if (air_ == ZoneAir::layered && add_parts(z)) continue;
      const int node = add_node(zone.name, zone.centre, *zone.wall_conductance, zone.size.prod());
      at(network_.layout.zone_node, z) = node;
      at(network_.layout.zone_parts, z) = {{node, 1.0}};
      for (const PlacedHeat& heat : placed_in(z)) network_.layout.placed.push_back({heat, {1.0}});
      at(places_, z) = {zone.centre};
    }
  }

  // The openings that divide a zone's air among them. Seams do not: they are long, and little passes.
  std::vector<std::pair<std::string, Vec3>> openings_of(int z) const {
    std::vector<std::pair<std::string, Vec3>> list;
    for (int v : by_name(device_.vents)) {
      const Vent& vent = at(device_.vents, v);
      if (!vent.is_leak && vent.behind.kind == PlaceKind::zone && vent.behind.index == z)
        list.emplace_back(vent.name, vent.centre);
    }
    for (int p : by_name(device_.passages)) {
      const geometry::Passage& passage = at(device_.passages, p);
      if (passage.zone_a == z || passage.zone_b == z) list.emplace_back(passage.name, passage.centre);
    }
    return list;
  }

  // A node for each opening of a zone, and the streams between them (N8); false where one is enough.
  bool add_parts(int z) {
    const geometry::Zone& zone = at(device_.zones, z);
    const auto openings = openings_of(z);
    if (openings.size() < 2) return false;
    std::vector<Vec3> places;
    for (const auto& opening : openings) places.push_back(inside(zone, opening.second));
    Parts& parts = at(network_.layout.parts, z);
    parts = known_parts_ != nullptr ? at(*known_parts_, z) : parts_of_box(zone.centre, zone.size, places);
    std::vector<int> nodes(places.size(), kOutside);
    std::vector<ZonePart>& list = at(network_.layout.zone_parts, z);
    for (std::size_t p = 0; p < places.size(); ++p) {
      if (parts.share[p] == 0.0) continue;
      nodes[p] = add_node(zone.name + " (at " + openings[p].first + ")", places[p],
                          *zone.wall_conductance * parts.share[p], zone.size.prod() * parts.share[p]);
      list.push_back({nodes[p], parts.share[p]});
      at(places_, z).push_back(places[p]);
    }
    at(network_.layout.zone_node, z) =
        std::max_element(list.begin(), list.end(), [](const ZonePart& a, const ZonePart& b) {
          return a.share < b.share;
        })->node;
    const double layered = layered_share(z, places);
    const std::vector<double> losses =
        stream_losses(zone.centre, zone.size, network_.graph.ambient.gravity, places, parts.faces,
                      {stream_options_.loss_factor * *laws_.mixing});
    const ZonePlumes plumes = add_plumes(z, places, parts);
    double resistance = 0.0;
    for (std::size_t f = 0; f < parts.faces.size(); ++f) {
      resistance = std::max(resistance, add_stream(zone, parts.faces[f], places, nodes, losses[f], layered));
      network_.graph.openings.back().plume = plumes.streams[f];
    }
    for (const ZonePart& part : list) streams_[part.node] = {resistance, layered};
    return true;
  }

  // Heat that goes into the air of a zone at a given place.
  std::vector<PlacedHeat> placed_in(int z) const {
    std::vector<PlacedHeat> list;
    for (int s : by_name(device_.sources)) {
      const geometry::Source& source = at(device_.sources, s);
      const double power = power_under(load_, s);
      if (!source.is_placed || power == 0.0) continue;
      for (const geometry::HeatShare& share : source.shares)
        if (share.into.kind == PlaceKind::zone && share.into.index == z)
          list.push_back({s, z, source.centre, source.size, power * *share.share});
    }
    return list;
  }

  // Parts that are nearest nowhere have no node, and no heat goes there.
  ZonePlumes add_plumes(int z, const std::vector<Vec3>& places, const Parts& parts) {
    const geometry::Zone& zone = at(device_.zones, z);
    const std::vector<PlacedHeat> heats = placed_in(z);
    ZonePlumes plumes = plumes_in({zone.centre, zone.size, &places, &parts, network_.graph.ambient}, heats);
    for (std::size_t h = 0; h < heats.size(); ++h) {
      PlacedShares placed{heats[h], {}};
      for (std::size_t p = 0; p < places.size(); ++p)
        if (parts.share[p] > 0.0) placed.shares.push_back(plumes.shares[h][p]);
      network_.layout.placed.push_back(placed);
    }
    return plumes;
  }

  static Vec3 inside(const geometry::Zone& zone, const Vec3& place) {
    const Vec3 half = 0.5 * zone.size;
    return place.cwiseMax(zone.centre - half).cwiseMin(zone.centre + half);
  }

  // The node of a zone whose place is nearest.
  int zone_node_at(int z, const Vec3& place) const {
    const auto& places = at(places_, z);
    std::size_t best = 0;
    for (std::size_t p = 1; p < places.size(); ++p)
      if ((places[p] - place).squaredNorm() < (places[best] - place).squaredNorm()) best = p;
    return at(network_.layout.zone_parts, z)[best].node;
  }

  // Flow that all fans together drive at half their free delivery [kg/s].
  double fan_flow() const {
    double flow = 0.0;
    for (int f : by_name(device_.fans)) {
      const physics::FanCurve curve = fan_curve(at(device_.fans, f), laws_);
      flow += 0.5 * curve.free_delivery() * order_to(device_, load_, f).speed / curve.speed();
    }
    return flow * physics::density(network_.graph.ambient.state, network_.graph.ambient.temperature);
  }

  // Share of layers in a zone's air: 1 without fans; where they drive, Ar^2/(1 + Ar^2) with the Archimedes
  // number of the air that their flow draws through the zone's openings (N8).
  double layered_share(int z, const std::vector<Vec3>& places) const {
    const double flow = fan_flow();
    if (flow <= 0.0) return 1.0;
    const Ambient& ambient = network_.graph.ambient;
    double area = 0.0;
    for (int v : by_name(device_.vents)) {
      const Vent& vent = at(device_.vents, v);
      if (vent.behind.kind == PlaceKind::zone && vent.behind.index == z) area += vent_area(vent);
    }
    for (int p : by_name(device_.passages)) {
      const geometry::Passage& passage = at(device_.passages, p);
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

  // How far two parts lie side by side, and not one upon the other: 0 where their contact is less high than
  // one opening lies above the other, 1 where both are level. Air that is warmer above then has a level
  // surface somewhere within the parts, however their contact leans, and does not turn over there (N8).
  static double beside(double above, double contact) {
    if (contact <= above) return 0.0;
    const double u = 1.0 - above / contact;
    return u * u * (3.0 - 2.0 * u);
  }

  // The stream from one part of a zone to the next. The lower part's air fills the way between them: heat is
  // taken up on the way, half of it before the middle.
  // Returns its resistance I/A^2 where nothing mixes the zone.
  double add_stream(const geometry::Zone& zone, const PartFace& face, const std::vector<Vec3>& places,
                    const std::vector<int>& nodes, double loss, double layered) {
    const Vec3& from = at(places, face.a);
    const Vec3& to = at(places, face.b);
    const Vec3& gravity = network_.graph.ambient.gravity;
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
    opening.mixing = kStirring * fan_flow() * (1.0 / std::max(layered, kLeastLayered) - 1.0);
    add_opening(opening);
    return 0.5 * loss / (opening.area * opening.area);
  }

  // A fan's vents that open neither into a zone nor into fins get a node of their own, at the ducted vent.
  void add_fan_and_fin_nodes() {
    fins_in_.resize(device_.fin_stacks.size());
    network_.layout.fin_node.resize(device_.fin_stacks.size());
    for (int f : by_name(device_.fin_stacks)) {
      const geometry::FinStack& fins = at(device_.fin_stacks, f);
      fins_in_[f] = add_node(fins.name + " (entry)", fins.centre, 0.0);
      network_.layout.fin_node[f] = fins.exit_zone >= 0
                                        ? zone_node_at(fins.exit_zone, fins.centre)
                                        : add_node(fins.name, fins.centre, *fins.wall_conductance);
    }
    fan_in_.resize(device_.fans.size());
    fan_out_.resize(device_.fans.size());
    for (int f : by_name(device_.fans)) {
      const geometry::Fan& fan = at(device_.fans, f);
      at(fan_in_, f) = mouth(fan.draws_from, fan.name + " (inlet)", fan.centre);
      at(fan_out_, f) = mouth(fan.blows_into, fan.name + " (outlet)", fan.centre);
    }
  }

  int mouth(const Place& place, const std::string& name, const Vec3& centre) {
    if (place.kind == PlaceKind::zone) return zone_node_at(place.index, centre);
    if (place.kind == PlaceKind::fins) return at(fins_in_, place.index);
    return add_node(name, at(device_.vents, place.index).centre, 0.0);
  }

  void add_passages() {
    for (int p : by_name(device_.passages)) {
      const geometry::Passage& passage = at(device_.passages, p);
      const physics::Duct duct{*passage.width, *passage.height, *passage.length, *passage.bends};
      if (duct.width * duct.height < kLeastArea) continue;
      Opening opening;
      opening.name = passage.name;
      opening.a = zone_node_at(passage.zone_a, passage.centre);
      opening.b = zone_node_at(passage.zone_b, passage.centre);
      opening.law = physics::scaled(physics::passage(duct), *laws_.passages);
      opening.area = duct.width * duct.height;
      opening.centre = passage.centre;
      opening.depth = duct.length;
      opening.laminar = {LaminarKind::passage, physics::hydraulic_diameter(duct.width, duct.height),
                         physics::kDuctLaminar};
      const int first = passage.normal == 0 ? 1 : 0;
      const int second = passage.normal == 2 ? 1 : 2;
      opening.width = Vec3::Unit(first) * duct.width;
      opening.height = Vec3::Unit(second) * duct.height;
      const double towards = at(device_.zones, passage.zone_b).centre[passage.normal] -
                             at(device_.zones, passage.zone_a).centre[passage.normal];
      // Zones side by side along the normal have no above and below.
      if (std::abs(towards) > 1e-6)
        opening.normal = Vec3::Unit(passage.normal) * (towards > 0.0 ? 1.0 : -1.0);
      add_two_way(opening);
    }
  }

  void add_fin_channels() {
    network_.layout.fin_opening.resize(device_.fin_stacks.size());
    for (int f : by_name(device_.fin_stacks)) {
      const geometry::FinStack& fins = at(device_.fin_stacks, f);
      const physics::FinChannels channels{*fins.count, *fins.gap, *fins.height, *fins.length};
      Opening opening;
      opening.name = fins.name;
      opening.a = at(fins_in_, f);
      opening.b = at(network_.layout.fin_node, f);
      opening.area = channels.area() * kFinFaceRatio;
      opening.law = physics::scaled(physics::fin_stack(channels, opening.area), *laws_.fin_flow);
      // Into a zone the stream loses its velocity head behind the fins; into a vent it does so behind the
      // vent.
      if (fins.exit_zone >= 0) opening.law.inertial += 0.5 * physics::exit_loss;
      opening.centre = fins.centre;
      opening.depth = channels.length;
      // The channels are narrower than the face their law is stated on.
      opening.laminar = {LaminarKind::fins,
                         kFinFaceRatio * physics::hydraulic_diameter(channels.gap, channels.height),
                         physics::kDuctLaminar};
      at(network_.layout.fin_opening, f) = add_opening(opening);
    }
  }

  int node_behind(const Vent& vent) const {
    const Place& place = vent.behind;
    switch (place.kind) {
      case PlaceKind::zone:
        return zone_node_at(place.index, vent.centre);
      case PlaceKind::fins:
        return at(network_.layout.fin_node, place.index);
      case PlaceKind::fan_inlet:
        return at(fan_in_, place.index);
      case PlaceKind::fan_outlet:
        return at(fan_out_, place.index);
      case PlaceKind::vent:
      case PlaceKind::part:
      case PlaceKind::skin:
      case PlaceKind::source:
        break;  // no vent lies before these
    }
    return kOutside;
  }

  // Share of a hinge vent that the lid leaves free.
  double free_of_lid(const Vent& vent) const {
    const auto& table = device_.lid.hides_hinge;
    if (vent.face != geometry::Face::hinge || !device_.lid.present || table.empty()) return 1.0;
    std::vector<double> angle, share;
    for (const auto& row : table) {
      angle.push_back(row.angle);
      share.push_back(row.share);
    }
    return 1.0 - numerics::Ramp(angle, share).at(lid_angle_).value;
  }

  // The surface close to a vent, or none.
  const Surface* surface_at(int v) const {
    const geometry::Face face = at(device_.vents, v).face;
    if (touched(v)) return close_.before(face);
    return close_.lid && close_.lid->face == face ? &*close_.lid : nullptr;
  }

  bool touched(int v) const { return !support_.touches_given || contains(support_.touches, v); }

  Opening vent_opening(const Vent& vent, double area) const {
    Opening opening;
    opening.name = vent.name;
    opening.a = node_behind(vent);
    opening.law = vent_law(vent, laws_);
    opening.area = area;
    opening.centre = vent.centre;
    opening.normal = geometry::face_normal(vent.face);
    Vec3 first, second;
    geometry::face_axes(vent.face, first, second);
    opening.width = first * vent.width;
    opening.height = second * vent.height;
    opening.depth = *vent.cover.thickness;
    // Heads over its height are spent on the stream inside as they are between openings.
    const auto stream = streams_.find(opening.a);
    if (stream != streams_.end()) {
      const double own = opening.law.inertial / (area * area);
      const double taken = stream->second.resistance / (own + stream->second.resistance);
      opening.span_left = 1.0 - stream->second.layered * taken;
      opening.purging = 1.0 + (kFreshPurge - 1.0) * stream->second.layered;
    }
    return opening;
  }

  void add_vents() {
    network_.layout.vent_openings.resize(device_.vents.size());
    network_.layout.vent_node.resize(device_.vents.size());
    network_.layout.front.resize(device_.vents.size());
    gap_node_.assign(device_.vents.size(), kOutside);
    for (int v : by_name(device_.vents)) {
      at(network_.layout.vent_node, v) = node_behind(at(device_.vents, v));
      add_vent(v);
    }
  }

  void add_vent(int v) {
    const Vent& vent = at(device_.vents, v);
    std::vector<int>& openings = at(network_.layout.vent_openings, v);
    const double free = free_of_lid(vent);
    at(network_.layout.front, v).hidden = 1.0 - free;
    double area = vent_area(vent) * free;
    if (area < kLeastArea) return;
    const Surface* surface = surface_at(v);
    const bool laid_over = contains(support_.covers, v);
    const double covered = laid_over ? 1.0 : (surface != nullptr ? surface->covered : 0.0);
    VentSurroundings& front = at(network_.layout.front, v);
    front.near_surface = surface != nullptr;
    front.gap = surface != nullptr ? surface->gap_at(vent.centre) : 0.0;
    front.covered = covered;
    const Surface* fabric = surface != nullptr ? surface : (close_.resting ? &*close_.resting : nullptr);
    if (covered > 0.0) {
      if (fabric != nullptr && fabric->breathes && area * covered > kLeastArea)
        openings.push_back(add_covered_part(vent, area * covered, fabric->fabric));
      area *= 1.0 - covered;
      if (area < kLeastArea) return;
    }
    Opening opening = vent_opening(vent, area);
    if (surface != nullptr) opening.b = add_gap(v, *surface, covered);
    if (surface != nullptr && opening.b == kOutside) return;  // no way out of the gap: shut
    if (surface == nullptr) opening.outside = room_air_->before(vent.face);
    openings.push_back(add_two_way(opening));
  }

  // The part pressed against fabric: air goes through cover and fabric, one behind the other.
  int add_covered_part(const Vent& vent, double area, const physics::FaceLaw& fabric) {
    Opening opening = vent_opening(vent, area);
    opening.name += " (through fabric)";
    opening.law = physics::in_series(opening.law, fabric);
    opening.normal = Vec3::Zero();
    return add_two_way(opening);
  }

  // The space in front of a vent on the resting face, with its ways to the face's edges and through the
  // fabric.
  int add_gap(int v, const Surface& surface, double covered) {
    const Vent& vent = at(device_.vents, v);
    const std::vector<GapWay> ways = ways_to_edges(device_, surface, vent);
    if (ways.empty() && !surface.breathes) return kOutside;
    const int node = add_node(vent.name + " (gap)", vent.centre, 0.0,
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

  void add_way(const std::string& name, int a, int b, const GapWay& way) {
    Opening opening;
    opening.name = name;
    opening.a = a;
    opening.b = b;
    opening.law = way.law;
    opening.area = way.area;
    opening.centre = way.end;
    opening.width = way.span;
    if (b == kOutside && !way.outward.isZero()) opening.outside = room_air_->at_mouth(way.outward);
    if (way.height > 0.0) opening.laminar = {LaminarKind::gap, way.height, physics::kGapLaminar};
    add_two_way(opening);
  }

  void add_ways_between_vents() {
    const std::vector<int> order = by_name(device_.vents);
    for (std::size_t i = 0; i < order.size(); ++i) {
      for (std::size_t j = i + 1; j < order.size(); ++j) {
        const int a = at(gap_node_, order[i]);
        const int b = at(gap_node_, order[j]);
        const Vent& from = at(device_.vents, order[i]);
        const Vent& to = at(device_.vents, order[j]);
        if (a == kOutside || b == kOutside || from.face != to.face) continue;
        // A seam's rectangle only says where it runs; it opens no way for the air of the gap.
        if (from.is_leak || to.is_leak) continue;
        const auto way = way_between(*surface_at(order[i]), from, to);
        if (way) add_way(from.name + " to " + to.name + " (gap)", a, b, *way);
      }
    }
  }

  void add_fans() {
    network_.layout.fan_element.resize(device_.fans.size());
    for (int f : by_name(device_.fans)) {
      const geometry::Fan& fan = at(device_.fans, f);
      at(network_.layout.fan_element, f) = static_cast<int>(network_.graph.fans.size());
      network_.graph.fans.push_back({fan.name, at(fan_in_, f), at(fan_out_, f), fan_curve(fan, laws_),
                                     order_to(device_, load_, f).speed, fan.centre});
    }
  }

  void add_powers() {
    for (int s : by_name(device_.sources)) {
      const double power = power_under(load_, s);
      if (power == 0.0) continue;
      for (const geometry::HeatShare& share : at(device_.sources, s).shares) {
        const double heat = power * *share.share;
        if (share.into.kind == PlaceKind::fins) {
          at(network_.graph.nodes, at(network_.layout.fin_node, share.into.index)).power += heat;
          continue;
        }
        if (at(device_.sources, s).is_placed) continue;
        for (const ZonePart& part : at(network_.layout.zone_parts, share.into.index))
          at(network_.graph.nodes, part.node).power += heat * part.share;
      }
    }
    for (const PlacedShares& placed : network_.layout.placed) {
      const auto& parts = at(network_.layout.zone_parts, placed.heat.zone);
      for (std::size_t p = 0; p < parts.size(); ++p)
        at(network_.graph.nodes, parts[p].node).power += placed.heat.power * placed.shares[p];
    }
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  ZoneAir air_;
  const StreamOptions& stream_options_;
  const std::vector<Parts>* known_parts_;
  const Device& device_;
  const geometry::Laws& laws_;
  geometry::Pose pose_;
  const geometry::Support& support_;
  const geometry::Load& load_;
  double lid_angle_;
  Surroundings close_;
  std::optional<OutsidePressure> room_air_;  // made once the ambient air is known
  std::vector<int> fins_in_, fan_in_, fan_out_;
  std::vector<int> gap_node_;
  std::vector<std::vector<Vec3>> places_;  // of each zone's parts, as Layout::zone_parts
  struct Stream {
    double resistance = 0.0;  // largest I/A^2 in the zone
    double layered = 0.0;
  };
  std::map<int, Stream> streams_;  // in the layered zone that a node is part of
  Network network_;
};

}  // namespace

double power_under(const geometry::Load& load, int source) {
  for (const geometry::SourcePower& entry : load.powers)
    if (entry.source == source) return *entry.power;
  return 0.0;
}

double zone_temperature(const Layout& layout, std::size_t zone, const Eigen::VectorXd& temperature) {
  double mean = 0.0;
  for (const ZonePart& part : layout.zone_parts[zone]) mean += part.share * temperature[part.node];
  return mean;
}

double warmest_in_zone(const Layout& layout, std::size_t zone, const Eigen::VectorXd& temperature) {
  double warmest = 0.0;
  for (const ZonePart& part : layout.zone_parts[zone]) warmest = std::max(warmest, temperature[part.node]);
  return warmest;
}

Network assemble(const geometry::Case& content, const geometry::Condition& condition, ZoneAir air,
                 const StreamOptions& streams, const std::vector<Parts>* parts) {
  return Assembler(content, condition, air, streams, parts).build();
}

}  // namespace tuft::network
