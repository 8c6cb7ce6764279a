// The drawing of a device in use and at the bench.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/figure/xml.hpp"
#include "tools/figure/bench_drawing.hpp"

using namespace tuft;
using namespace tuft::figure;
using geometry::Face;
using geometry::Role;
using geometry::Vec3;

namespace {

// A box with one vent in its upper face that breathes both ways, turned about an axis of its own.
BenchDrawing turned(const Vec3& axis, double angle) {
  BenchDrawing drawing;
  drawing.device.name = "box";
  drawing.device.size = {0.3, 0.2, 0.03};
  drawing.device.zones = {{"inside", {0.15, 0.1, 0.015}, {0.3, 0.2, 0.03}, 0.0}};
  geometry::Vent vent;
  vent.name = "slot";
  vent.face = Face::top;
  vent.centre = {0.15, 0.1, 0.03};
  vent.width = 0.08;
  vent.height = 0.06;
  drawing.device.vents = {vent};
  VentFlow flow;
  flow.role = Role::both_ways;
  flow.inflow = flow.outflow = 1e-4;
  for (BenchPanel* panel : {&drawing.use, &drawing.bench}) {
    panel->pose = geometry::tilted("turned", axis, angle);
    panel->flows = {flow};
    panel->words = {""};
  }
  return drawing;
}

// Mean height down the page of the arrows of one way; the drawing has two halves alike.
double down_the_page(const std::vector<test::Element>& arrows, const std::string& way) {
  double sum = 0.0, count = 0.0;
  for (const test::Element& arrow : test::having(arrows, "data-direction", way)) {
    for (const Point& point : test::points_of(arrow)) {
      sum += point.y;
      count += 1.0;
    }
  }
  REQUIRE(count > 0.0);
  return sum / count;
}

}  // namespace

TEST_CASE("where a standing vent breathes both ways, the arrow out stands above the arrow in, on any edge") {
  const double quarter = std::acos(0.0);
  for (const Vec3& axis : {Vec3(1.0, 0.0, 0.0), Vec3(0.0, 1.0, 0.0)}) {
    for (const double angle : {-quarter, quarter}) {
      INFO("axis " << axis.transpose() << ", angle " << angle);
      const auto root = test::parsed(bench_drawing(turned(axis, angle)));
      const auto arrows = test::all(root, "polygon");
      CHECK(down_the_page(arrows, "out") < down_the_page(arrows, "in"));
    }
  }
}
