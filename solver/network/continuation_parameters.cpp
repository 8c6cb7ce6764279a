#include "solver/network/continuation_parameters.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

#include "solver/network/fan_speed.hpp"

namespace tuft::network {
namespace {

using geometry::Case;
using geometry::Condition;
using geometry::Vec3;

constexpr double kPowerSlack = 1e-6;        // [W]
constexpr double kTemperatureSlack = 1e-6;  // [K]

// Sources only: what a warm lap gives is no source of the device's.
void turn_power(double factor, Model& model) {
  Graph& graph = model.net.graph;
  for (Node& node : graph.nodes) node.power *= factor;
  if (model.layout.source.empty())
    for (Body& body : graph.bodies) body.power *= factor;
  for (int source : model.layout.source)
    if (source != kNone) body_at(graph, source).power *= factor;
}

Model model_at(const Case& content, const Condition& condition, const Vec3& axis, const Setting& setting) {
  Model model;
  if (setting.tilt == 0.0) {
    model = model_of(content, condition);
  } else {
    Case turned = content;
    Condition there = condition;
    geometry::Pose pose = at(content.poses, condition.pose);
    pose.to_world *= geometry::tilted("", axis, setting.tilt).to_world;
    there.pose = static_cast<int>(turned.poses.size());
    turned.poses.push_back(pose);
    model = model_of(turned, there);
  }
  if (setting.fan_speed != 1.0)
    for (FanElement& fan : model.net.graph.fans) speed_up(fan, setting.fan_speed);
  if (setting.power != 1.0) turn_power(setting.power, model);
  return model;
}

template <typename T, typename Name>
bool same_names(const std::vector<T>& a, const std::vector<T>& b, const Name& name) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](const T& x, const T& y) { return name(x) == name(y); });
}

// Copies values of one graph's things to the same named ones of another; equal names in their order. A
// thing's name is name(graph, index).
template <typename Name>
void copy_by_name(const Graph& from, const Eigen::VectorXd& values, const Graph& to, Eigen::VectorXd& out,
                  const Name& name) {
  std::multimap<std::string, double> known;
  for (Eigen::Index i = 0; i < values.size(); ++i) known.emplace(name(from, i), values[i]);
  for (Eigen::Index i = 0; i < out.size(); ++i) {
    const auto found = known.find(name(to, i));
    if (found == known.end()) continue;
    out[i] = found->second;
    known.erase(found);
  }
}

// The parameter's place in a setting.
double Setting::*member_of(ContinuationParameter parameter) {
  if (parameter == ContinuationParameter::tilt) return &Setting::tilt;
  return parameter == ContinuationParameter::power ? &Setting::power : &Setting::fan_speed;
}

}  // namespace

double value(const Setting& setting, ContinuationParameter parameter) {
  return setting.*member_of(parameter);
}

Setting with(Setting setting, ContinuationParameter parameter, double value) {
  setting.*member_of(parameter) = value;
  return setting;
}

Model model_of(const Case& content, const Condition& condition) {
  Model model;
  model.net = assemble(content, condition);
  model.layout = add_heat_paths(content, condition, model.net);
  return model;
}

ModelAt models_of(const Case& content, const Condition& condition, const Vec3& axis) {
  return [&content, &condition, axis](const Setting& setting) {
    return model_at(content, condition, axis, setting);
  };
}

Vec3 tilt_axis(const Graph& graph) {
  const Vec3 down = graph.ambient.gravity.normalized();
  Vec3 best = Vec3::UnitX();
  double most = -1.0;
  for (int axis : {0, 1, 2}) {
    const Vec3 across = down.cross(Vec3(Vec3::Unit(axis)));
    double low = HUGE_VAL, high = -HUGE_VAL;
    const auto take = [&](const Vec3& place) {
      low = std::min(low, across.dot(place));
      high = std::max(high, across.dot(place));
    };
    for (const auto& opening : graph.openings) take(opening.centre);
    for (const auto& fan : graph.fans) take(fan.centre);
    if (!(high - low > most + 1e-9)) continue;
    most = high - low;
    best = Vec3::Unit(axis);
  }
  return best;
}

bool same_elements(const Graph& a, const Graph& b) {
  const auto name = [](const auto& named) { return named.name; };
  return same_names(a.nodes, b.nodes, name) && same_names(a.openings, b.openings, name) &&
         same_names(a.fans, b.fans, name) && same_names(a.bodies, b.bodies, name);
}

bool same_layout(const Graph& a, const Graph& b) {
  return same_elements(a, b) && same_names(a.links, b.links, [](const auto& link) {
           return std::pair{link.name, link.kind};
         });
}

State carried_over(const Graph& from, const State& x, const Graph& to) {
  if (same_layout(from, to)) return x;
  State y = Equations(to).at_rest();
  copy_by_name(from, x.flow, to, y.flow, flow_name);
  copy_by_name(from, x.pressure, to, y.pressure, temperature_name);  // nodes come first
  copy_by_name(from, x.temperature, to, y.temperature, temperature_name);
  return y;
}

Held apply_outcomes(const Case& content, const std::vector<SourceOutcome>& sources, Model& model) {
  Held held;
  Graph& graph = model.net.graph;
  for (std::size_t s = 0; s < sources.size(); ++s) {
    const int index = model.layout.source[s];
    if (index == kNone || sources[s].state == SourceState::full) continue;
    body_at(graph, index).power = sources[s].power;
    if (sources[s].state == SourceState::throttled)
      held.emplace_back(index, *content.device.sources[s].limits.throttles_at);
  }
  return held;
}

bool outcomes_stand(const Case& content, const std::vector<SourceOutcome>& sources, const Model& asked,
                    const Equations& equations, const State& x) {
  for (std::size_t s = 0; s < sources.size(); ++s) {
    const int index = asked.layout.source[s];
    if (index == kNone || sources[s].state == SourceState::shut_down) continue;
    const SourceLimits limits = limits_of(content.device.sources[s]);
    const double wanted = body_at(asked.net.graph, index).power;
    const double above_throttling = x.temperature[index] - limits.throttles_at;
    if (limits.ends(x.temperature[index], kTemperatureSlack)) return false;
    if (sources[s].state == SourceState::full && limits.can_give_way(wanted) &&
        above_throttling > kTemperatureSlack)
      return false;
    if (sources[s].state == SourceState::at_least_power && above_throttling < -kTemperatureSlack)
      return false;
    if (sources[s].state != SourceState::throttled) continue;
    const double power = body_at(equations.graph(), index).power + equations.heat_to_hold(x, index);
    if (power > wanted + kPowerSlack || power < limits.least(wanted) - kPowerSlack) return false;
  }
  return true;
}

}  // namespace tuft::network
