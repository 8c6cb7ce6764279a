// What must not change the answer: order of writing, a full turn, a mirror, a shift of the origin.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/network/assemble.hpp"
#include "solver/network/audit.hpp"
#include "solver/network/solve.hpp"
#include "solver/network/vent_law.hpp"
#include "solver/study/predict.hpp"
#include "tests/network/chassis.hpp"

using namespace tuft;
using namespace tuft::geometry;

namespace {

void check_same_bits(const study::VentResult& a, const study::VentResult& b) {
  CHECK(a.inflow == b.inflow);
  CHECK(a.outflow == b.outflow);
  CHECK(a.pressure == b.pressure);
  CHECK(a.temperature_out == b.temperature_out);
  CHECK(a.fan_head == b.fan_head);
  CHECK(a.role == b.role);
}

// x -> L - x for every part; left and right change places.
Device mirrored(Device device) {
  const double length = device.size.x();
  const auto mirror = [&](Vec3& point) { point.x() = length - point.x(); };
  for (Zone& zone : device.zones) mirror(zone.centre);
  for (Passage& passage : device.passages) mirror(passage.centre);
  for (Vent& vent : device.vents) {
    mirror(vent.centre);
    if (vent.face == Face::left)
      vent.face = Face::right;
    else if (vent.face == Face::right)
      vent.face = Face::left;
  }
  for (Fan& fan : device.fans) mirror(fan.centre);
  for (FinStack& fins : device.fin_stacks) mirror(fins.centre);
  return device;
}

const char* mirrored_pose(const std::string& pose) {
  if (pose == "on-left-edge") return "on-right-edge";
  if (pose == "on-right-edge") return "on-left-edge";
  return pose.c_str();
}

}  // namespace

TEST_CASE("a device turned by 360 degrees gives the same bytes") {
  Case content = testing::test_chassis();
  const int flat = testing::add_condition(content, "flat", 1, 1);
  for (const Vec3& axis : {Vec3(1, 0, 0), Vec3(0, 1, 0), Vec3(0, 0, 1)}) {
    Case turned = content;
    turned.poses[0] = tilted("flat", axis, 2.0 * 3.14159265358979323846);
    const auto a = study::predict(content, flat);
    const auto b = study::predict(turned, flat);
    for (std::size_t v = 0; v < a.vents.size(); ++v) check_same_bits(a.vents[v], b.vents[v]);
  }
}

TEST_CASE("the order in which a device is written down does not change a bit") {
  Case content = testing::test_chassis();
  const int i = testing::add_condition(content, "on-left-edge", 0, 1);
  Case shuffled = content;
  std::reverse(shuffled.device.vents.begin(), shuffled.device.vents.end());
  std::reverse(shuffled.device.zones.begin(), shuffled.device.zones.end());
  // Indices follow: two zones change places.
  const auto swap_zone = [](Place& place) {
    if (place.kind == PlaceKind::zone) place.index = 1 - place.index;
  };
  for (Vent& vent : shuffled.device.vents) swap_zone(vent.behind);
  for (Fan& fan : shuffled.device.fans) swap_zone(fan.draws_from);
  for (Source& source : shuffled.device.sources)
    for (HeatShare& share : source.shares) swap_zone(share.into);
  for (Passage& passage : shuffled.device.passages) {
    passage.zone_a = 1 - passage.zone_a;
    passage.zone_b = 1 - passage.zone_b;
  }
  const auto a = study::predict(content, i);
  const auto b = study::predict(shuffled, i);
  const std::size_t n = a.vents.size();
  for (std::size_t v = 0; v < n; ++v) check_same_bits(a.vents[v], b.vents[n - 1 - v]);
}

TEST_CASE("the mirrored device gives the mirrored answer in every pose") {
  for (const std::string& pose : pose_words()) {
    for (int support : {0, 1}) {
      Case content = testing::test_chassis();
      const int i = testing::add_condition(content, pose, support, 1);
      Case other = testing::test_chassis();
      other.device = mirrored(other.device);
      const int j = testing::add_condition(other, mirrored_pose(pose), support, 1);
      const auto a = study::predict(content, i);
      const auto b = study::predict(other, j);
      REQUIRE(a.report.converged);
      REQUIRE(b.report.converged);
      INFO(pose << " support " << support);
      for (std::size_t v = 0; v < a.vents.size(); ++v) {
        const double unit = 1e-9 * a.through_flow;
        CHECK(b.vents[v].inflow == Approx(a.vents[v].inflow).margin(unit));
        CHECK(b.vents[v].outflow == Approx(a.vents[v].outflow).margin(unit));
        CHECK(b.vents[v].pressure == Approx(a.vents[v].pressure).margin(1e-9));
      }
    }
  }
}

TEST_CASE("where the origin of the device frame lies does not matter") {
  Case content = testing::test_chassis();
  const int i = testing::add_condition(content, "on-front-edge", 0, 1);
  Case moved = content;
  const Vec3 by(0.7, -0.3, 1.1);
  for (Zone& zone : moved.device.zones) zone.centre += by;
  for (Passage& passage : moved.device.passages) passage.centre += by;
  for (Vent& vent : moved.device.vents) vent.centre += by;
  for (Fan& fan : moved.device.fans) fan.centre += by;
  for (FinStack& fins : moved.device.fin_stacks) fins.centre += by;
  const auto a = study::predict(content, i);
  const auto b = study::predict(moved, i);
  for (std::size_t v = 0; v < a.vents.size(); ++v)
    CHECK(b.vents[v].inflow == Approx(a.vents[v].inflow).margin(1e-10 * a.through_flow));
}

TEST_CASE("a node's reference point may lie anywhere") {
  Case content = testing::test_chassis();
  const int i = testing::add_condition(content, "on-front-edge", 0, 2);
  const network::Network net = network::assemble(content, content.conditions[static_cast<std::size_t>(i)]);
  network::Graph moved = net.graph;
  for (network::Node& node : moved.nodes) node.reference += Vec3(0.05, 0.05, -0.004);
  network::Solver here(net.graph), there(moved);
  REQUIRE(here.solve().converged());
  REQUIRE(there.solve().converged());
  const double through = network::audit(net.graph, here.state()).through_flow;
  for (Eigen::Index e = 0; e < here.state().flow.size(); ++e)
    CHECK(there.state().flow[e] == Approx(here.state().flow[e]).margin(1e-9 * through));
}

TEST_CASE("mass and heat close in every condition of the chassis") {
  for (const std::string& pose : pose_words()) {
    for (int support : {0, 1, 2}) {
      for (int load : {0, 1, 2, 3}) {
        Case content = testing::test_chassis();
        const auto result = study::predict(content, testing::add_condition(content, pose, support, load));
        INFO(result.name << " " << result.report.reason);
        REQUIRE(result.report.converged);
        CHECK(result.balance.mass <= 1e-9);
        CHECK(result.balance.energy <= 1e-8);
        double in = 0.0, out = 0.0;
        for (const auto& vent : result.vents) {
          in += vent.inflow;
          out += vent.outflow;
        }
        CHECK(out == Approx(in).epsilon(1e-9));
      }
    }
  }
}

TEST_CASE("a vent turned by a quarter with its sides exchanged is the same vent") {
  for (const std::string& pose : pose_words()) {
    for (const int support : {0, 1, 2}) {
      Case content = testing::test_chassis();
      const int i = testing::add_condition(content, pose, support, 1);
      Case other = content;
      for (Vent& vent : other.device.vents) {
        if (vent.face == Face::hinge) continue;
        std::swap(vent.width, vent.height);
        vent.turned = 0.5 * 3.14159265358979323846;
      }
      const auto straight = study::predict(content, i), turned = study::predict(other, i);
      INFO(pose << " support " << support);
      REQUIRE(straight.vents.size() == turned.vents.size());
      for (std::size_t v = 0; v < straight.vents.size(); ++v) {
        INFO(content.device.vents[v].name);
        const double unit = 1e-9 * straight.through_flow;
        CHECK(turned.vents[v].inflow == Approx(straight.vents[v].inflow).margin(unit));
        CHECK(turned.vents[v].outflow == Approx(straight.vents[v].outflow).margin(unit));
        CHECK(turned.vents[v].role == straight.vents[v].role);
      }
    }
  }
}

TEST_CASE("a standing vent turned by an angle has the head of its own height, and its own area") {
  // An upright slot exchanges air with the warm inside over its height; turned by 60 degrees from upright
  // only the cosine of that is left. Derived.
  Case content = testing::test_chassis();
  const int flat = testing::add_condition(content, "flat", 0, 1);
  Vent& vent = content.device.vents[testing::kOutlet];
  const Vec3 down = -Vec3::UnitZ();
  double before = 0.0;
  for (const double degrees : {0.0, 60.0}) {
    vent.turned = degrees * 3.14159265358979323846 / 180.0;
    Vec3 first, second;
    side_axes(vent, first, second);
    const double rise = std::abs(second.dot(down)) * vent.height;
    if (degrees == 0.0) before = rise;
    CHECK(rise == Approx(before * std::cos(vent.turned)));
    const network::Network net = network::assemble(content, content.conditions[flat]);
    double area = 0.0;
    for (const int opening : net.layout.vent_openings[testing::kOutlet]) {
      area += net.graph.openings[opening].area;
      CHECK(net.graph.openings[opening].height.normalized().isApprox(second, 1e-12));
    }
    CHECK(area == Approx(network::vent_area(vent)));
  }
}
