// Heat from chips through pipe, fins, board and skin, coupled with the flow.
#include <catch2/catch.hpp>

#include "solver/network/audit.hpp"
#include "solver/physics/fin_heat.hpp"
#include "tests/network/chassis.hpp"
#include "tests/network/heat_chassis.hpp"

using namespace tuft;
using namespace tuft::testing;

namespace {

struct SolvedPaths {
  HeatedNetwork made;
  network::Steady steady;
  double at(int temperature) const { return steady.state.temperature[temperature]; }
};

SolvedPaths solve_paths(const geometry::Case& content, int condition) {
  SolvedPaths out{heated_network(content, condition), {}};
  out.steady = network::solve_steady(content, out.made.layout, out.made.net);
  return out;
}

}  // namespace

TEST_CASE("what crosses each joint is what leaves by the fins, by hand", "[heat]") {
  geometry::Case content = heat_chassis();
  const int condition = add_condition(content, "flat", 0, 0);
  const SolvedPaths run = solve_paths(content, condition);
  REQUIRE(run.steady.summary.converged());
  const network::Network& net = run.made.net;
  const network::HeatLayout& layout = run.made.layout;

  const double pipe = run.at(layout.part[kPipe]);
  const double fins = run.at(layout.fins[0]);
  const double through_joint = (pipe - fins) / 0.12;
  const double from_chips =
      (run.at(layout.source[kProcessor]) - pipe) / 0.25 + (run.at(layout.source[kGraphics]) - pipe) / 0.2;
  CHECK(through_joint == Approx(from_chips).epsilon(1e-8));

  // m cp (1 - exp(-hA/(m cp))) (T_fins - T_in) + chassis.
  const double cp = physics::specific_heat(net.graph.ambient.temperature);
  const double flow = run.steady.state.flow[net.layout.fin_opening[0]];
  physics::FinStackHeat stack;
  stack.channels = {55.0, 1.1e-3, 8e-3, 25e-3};
  stack.fin_thickness = 0.2e-3;
  stack.fin_conductivity = 390.0;
  const double conductance = physics::fin_conductance(stack, flow, net.graph.ambient.temperature).value;
  const network::Opening& channels = net.graph.openings[static_cast<std::size_t>(net.layout.fin_opening[0])];
  const double entering = run.at(channels.a);
  const double leaving = run.at(channels.b);
  const double stream = flow * cp * (1.0 - std::exp(-conductance / (flow * cp))) * (fins - entering);
  const double chassis = 0.15 * (fins - net.graph.ambient.temperature);
  INFO("flow " << flow << " hA " << conductance << " fins " << fins << " in " << entering << " out "
               << leaving);
  CHECK(stream + chassis == Approx(through_joint).epsilon(1e-8));
}
