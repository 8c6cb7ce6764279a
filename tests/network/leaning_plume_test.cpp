// A flat chassis that leans, warm in its middle, whose walls lose heat: the plume turns over the air that
// does not pass, so that the way from the lower opening to the upper one stays warm and draws.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/assemble.hpp"
#include "solver/network/solve.hpp"
#include "solver/numerics/constants.hpp"
#include "tests/support/chassis.hpp"

using namespace tuft;
using namespace tuft::network;

namespace {

// Openings in both ends, this far over the base [m]; 3 W between them, 0.2 W/K through the walls.
geometry::Case flat_box(double over_base, double degrees) {
  geometry::Case c = test::box({0.3, 0.2, 0.06});
  c.device.zones[0].wall_conductance = 0.2;
  for (const geometry::Face face : {geometry::Face::left, geometry::Face::right}) {
    const double x = face == geometry::Face::left ? 0.0 : 0.3;
    geometry::Vent v =
        test::vent(face == geometry::Face::left ? "upper" : "lower", face, {x, 0.1, over_base}, 0.1, 0.008);
    v.cover.kind = geometry::CoverKind::open;
    v.cover.open_ratio = 1.0;
    c.device.vents.push_back(v);
  }
  geometry::Source source;
  source.name = "board";
  source.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  source.is_placed = true;
  source.centre = {0.15, 0.1, 0.0125};
  source.size = {0.1, 0.08, 0.005};
  c.device.sources = {source};
  geometry::SourcePower given;
  given.source = 0;
  given.power = 3.0;
  c.loads[0].powers = {given};
  c.poses[0] = geometry::tilted("leaning", Vec3::UnitY(), degrees * numerics::kPi / 180.0);
  return c;
}

// Net flow out of the upper opening [kg/s].
double passing(const geometry::Case& c) {
  const Network net = assemble(c, c.conditions[0]);
  Solver solver(net.graph);
  REQUIRE(solver.solve().converged());
  const ElementState upper = solver.equations().element(net.layout.vent_openings[0][0]);
  return upper.forward - upper.backward;
}

}  // namespace

TEST_CASE("leaning plume: the steeper a warm box leans, the more passes", "[derived]") {
  double before = 0.0;
  for (const double degrees : {2.0, 5.0, 10.0, 20.0, 30.0, 45.0, 60.0}) {
    const double here = std::abs(passing(flat_box(0.005, degrees)));
    INFO(degrees << " degrees");
    CHECK(here > before);
    before = here;
  }
}

TEST_CASE("leaning plume: openings a few millimetres higher pass about as much", "[derived]") {
  const double lowest = std::abs(passing(flat_box(0.005, 45.0)));
  for (const double over_base : {0.007, 0.009, 0.011, 0.015}) {
    INFO(1e3 * over_base << " mm");
    CHECK(std::abs(passing(flat_box(over_base, 45.0))) == Approx(lowest).epsilon(0.05));
  }
}
