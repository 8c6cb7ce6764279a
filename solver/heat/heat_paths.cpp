#include "solver/heat/heat_paths.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "solver/network/by_name.hpp"
#include "solver/network/surface.hpp"

namespace tuft::heat {
namespace {

using geometry::Case;
using geometry::Joint;
using geometry::PlaceKind;
using geometry::Skin;
using network::at;
using network::by_name;
using network::Graph;
using network::HeatLink;
using network::LinkKind;

// What a zone's walls conduct per area where nothing else is said: the default of `zones.*.walls`.
constexpr double kWallFilm = 6.0;
// Bedding and clothes: still air in fibres [W/m/K]; of the order of 0.04 to 0.06, judgement.
constexpr double kFabricConductivity = 0.05;
// A table top takes heat like a thick plate of wood: what it conducts over a patch, per area [W/m2/K];
// judgement.
constexpr double kTableFilm = 6.0;
// A lap's surface [K]: skin and clothes; judgement.
constexpr double kLapTemperature = 306.0;
constexpr double kLapFilm = 15.0;  // through cloth to the skin under it [W/m2/K]; judgement

class Paths {
 public:
  Paths(const Case& content, const geometry::Condition& condition, network::Network& net, Approach approach)
      : case_(content),
        device_(content.device),
        pose_(at(content.poses, condition.pose)),
        support_(at(content.supports, condition.support)),
        load_(at(content.loads, condition.load)),
        graph_(net.graph),
        net_(net),
        approach_(approach),
        resting_(network::resting_surface(device_, pose_, support_)) {}

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
    for (int s : by_name(device_.skins)) add_skin(s);
    for (int v : by_name(device_.vents)) add_reentry(v);
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
    graph_.links.push_back(link);
  }

  double power_of(int source) const {
    for (const geometry::SourcePower& entry : load_.powers)
      if (entry.source == source) return *entry.power;
    return 0.0;
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
      at(layout_.source, s) = add_body(source.name, power_of(s), *source.capacity);
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
        return network::kOutside;
    }
  }

  void add_joints(const std::string& name, int body, std::vector<Joint> joints) {
    const auto before = [&](const Joint& a, const Joint& b) {
      return temperature_at(a.to) < temperature_at(b.to);
    };
    std::sort(joints.begin(), joints.end(), before);
    for (const Joint& joint : joints)
      add_conductance(name + " joint", body, temperature_at(joint.to), 1.0 / *joint.resistance);
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
    graph_.links.push_back(stream);
    // The metal, not the air between it, is what the chassis takes heat from.
    if (fins.exit_zone < 0)
      graph_.nodes[static_cast<std::size_t>(at(net_.layout.fin_node, f))].wall_conductance = 0.0;
    add_conductance(fins.name + " to chassis", body, network::kOutside, *fins.wall_conductance);
  }

  void add_skin(int s) {
    const Skin& skin = at(device_.skins, s);
    const int body = at(layout_.skin, s);
    const double area = skin.width * skin.height;
    const int zone = at(net_.layout.zone_node, skin.zone);
    add_conductance(skin.name + " inside", zone, body, *skin.inner_film * area);
    double& walls = graph_.nodes[static_cast<std::size_t>(zone)].wall_conductance;
    walls = std::max(walls - kWallFilm * area, 0.0);
    const bool lies_on = resting_ && resting_->face == skin.face;
    layout_.skin_lies_on[static_cast<std::size_t>(s)] = lies_on;
    if (lies_on)
      add_contact(skin, body, area);
    else
      add_open_surface(skin, body);
    at(layout_.skin_link, s) = static_cast<int>(graph_.links.size()) - 1;
  }

  // The patch's sides and normal in the world say how air climbs along it.
  void add_open_surface(const Skin& skin, int body) {
    geometry::Vec3 first, second;
    geometry::face_axes(skin.face, first, second);
    const auto rise = [&](const geometry::Vec3& axis) { return std::abs(pose_.down().dot(axis)); };
    const bool second_steeper = rise(second) >= rise(first);
    elements::Patch patch;
    patch.width = second_steeper ? skin.width : skin.height;
    patch.height = second_steeper ? skin.height : skin.width;
    patch.tilt = std::acos(std::clamp(-pose_.down().dot(geometry::face_normal(skin.face)), -1.0, 1.0));
    HeatLink link;
    link.name = skin.name + " outside";
    link.kind = LinkKind::surface;
    link.a = body;
    link.film = elements::film_law(patch);
    link.emissivity = *skin.emissivity;
    link.area = skin.width * skin.height;
    graph_.links.push_back(link);
  }

  // Across the air of the gap (or none, where the surface touches) into what the device lies on.
  void add_contact(const Skin& skin, int body, double area) {
    const double gap = resting_->gap_at(skin.centre);
    const double air = gap > 0.0 ? air::conductivity(graph_.ambient.temperature) / gap : 1e9;
    double into = kTableFilm;
    double temperature = graph_.ambient.temperature;
    if (support_.kind == geometry::SupportKind::soft)
      into = *support_.thickness > 0.0 ? kFabricConductivity / *support_.thickness : kTableFilm;
    if (support_.kind == geometry::SupportKind::lap) {
      into = kLapFilm;
      temperature = kLapTemperature;
    }
    const double conductance = area / (1.0 / air + 1.0 / into);
    add_conductance(skin.name + " to what it lies on", body, network::kOutside, conductance);
    // The lap is a room of its own temperature: what that adds is given as power.
    graph_.bodies[static_cast<std::size_t>(body) - graph_.nodes.size()].power +=
        conductance * (temperature - graph_.ambient.temperature);
  }

  void add_reentry(int intake) {
    for (const geometry::Vent::TakesBack& from : at(device_.vents, intake).takes_back) {
      const std::vector<int>& outlet = at(net_.layout.vent_openings, from.vent);
      if (outlet.empty()) continue;
      for (int opening : at(net_.layout.vent_openings, intake)) {
        HeatLink link;
        link.name = at(device_.vents, intake).name + " takes back";
        link.kind = LinkKind::reentry;
        link.a = at(net_.layout.vent_node, from.vent);
        link.element = opening;
        link.outlet = outlet.front();
        link.share = *from.share;
        graph_.links.push_back(link);
      }
    }
  }

  void add_sensors() {
    for (std::size_t f = 0; f < device_.fans.size(); ++f) {
      const geometry::Fan::Follows& follows = device_.fans[f].follows;
      if (!follows.given || !obeys(static_cast<int>(f))) continue;
      network::FanElement& fan = graph_.fans[static_cast<std::size_t>(net_.layout.fan_element[f])];
      fan.sensor = temperature_at(follows.sensor);
      std::vector<double> temperature = follows.temperature;
      if (approach_ == Approach::cooling)
        for (double& value : temperature) value -= *follows.hysteresis;
      fan.follows = base::Ramp(temperature, follows.speed);
    }
  }

  bool obeys(int fan) const {
    for (const geometry::FanSetting& setting : load_.fans)
      if (setting.fan == fan) return setting.state == geometry::FanState::follows;
    return true;
  }

  const Case& case_;
  const geometry::Device& device_;
  const geometry::Pose& pose_;
  const geometry::Support& support_;
  const geometry::Load& load_;
  Graph& graph_;
  network::Network& net_;
  Approach approach_;
  std::optional<network::Surface> resting_;
  HeatLayout layout_;
};

}  // namespace

HeatLayout add_heat_paths(const Case& content, const geometry::Condition& condition, network::Network& net,
                          Approach approach) {
  return Paths(content, condition, net, approach).build();
}

}  // namespace tuft::heat
