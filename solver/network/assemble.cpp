#include "solver/network/assemble.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "geometry/device/attitude.hpp"
#include "solver/network/fan_speed.hpp"
#include "solver/network/vent_law.hpp"
#include "solver/network/vent_openings.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/fin_heat.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::network {
namespace {

using geometry::Place;
using geometry::PlaceKind;

// Face of a fin stack over its clear channels: fins take a fifth of it; judgement.
constexpr double kFinFaceRatio = 1.25;

// Nodes of a usual device, and half its openings: lists that begin so long are not copied as they grow.
constexpr std::size_t kUsual = 32;

class Assembler {
 public:
  Assembler(const geometry::Case& content, const geometry::Condition& condition, ZoneAir air,
            const StreamOptions& streams, const std::vector<Parts>* parts)
      : in_{content,
            condition,
            content.device,
            content.laws,
            at(content.supports, condition.support),
            at(content.loads, condition.load),
            {},
            {}},
        zones_(in_, air, streams, parts) {}

  Network build() {
    set_ambient();
    in_.network.graph.nodes.reserve(kUsual);
    in_.network.graph.openings.reserve(2 * kUsual);
    for (const geometry::Fan& fan : in_.device.fans) in_.fan_curves.push_back(fan_curve(fan, in_.laws));
    zones_.add_zones();
    add_fan_and_fin_nodes();
    add_passages();
    add_fin_channels();
    VentAssembly vents(in_, zones_, ducts_);
    vents.add_vents();
    vents.add_jets();
    vents.add_ways_between_vents();
    add_fans();
    add_powers();
    return std::move(in_.network);
  }

 private:
  void set_ambient() {
    Ambient& ambient = in_.network.graph.ambient;
    ambient.temperature = *in_.content.room.temperature;
    ambient.state = physics::room_air(physics::standard_pressure(*in_.content.room.altitude),
                                      ambient.temperature, *in_.content.room.relative_humidity);
    ambient.gravity = physics::standard_gravity * geometry::attitude_of(in_.content, in_.condition).down();
  }

  // A fan's vents that open neither into a zone nor into fins get a node of their own, at the ducted vent.
  void add_fan_and_fin_nodes() {
    ducts_.fin_entry.resize(in_.device.fin_stacks.size());
    in_.network.layout.fin_node.resize(in_.device.fin_stacks.size());
    for (int f : by_name(in_.device.fin_stacks)) {
      const geometry::FinStack& fins = at(in_.device.fin_stacks, f);
      ducts_.fin_entry[f] = in_.add_node(fins.name + " (entry)", fins.centre, 0.0);
      in_.network.layout.fin_node[f] = fins.exit_zone >= 0
                                           ? zones_.zone_node_at(fins.exit_zone, fins.centre)
                                           : in_.add_node(fins.name, fins.centre, *fins.wall_conductance);
    }
    ducts_.fan_in.resize(in_.device.fans.size());
    ducts_.fan_out.resize(in_.device.fans.size());
    for (int f : by_name(in_.device.fans)) {
      const geometry::Fan& fan = at(in_.device.fans, f);
      at(ducts_.fan_in, f) = mouth(fan.draws_from, fan.name + " (inlet)", fan.centre);
      at(ducts_.fan_out, f) = mouth(fan.blows_into, fan.name + " (outlet)", fan.centre);
    }
  }

  int mouth(const Place& place, const std::string& name, const Vec3& centre) {
    if (place.kind == PlaceKind::zone) return zones_.zone_node_at(place.index, centre);
    if (place.kind == PlaceKind::fins) return at(ducts_.fin_entry, place.index);
    return in_.add_node(name, at(in_.device.vents, place.index).centre, 0.0);
  }

  void add_passages() {
    for (int p : by_name(in_.device.passages)) {
      const geometry::Passage& passage = at(in_.device.passages, p);
      const physics::Duct duct{*passage.width, *passage.height, *passage.length, *passage.bends};
      if (duct.width * duct.height < Assembly::kLeastArea) continue;
      Opening opening;
      opening.name = passage.name;
      opening.a = zones_.zone_node_at(passage.zone_a, passage.centre);
      opening.b = zones_.zone_node_at(passage.zone_b, passage.centre);
      opening.law = physics::scaled(physics::passage(duct), *in_.laws.passages);
      opening.area = duct.width * duct.height;
      opening.centre = passage.centre;
      opening.depth = duct.length;
      opening.laminar = {LaminarKind::passage, physics::hydraulic_diameter(duct.width, duct.height),
                         physics::kDuctLaminar};
      const int first = passage.normal == 0 ? 1 : 0;
      const int second = passage.normal == 2 ? 1 : 2;
      opening.width = Vec3::Unit(first) * duct.width;
      opening.height = Vec3::Unit(second) * duct.height;
      const double towards = at(in_.device.zones, passage.zone_b).centre[passage.normal] -
                             at(in_.device.zones, passage.zone_a).centre[passage.normal];
      // Zones side by side along the normal have no above and below.
      if (std::abs(towards) > 1e-6)
        opening.normal = Vec3::Unit(passage.normal) * (towards > 0.0 ? 1.0 : -1.0);
      in_.add_two_way(opening);
    }
  }

  void add_fin_channels() {
    in_.network.layout.fin_opening.resize(in_.device.fin_stacks.size());
    for (int f : by_name(in_.device.fin_stacks)) {
      const geometry::FinStack& fins = at(in_.device.fin_stacks, f);
      const physics::FinChannels channels{*fins.count, *fins.gap, *fins.height, *fins.length};
      Opening opening;
      opening.name = fins.name;
      opening.a = at(ducts_.fin_entry, f);
      opening.b = at(in_.network.layout.fin_node, f);
      opening.area = channels.area() * kFinFaceRatio;
      opening.law = physics::scaled(physics::fin_stack(channels, opening.area), *in_.laws.fin_flow);
      // Into a zone the stream loses its velocity head behind the fins; into a vent it does so behind the
      // vent.
      if (fins.exit_zone >= 0) opening.law.inertial += 0.5 * physics::exit_loss;
      opening.centre = fins.centre;
      opening.depth = channels.length;
      // The channels are narrower than the face their law is stated on.
      opening.laminar = {LaminarKind::fins,
                         kFinFaceRatio * physics::hydraulic_diameter(channels.gap, channels.height),
                         physics::kDuctLaminar};
      at(in_.network.layout.fin_opening, f) = in_.add_opening(opening);
    }
  }

  void add_fans() {
    in_.network.layout.fan_element.resize(in_.device.fans.size());
    for (int f : by_name(in_.device.fans)) {
      const geometry::Fan& fan = at(in_.device.fans, f);
      at(in_.network.layout.fan_element, f) = static_cast<int>(in_.network.graph.fans.size());
      in_.network.graph.fans.push_back({fan.name, at(ducts_.fan_in, f), at(ducts_.fan_out, f),
                                        at(in_.fan_curves, f), order_to(in_.device, in_.load, f).speed,
                                        fan.centre});
    }
  }

  // Several of them may warm the same node: the sum must not depend on the order of the file.
  std::vector<geometry::HeatShare> shares_by_name(const geometry::Source& source) const {
    std::vector<geometry::HeatShare> shares = source.shares;
    std::sort(shares.begin(), shares.end(), [&](const auto& a, const auto& b) {
      return geometry::place_name(in_.device, a.into) < geometry::place_name(in_.device, b.into);
    });
    return shares;
  }

  void add_powers() {
    for (int s : by_name(in_.device.sources)) {
      const double power = power_under(in_.load, s);
      if (power == 0.0) continue;
      for (const geometry::HeatShare& share : shares_by_name(at(in_.device.sources, s))) {
        const double heat = power * *share.share;
        if (share.into.kind == PlaceKind::fins) {
          at(in_.network.graph.nodes, at(in_.network.layout.fin_node, share.into.index)).power += heat;
          continue;
        }
        if (at(in_.device.sources, s).is_placed) continue;
        for (const ZonePart& part : at(in_.network.layout.zone_parts, share.into.index))
          at(in_.network.graph.nodes, part.node).power += heat * part.share;
      }
    }
    for (const PlacedShares& placed : in_.network.layout.placed) {
      const auto& parts = at(in_.network.layout.zone_parts, placed.heat.zone);
      for (std::size_t p = 0; p < parts.size(); ++p)
        at(in_.network.graph.nodes, parts[p].node).power += placed.heat.power * placed.shares[p];
    }
  }

  Assembly in_;
  ZoneAssembly zones_;
  DuctNodes ducts_;
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
