// What an outlet's jet draws with on an opening beside it, in the network: nothing for the values as written.
#include <catch2/catch.hpp>

#include "solver/network/heat_paths.hpp"
#include "solver/network/solve.hpp"
#include "solver/physics/jet_suction.hpp"
#include "tests/support/chassis.hpp"

using namespace tuft;
using namespace tuft::network;

namespace {

// A fan blows out at one of two vents in the right side; the third opening is elsewhere.
geometry::Case blown() {
  geometry::Case c = test::box({0.2, 0.2, 0.02});
  c.device.vents = {test::vent("outlet", geometry::Face::right, {0.2, 0.05, 0.01}, 0.03, 0.01),
                    test::vent("beside", geometry::Face::right, {0.2, 0.09, 0.01}, 0.03, 0.01),
                    test::vent("elsewhere", geometry::Face::left, {0.0, 0.1, 0.01}, 0.06, 0.01)};
  c.device.vents[0].behind = {geometry::PlaceKind::fan_outlet, 0};
  geometry::Fan fan;
  fan.name = "fan";
  fan.draws_from = {geometry::PlaceKind::zone, 0};
  fan.blows_into = {geometry::PlaceKind::vent, 0};
  fan.centre = {0.17, 0.05, 0.01};
  fan.diameter = 0.05;
  fan.thickness = 0.01;
  fan.speed = 70.0;
  c.device.fans = {fan};
  c.loads[0].fans.clear();
  c.supports[0].kind = geometry::SupportKind::air;
  return c;
}

struct Flows {
  double outlet = 0.0, beside = 0.0;  // net, outwards [kg/s]
  double suction = 0.0;               // head at `beside` of the jet's part [Pa]
};

Flows solved(double factor) {
  geometry::Case c = blown();
  c.laws.jet_suction = factor;
  const Network net = assemble(c, c.conditions[0]);
  Solver solver(net.graph);
  REQUIRE(solver.solve().converged());
  const int outlet = net.layout.vent_openings[0][0], beside = net.layout.vent_openings[1][0];
  Flows flows;
  flows.outlet = solver.state().flow[outlet];
  flows.beside = solver.state().flow[beside];
  const network::Opening& opening = net.graph.openings[static_cast<std::size_t>(beside)];
  flows.suction = solver.equations().element(beside).head -
                  solver.state().pressure[opening.a];  // cold: no other head is there
  return flows;
}

}  // namespace

TEST_CASE("jet suction: the head before the opening beside is the law's, times the factor") {
  const Flows none = solved(0.0), once = solved(1.0), twice = solved(2.0);
  REQUIRE(none.outlet > 0.0);
  CHECK(none.suction == 0.0);
  const double density = 1.2;  // cancels but for the law's 1/rho
  for (const auto& [flows, factor] : {std::pair<Flows, double>(once, 1.0), {twice, 2.0}}) {
    const double law = physics::jet_suction(flows.outlet / density, 0.5 * 0.03 * 0.01, 0.04, density);
    CHECK(flows.suction == Approx(factor * law).epsilon(0.02));  // the room's true density
  }
  // It draws air out: less comes in there.
  CHECK(none.beside < once.beside);
  CHECK(once.beside < twice.beside);
}
