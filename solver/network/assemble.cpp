#include "solver/network/assemble.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "solver/network/fan_speed.hpp"
#include "solver/network/surface.hpp"
#include "solver/network/vent_law.hpp"
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
constexpr double kLeastArea = 1e-12;  // [m2]: below it an opening counts as shut
// Air a node holds at least [m3]: a fan's mouth, a gap. It only sets how fast the node's temperature follows.
constexpr double kLeastVolume = 1e-6;

bool contains(const std::vector<int>& list, int value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

class Assembler {
 public:
  Assembler(const geometry::Case& content, const geometry::Condition& condition)
      : case_(content),
        device_(content.device),
        pose_(at(content.poses, condition.pose)),
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

  void set_ambient() {
    Ambient& ambient = network_.graph.ambient;
    ambient.temperature = *case_.room.temperature;
    ambient.state = physics::room_air(physics::standard_pressure(*case_.room.altitude), ambient.temperature,
                                      *case_.room.relative_humidity);
    ambient.gravity = physics::standard_gravity * pose_.down();
  }

  void add_zones() {
    network_.layout.zone_node.resize(device_.zones.size());
    for (int z : by_name(device_.zones)) {
      const geometry::Zone& zone = at(device_.zones, z);
      at(network_.layout.zone_node, z) =
          add_node(zone.name, zone.centre, *zone.wall_conductance, zone.size.prod());
    }
  }

  // A fan's vents that open neither into a zone nor into fins get a node of their own, at the ducted vent.
  void add_fan_and_fin_nodes() {
    fins_in_.resize(device_.fin_stacks.size());
    network_.layout.fin_node.resize(device_.fin_stacks.size());
    for (int f : by_name(device_.fin_stacks)) {
      const geometry::FinStack& fins = at(device_.fin_stacks, f);
      fins_in_[f] = add_node(fins.name + " (entry)", fins.centre, 0.0);
      network_.layout.fin_node[f] = fins.exit_zone >= 0
                                        ? at(network_.layout.zone_node, fins.exit_zone)
                                        : add_node(fins.name, fins.centre, *fins.wall_conductance);
    }
    fan_in_.resize(device_.fans.size());
    fan_out_.resize(device_.fans.size());
    for (int f : by_name(device_.fans)) {
      const geometry::Fan& fan = at(device_.fans, f);
      at(fan_in_, f) = mouth(fan.draws_from, fan.name + " (inlet)");
      at(fan_out_, f) = mouth(fan.blows_into, fan.name + " (outlet)");
    }
  }

  int mouth(const Place& place, const std::string& name) {
    if (place.kind == PlaceKind::zone) return at(network_.layout.zone_node, place.index);
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
      opening.a = at(network_.layout.zone_node, passage.zone_a);
      opening.b = at(network_.layout.zone_node, passage.zone_b);
      opening.law = physics::passage(duct);
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
      add_opening(opening);
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
      opening.law = physics::fin_stack(channels, opening.area);
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
        return at(network_.layout.zone_node, place.index);
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
    opening.law = vent_law(vent);
    opening.area = area;
    opening.centre = vent.centre;
    opening.normal = geometry::face_normal(vent.face);
    Vec3 first, second;
    geometry::face_axes(vent.face, first, second);
    opening.width = first * vent.width;
    opening.height = second * vent.height;
    opening.depth = *vent.cover.thickness;
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
    openings.push_back(add_opening(opening));
  }

  // The part pressed against fabric: air goes through cover and fabric, one behind the other.
  int add_covered_part(const Vent& vent, double area, const physics::FaceLaw& fabric) {
    Opening opening = vent_opening(vent, area);
    opening.name += " (through fabric)";
    opening.law = physics::in_series(opening.law, fabric);
    opening.normal = Vec3::Zero();
    return add_opening(opening);
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
    if (way.height > 0.0) opening.laminar = {LaminarKind::gap, way.height, physics::kGapLaminar};
    add_opening(opening);
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
      network_.graph.fans.push_back({fan.name, at(fan_in_, f), at(fan_out_, f), fan_curve(fan),
                                     order_to(device_, load_, f).speed, fan.centre});
    }
  }

  void add_powers() {
    for (int s : by_name(device_.sources)) {
      const double power = power_under(load_, s);
      if (power == 0.0) continue;
      for (const geometry::HeatShare& share : at(device_.sources, s).shares) {
        const int node = share.into.kind == PlaceKind::fins ? at(network_.layout.fin_node, share.into.index)
                                                            : at(network_.layout.zone_node, share.into.index);
        at(network_.graph.nodes, node).power += power * *share.share;
      }
    }
  }

  const geometry::Case& case_;
  const Device& device_;
  const geometry::Pose& pose_;
  const geometry::Support& support_;
  const geometry::Load& load_;
  double lid_angle_;
  Surroundings close_;
  std::vector<int> fins_in_, fan_in_, fan_out_;
  std::vector<int> gap_node_;
  Network network_;
};

}  // namespace

double power_under(const geometry::Load& load, int source) {
  for (const geometry::SourcePower& entry : load.powers)
    if (entry.source == source) return *entry.power;
  return 0.0;
}

Network assemble(const geometry::Case& content, const geometry::Condition& condition) {
  return Assembler(content, condition).build();
}

}  // namespace tuft::network
