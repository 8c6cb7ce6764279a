#include "tests/network/random_network.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <random>
#include <string>

namespace tuft::testing {
namespace {

using network::Graph;
using network::kOutside;
using network::Vec3;

class Maker {
 public:
  explicit Maker(std::uint64_t seed) : random_(seed) {}

  Graph make() {
    set_ambient();
    const int n_zones = whole(1, 6);
    for (int i = 0; i < n_zones; ++i) add_zone(i);
    // A tree that connects every zone to an earlier one or to the outside, then some more.
    for (int i = 0; i < n_zones; ++i) add_opening(i, i == 0 || chance(0.4) ? kOutside : whole(0, i - 1));
    const int more = whole(1, 2 * n_zones + 1);
    for (int k = 0; k < more; ++k) {
      const int a = whole(0, n_zones - 1);
      const int b = chance(0.5) ? kOutside : whole(0, n_zones - 1);
      if (a != b) add_opening(a, b);
    }
    const int fans = whole(0, 3);
    for (int k = 0; k < fans; ++k) {
      const int a = chance(0.3) ? kOutside : whole(0, n_zones - 1);
      const int b = chance(0.3) ? kOutside : whole(0, n_zones - 1);
      if (a != b) add_fan(a, b);
    }
    return graph_;
  }

  Graph make_heated() {
    make();
    const int n_nodes = static_cast<int>(graph_.nodes.size());
    const int n_bodies = whole(1, 6);
    for (int i = 0; i < n_bodies; ++i) add_body(i, n_nodes);
    for (int k = whole(0, 2); k > 0; --k) add_recirculation(n_nodes);
    for (network::FanElement& fan : graph_.fans) {
      if (fan.speed <= 0.0 || chance(0.5)) continue;
      fan.sensor = n_nodes + whole(0, n_bodies - 1);
      fan.speed_control =
          numerics::Ramp({310.0, 330.0, 370.0}, {0.2 * fan.speed, 0.3 * fan.speed, fan.speed});
    }
    return graph_;
  }

 private:
  double uniform(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  double spread(double low, double high) { return std::exp(uniform(std::log(low), std::log(high))); }
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  bool chance(double share) { return uniform(0.0, 1.0) < share; }
  Vec3 point() { return {uniform(0.0, 0.3), uniform(0.0, 0.2), uniform(0.0, 0.04)}; }

  Vec3 direction() {
    if (chance(0.6)) {
      Vec3 axis = Vec3::Zero();
      axis[whole(0, 2)] = chance(0.5) ? 1.0 : -1.0;
      return axis;
    }
    Vec3 any(uniform(-1.0, 1.0), uniform(-1.0, 1.0), uniform(-1.0, 1.0));
    return any.norm() > 1e-3 ? any.normalized() : Vec3::UnitZ();
  }

  void set_ambient() {
    graph_.ambient.temperature = uniform(283.0, 308.0);
    graph_.ambient.state = physics::room_air(physics::standard_pressure(uniform(0.0, 2500.0)),
                                             graph_.ambient.temperature, uniform(0.1, 0.8));
    graph_.ambient.gravity =
        chance(0.05) ? Vec3(Vec3::Zero()) : Vec3(physics::standard_gravity * direction());
  }

  void add_zone(int i) {
    network::Node node;
    node.name = "zone " + std::to_string(i);
    node.reference = point();
    node.power = chance(0.4) ? 0.0 : spread(0.05, 40.0);
    node.wall_conductance = chance(0.1) ? 0.0 : spread(0.02, 1.0);
    graph_.nodes.push_back(node);
  }

  void add_opening(int a, int b) {
    network::Opening opening;
    opening.name = "opening " + std::to_string(graph_.openings.size());
    opening.a = a;
    opening.b = b;
    const double width = spread(1e-3, 0.2);
    const double height = spread(1e-3, 0.1);
    opening.area = width * height * spread(0.05, 1.0);
    opening.law.viscous = spread(1e2, 3e6);
    opening.law.inertial = chance(0.05) ? 0.0 : spread(0.5, 60.0);
    opening.law.early = opening.law.inertial * uniform(0.0, 1.1);
    // As laws are: what sets in late is negative only where it makes up for an early part larger than all.
    const double rest = opening.law.inertial - opening.law.early;
    opening.law.late = rest < 0.0 ? rest : rest * uniform(0.0, 1.0);
    opening.law.onset = spread(3e2, 3e4);
    opening.centre = point();
    opening.normal = chance(0.8) ? direction() : Vec3(Vec3::Zero());
    Vec3 side = opening.normal.unitOrthogonal();
    if (opening.normal.isZero()) side = direction();
    opening.width = side * width;
    opening.height = opening.normal.cross(side) * height;
    opening.depth = chance(0.5) ? 0.0 : spread(1e-3, 0.05);
    graph_.openings.push_back(opening);
  }

  void add_fan(int a, int b) {
    const double shut = spread(2.0, 300.0);
    const double free = spread(1e-4, 1e-2);
    std::vector<physics::FanPoint> points;
    if (chance(0.5)) {
      points = {{0.0, shut}, {0.5 * free, 0.75 * shut}, {free, 0.0}};
    } else {  // a stall dip and a hump
      const double dip = uniform(0.5, 0.95);
      points = {{0.0, shut}, {0.25 * free, dip * shut}, {0.5 * free, 0.95 * shut}, {free, 0.0}};
    }
    const double speed = spread(10.0, 100.0);
    const double share = chance(0.2) ? 0.0 : spread(0.02, 1.0);
    graph_.fans.push_back({"fan " + std::to_string(graph_.fans.size()), a, b,
                           physics::FanCurve::from_points(points, speed), share * speed, point()});
  }

  // Joined to an earlier body, a zone or the room; then perhaps fins in an opening and skin.
  void add_body(int i, int n_nodes) {
    graph_.bodies.push_back({"body " + std::to_string(i), chance(0.5) ? spread(0.1, 30.0) : 0.0, 10.0});
    const int self = n_nodes + i;
    const int n_ways = whole(1, 3);
    for (int k = 0; k < n_ways; ++k) {
      network::HeatLink link;
      link.name = "way of body " + std::to_string(i);
      link.a = self;
      link.b = i > 0 && chance(0.5) ? n_nodes + whole(0, i - 1) : whole(0, n_nodes - 1);
      link.conductance = spread(0.02, 5.0);
      if (chance(0.3)) {
        link.kind = network::LinkKind::stream;
        link.element = whole(0, static_cast<int>(graph_.openings.size()) - 1);
        if (graph_.openings[static_cast<std::size_t>(link.element)].b == kOutside) continue;
        link.fins.channels = {spread(5.0, 60.0), 1.1e-3, spread(4e-3, 2e-2), spread(1e-2, 5e-2)};
        link.fins.fin_thickness = 0.2e-3;
        link.fins.fin_conductivity = 200.0;
      } else if (chance(0.3)) {
        link.kind = network::LinkKind::surface;
        link.b = kOutside;
        link.film = physics::film_law({spread(0.02, 0.2), spread(0.02, 0.2), uniform(0.0, 3.14)});
        link.emissivity = uniform(0.05, 0.95);
        link.area = spread(1e-3, 5e-2);
      }
      graph_.links.push_back(link);
    }
    network::HeatLink chassis;
    chassis.name = "chassis of body " + std::to_string(i);
    chassis.a = self;
    chassis.conductance = spread(1e-3, 0.1);
    graph_.links.push_back(chassis);
  }

  void add_recirculation(int n_nodes) {
    network::HeatLink link;
    link.name = "comes back";
    link.kind = network::LinkKind::recirculation;
    link.element = whole(0, static_cast<int>(graph_.openings.size()) - 1);
    link.outlet = whole(0, static_cast<int>(graph_.openings.size()) - 1);
    link.a = whole(0, n_nodes - 1);
    link.share = uniform(0.0, 0.3);
    if (link.outlet == link.element) return;
    // Vents of more than one opening, where there are enough to be two of each.
    const int n = static_cast<int>(graph_.openings.size());
    const auto is_free = [&](int e) { return e != link.element && e != link.outlet; };
    const int next = (link.element + 1) % n, last = (link.outlet + n - 1) % n;
    if (is_free(next) && link.share > 0.1) link.intakes = {next};
    if (is_free(last) && last != next) link.outlets = {last};
    graph_.links.push_back(link);
  }

  std::mt19937_64 random_;
  Graph graph_;
};

}  // namespace

Graph random_network(std::uint64_t seed) { return Maker(seed).make(); }
Graph random_heated_network(std::uint64_t seed) { return Maker(seed).make_heated(); }

}  // namespace tuft::testing
