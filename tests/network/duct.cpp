#include "tests/network/duct.hpp"

#include "geometry/device/pose.hpp"

namespace tuft::testing {
namespace {

network::Node space(const std::string& name, double x, double power, double wall) {
  network::Node node;
  node.name = name;
  node.reference = {x, 0.0, 0.15};
  node.power = power;
  node.wall_conductance = wall;
  node.capacity = 15.0;
  return node;
}

network::Opening hole(const std::string& name, int a, int b, const network::Vec3& centre) {
  network::Opening opening;
  opening.name = name;
  opening.a = a;
  opening.b = b;
  opening.area = DuctNumbers{}.area;
  opening.depth = DuctNumbers{}.depth;
  opening.law = {1e-9, DuctNumbers{}.inertial};
  opening.centre = centre;
  return opening;
}

network::Ambient room(const network::Setting& setting) {
  network::Ambient ambient;
  ambient.temperature = DuctNumbers{}.ambient;
  ambient.gravity =
      physics::standard_gravity * geometry::tilted("", geometry::Vec3::UnitX(), setting.tilt).down();
  return ambient;
}

}  // namespace

network::Model duct(const network::Setting& setting) {
  const DuctNumbers n;
  network::Model model;
  network::Graph& graph = model.net.graph;
  graph.ambient = room(setting);
  graph.nodes.push_back(space("duct", 0.0, setting.power * n.power, n.wall));
  graph.openings.push_back(hole("mouth", 0, network::kOutside, {0.0, 0.0, 0.0}));
  const auto curve = physics::FanCurve::from_points({{0.0, n.shut_off}, {n.free_delivery, 0.0}}, n.speed);
  graph.fans.push_back(
      {"fan", network::kOutside, 0, curve, setting.fan_speed * n.speed, {0.0, 0.0, n.height}});
  return model;
}

network::Model two_shafts(const network::Setting& setting) {
  network::Model model;
  network::Graph& graph = model.net.graph;
  graph.ambient = room(setting);
  graph.nodes.push_back(space("left", -0.05, 8.0 * setting.power, 0.05));
  graph.nodes.push_back(space("right", 0.05, 8.0 * setting.power, 0.05));
  graph.openings.push_back(hole("left top", 0, network::kOutside, {-0.05, 0.0, 0.3}));
  graph.openings.push_back(hole("right top", 1, network::kOutside, {0.05, 0.0, 0.3}));
  graph.openings.push_back(hole("under", 0, 1, {0.0, 0.0, 0.0}));
  return model;
}

}  // namespace tuft::testing
