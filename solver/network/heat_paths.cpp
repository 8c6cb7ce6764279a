#include "solver/network/heat_paths.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "geometry/device/attitude.hpp"
#include "solver/network/assemble.hpp"
#include "solver/network/fan_speed.hpp"
#include "solver/network/surface.hpp"
#include "solver/physics/radiation.hpp"

namespace tuft::network {
namespace {

using geometry::Case;
using geometry::Joint;
using geometry::PlaceKind;
using geometry::Skin;

// Bedding and clothes: still air in fibres [W/m/K]; of the order of 0.04 to 0.06, judgement.
constexpr double kFabricConductivity = 0.05;
// A table top takes heat like a thick plate of wood: what it conducts over a patch, per area [W/m2/K];
// judgement.
constexpr double kTableFilm = 6.0;
// A lap's surface [K]: skin and clothes; judgement.
constexpr double kLapTemperature = 306.0;
constexpr double kLidFilm =
    7.0;  // off the outer side of a closed lid, film and radiation [W/m2/K]; judgement
// Gap from which on the room's air washes a face as if nothing were there [m]; judgement.
constexpr double kWashedGap = 0.01;
constexpr double kLapFilm = 15.0;  // through cloth to the skin under it [W/m2/K]; judgement

class Paths {
 public:
  Paths(const Case& content, const geometry::Condition& condition, Network& net, Approach approach)
      : case_(content),
        device_(content.device),
        pose_(geometry::attitude_of(content, condition)),
        support_(at(content.supports, condition.support)),
        load_(at(content.loads, condition.load)),
        graph_(net.graph),
        net_(net),
        approach_(approach),
        close_(surroundings_of(content, condition)) {}

  HeatLayout build() {
    add_bodies();
    for (int s : by_name(device_.sources)) {
      const geometry::Source& source = at(device_.sources, s);
      add_joints(source.name, at(layout_.source, s), source.joints);
    }
    for (int p : by_name(device_.parts)) {
      const geometry::Part& part = at(device_.parts, p);
      add_joints(part.name, at(layout_.part, p), part.joints);
    }
    for (int f : by_name(device_.fin_stacks)) add_fins(f);
    layout_.skin_link.resize(device_.skins.size());
    layout_.skin_lies_on.resize(device_.skins.size());
    skinned_.assign(device_.zones.size(), 0.0);
    for (int s : by_name(device_.skins)) add_skin(s);
    take_skin_from_walls();
    for (int v : by_name(device_.vents)) add_recirculation(v);
    add_sensors();
    return layout_;
  }

 private:
  int add_body(const std::string& name, double power, double capacity) {
    graph_.bodies.push_back({name, power, capacity});
    return static_cast<int>(graph_.nodes.size() + graph_.bodies.size()) - 1;
  }

  void add_conductance(const std::string& name, int a, int b, double conductance) {
    HeatLink link;
    link.name = name;
    link.a = a;
    link.b = b;
    link.conductance = conductance;
    graph_.links.push_back(std::move(link));
  }

  bool is_joined(PlaceKind kind, int index) const {
    const auto leads_there = [&](const Joint& joint) {
      return joint.to.kind == kind && joint.to.index == index;
    };
    const auto any = [&](const std::vector<Joint>& joints) {
      return std::any_of(joints.begin(), joints.end(), leads_there);
    };
    return std::any_of(device_.sources.begin(), device_.sources.end(),
                       [&](const auto& s) { return any(s.joints); }) ||
           std::any_of(device_.parts.begin(), device_.parts.end(),
                       [&](const auto& p) { return any(p.joints); });
  }

  void add_bodies() {
    layout_.source.assign(device_.sources.size(), kNone);
    for (int s : by_name(device_.sources)) {
      const geometry::Source& source = at(device_.sources, s);
      if (source.joints.empty()) continue;
      at(layout_.source, s) = add_body(source.name, power_under(load_, s), *source.capacity);
    }
    layout_.part.resize(device_.parts.size());
    for (int p : by_name(device_.parts)) {
      const geometry::Part& part = at(device_.parts, p);
      at(layout_.part, p) = add_body(part.name, 0.0, *part.capacity);
    }
    layout_.fins.assign(device_.fin_stacks.size(), kNone);
    for (int f : by_name(device_.fin_stacks)) {
      const geometry::FinStack& fins = at(device_.fin_stacks, f);
      if (!is_joined(PlaceKind::fins, f)) continue;
      at(layout_.fins, f) = add_body(fins.name + " (metal)", 0.0, *fins.capacity);
    }
    layout_.skin.resize(device_.skins.size());
    for (int s : by_name(device_.skins)) {
      const Skin& skin = at(device_.skins, s);
      at(layout_.skin, s) = add_body(skin.name, 0.0, *skin.areal_capacity * skin.width * skin.height);
    }
  }

  int temperature_at(const geometry::Place& place) const {
    switch (place.kind) {
      case PlaceKind::zone:
        return at(net_.layout.zone_node, place.index);
      case PlaceKind::fins:
        return at(layout_.fins, place.index);
      case PlaceKind::part:
        return at(layout_.part, place.index);
      case PlaceKind::skin:
        return at(layout_.skin, place.index);
      case PlaceKind::source:
        return at(layout_.source, place.index);
      default:
        return kOutside;
    }
  }

  void add_joints(const std::string& name, int body, std::vector<Joint> joints) {
    const auto before = [&](const Joint& a, const Joint& b) {
      return temperature_at(a.to) < temperature_at(b.to);
    };
    std::sort(joints.begin(), joints.end(), before);
    for (const Joint& joint : joints) {
      if (joint.to.kind == PlaceKind::zone)
        join_air(name + " joint", joint.to.index, body, 1.0 / *joint.resistance);
      else
        add_conductance(name + " joint", body, temperature_at(joint.to), 1.0 / *joint.resistance);
    }
  }

  // Between a body and the air of a zone, by the shares of its parts.
  void join_air(const std::string& name, int zone, int body, double conductance) {
    for (const ZonePart& part : at(net_.layout.zone_parts, zone))
      add_conductance(name, body, part.node, conductance * part.share);
  }

  void add_fins(int f) {
    const int body = at(layout_.fins, f);
    if (body == kNone) return;
    const geometry::FinStack& fins = at(device_.fin_stacks, f);
    HeatLink stream;
    stream.name = fins.name + " to air";
    stream.kind = LinkKind::stream;
    stream.a = body;
    stream.element = at(net_.layout.fin_opening, f);
    stream.fins.channels = {*fins.count, *fins.gap, *fins.height, *fins.length};
    stream.fins.fin_thickness = *fins.fin_thickness;
    stream.fins.fin_conductivity = *fins.conductivity;
    stream.fins.film_factor = *case_.laws.fin_heat;
    graph_.links.push_back(std::move(stream));
    // The metal, not the air between it, is what the chassis takes heat from.
    if (fins.exit_zone < 0) at(graph_.nodes, at(net_.layout.fin_node, f)).wall_conductance = 0.0;
    add_conductance(fins.name + " to chassis", body, network::kOutside, *fins.wall_conductance);
  }

  void add_skin(int s) {
    const Skin& skin = at(device_.skins, s);
    const int body = at(layout_.skin, s);
    const double area = skin.width * skin.height;
    join_air(skin.name + " inside", skin.zone, body, *skin.inner_film * area);
    at(skinned_, skin.zone) += area;
    const Surface* before = close_.before(skin.face);
    const double gap = before != nullptr ? before->gap_at(skin.centre) : 0.0;
    if (before != nullptr && gap < kWashedGap)
      add_contact(skin, body, area, gap, close_.resting && before == &*close_.resting);
    else
      add_open_surface(skin, body);
    // On a lap legs touch it; across a wide gap a hand reaches it.
    const bool on_lap = before != nullptr && before->face != geometry::Face::top &&
                        support_.kind == geometry::SupportKind::lap;
    at(layout_.skin_lies_on, s) = before != nullptr && gap < kWashedGap && !on_lap;
    at(layout_.skin_link, s) = static_cast<int>(graph_.links.size()) - 1;
  }

  // A zone's walls lose the part of the zone's outer surface that is written as skin.
  void take_skin_from_walls() {
    for (std::size_t z = 0; z < skinned_.size(); ++z) {
      const double outer = outer_area(device_.zones[z]);
      const double left = outer > 0.0 ? std::max(1.0 - skinned_[z] / outer, 0.0) : 1.0;
      for (const ZonePart& part : net_.layout.zone_parts[z])
        at(graph_.nodes, part.node).wall_conductance *= left;
    }
  }

  // Of the zone's box that lies on the chassis' own faces; of a box that touches none, all of it [m2].
  double outer_area(const geometry::Zone& zone) const {
    constexpr double kTouches = 1e-4;  // [m]
    double outer = 0.0, whole = 0.0;
    for (int axis = 0; axis < 3; ++axis) {
      const double side = zone.size[(axis + 1) % 3] * zone.size[(axis + 2) % 3];
      whole += 2.0 * side;
      if (std::abs(zone.centre[axis] - 0.5 * zone.size[axis]) < kTouches) outer += side;
      if (std::abs(zone.centre[axis] + 0.5 * zone.size[axis] - device_.size[axis]) < kTouches) outer += side;
    }
    return outer > 0.0 ? outer : whole;
  }

  // The patch's sides and normal in the world say how air climbs along it.
  void add_open_surface(const Skin& skin, int body) {
    geometry::Vec3 first, second;
    geometry::face_axes(skin.face, first, second);
    const auto rise = [&](const geometry::Vec3& axis) { return std::abs(pose_.down().dot(axis)); };
    const bool second_steeper = rise(second) >= rise(first);
    physics::Patch patch;
    patch.width = second_steeper ? skin.width : skin.height;
    patch.height = second_steeper ? skin.height : skin.width;
    patch.tilt = std::acos(std::clamp(-pose_.down().dot(geometry::face_normal(skin.face)), -1.0, 1.0));
    HeatLink link;
    link.name = skin.name + " outside";
    link.kind = LinkKind::surface;
    link.a = body;
    link.film = physics::film_law(patch);
    link.emissivity = *skin.emissivity;
    link.film_factor = *case_.laws.film;
    link.radiated = *case_.laws.radiation;
    link.area = skin.width * skin.height;
    graph_.links.push_back(std::move(link));
  }

  // Across the gap, by the air's conduction and by radiation, into what the device lies on or through the
  // lid. The wider the gap, the more the room's air washes through it: what lies behind then counts less.
  void add_contact(const Skin& skin, int body, double area, double gap, bool is_support) {
    double into = kTableFilm;
    double warmer = 0.0;
    if (!is_support) into = kLidFilm;
    if (is_support && support_.kind == geometry::SupportKind::soft && *support_.thickness > 0.0)
      into = kFabricConductivity / *support_.thickness;
    if (is_support && support_.kind == geometry::SupportKind::lap) {
      into = kLapFilm;
      warmer = kLapTemperature - graph_.ambient.temperature;
    }
    // The more the room's air flushes the gap, the less stands behind it, and the nearer its end is to the
    // room's temperature.
    const double behind = 1.0 - gap / kWashedGap;
    double resistance = behind / into;
    if (gap > 0.0)
      resistance += 1.0 / (physics::conductivity(graph_.ambient.temperature) / gap + radiation(skin));
    const std::string name = skin.name + (is_support ? " to what it lies on" : " to the closed lid");
    add_conductance(name, body, kOutside, *case_.laws.contact * area / resistance);
    graph_.links.back().warmer = behind * warmer;
  }

  // Between two close faces near the room's temperature [W/m2/K]; the other one's emissivity is a judgement.
  double radiation(const Skin& skin) const {
    constexpr double kOther = 0.9;
    const double exchange = physics::exchange_emissivity(*skin.emissivity, kOther);
    return physics::grey_flux(exchange, graph_.ambient.temperature, graph_.ambient.temperature).slope[0];
  }

  // Sum of the shares that all openings take back from a vent: what it gives is divided by them.
  double taken_from(int outlet) const {
    double sum = 0.0;
    for (std::size_t v = 0; v < device_.vents.size(); ++v)
      for (const geometry::Vent::Recirculates& from : device_.vents[v].recirculates)
        if (from.vent == outlet && !net_.layout.vent_openings[v].empty()) sum += *from.share;
    return sum;
  }

  static std::vector<int> without(std::vector<int> list, int element) {
    list.erase(std::remove(list.begin(), list.end(), element), list.end());
    return list;
  }

  // From every opening of the vent that lets out to every one of the vent that draws: a vent may be taken in
  // strips, or be half pressed shut.
  void add_recirculation(int intake) {
    for (const geometry::Vent::Recirculates& from : at(device_.vents, intake).recirculates) {
      const std::vector<int>& intakes = at(net_.layout.vent_openings, intake);
      const std::vector<int>& outlets = at(net_.layout.vent_openings, from.vent);
      if (outlets.empty() || *from.share <= 0.0) continue;
      for (int opening : intakes)
        for (int outlet : outlets) {
          HeatLink link;
          link.name = at(device_.vents, intake).name + " takes back";
          link.kind = LinkKind::recirculation;
          link.a = at(graph_.openings, outlet).a;
          link.element = opening;
          link.outlet = outlet;
          link.intakes = without(intakes, opening);
          link.outlets = without(outlets, outlet);
          link.share = *from.share;
          link.portion = *from.share / taken_from(from.vent);
          graph_.links.push_back(std::move(link));
        }
    }
  }

  void add_sensors() {
    for (std::size_t f = 0; f < device_.fans.size(); ++f) {
      if (!order_to(device_, load_, static_cast<int>(f)).speed_control) continue;
      const geometry::Fan::SpeedControl& speed_control = device_.fans[f].speed_control;
      FanElement& fan = at(graph_.fans, net_.layout.fan_element[f]);
      fan.sensor = temperature_at(speed_control.sensor);
      fan.speed_control = numerics::Ramp(speed_control.temperature, speed_control.speed);
      fan.hysteresis = *speed_control.hysteresis;
      if (approach_ == Approach::cooling)
        fan.speed_control = slowing_table(fan.speed_control, fan.hysteresis);
    }
  }

  const Case& case_;
  const geometry::Device& device_;
  geometry::Pose pose_;
  const geometry::Support& support_;
  const geometry::Load& load_;
  Graph& graph_;
  Network& net_;
  Approach approach_;
  Surroundings close_;
  std::vector<double> skinned_;  // area of skin over each zone [m2]
  HeatLayout layout_;
};

}  // namespace

HeatLayout add_heat_paths(const Case& content, const geometry::Condition& condition, Network& net,
                          Approach approach) {
  return Paths(content, condition, net, approach).build();
}

}  // namespace tuft::network
