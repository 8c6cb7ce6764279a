// 20,000 random networks: each solved, or reported as having no solution with the reason; none silently
// wrong.
#include <catch2/catch.hpp>
#include <map>
#include <string>

#include "solver/network/audit.hpp"
#include "solver/network/solve.hpp"
#include "tests/network/independent.hpp"
#include "tests/network/random_network.hpp"

using namespace tuft;

TEST_CASE("20,000 random networks are solved or refused with a reason, never silently wrong") {
  std::map<network::StopReason, int> stops;
  double worst_opening = 0.0, worst_fan = 0.0, worst_mass = 0.0, worst_heat = 0.0, worst_energy = 0.0;
  for (std::uint64_t seed = 0; seed < 20000; ++seed) {
    const network::Graph graph = testing::random_network(seed);
    network::Solver solver(graph);
    const network::Summary summary = solver.solve();
    ++stops[summary.stop];
    if (!summary.converged()) {
      INFO("seed " << seed);
      CHECK(!summary.message.empty());
      // The only reason a connected network may give: more heat than its walls and openings carry off.
      REQUIRE(summary.stop == network::StopReason::runaway);
      REQUIRE(solver.state().temperature.maxCoeff() > network::kHottest);
      continue;
    }
    const network::Audit energy_balance = network::audit(graph, solver.state());
    worst_mass = std::max(worst_mass, energy_balance.mass);
    worst_energy = std::max(worst_energy, energy_balance.energy);
    // The strips are slow: every twentieth network.
    if (seed % 20 != 0) continue;
    const testing::Residuals left = testing::independent_residuals(graph, solver.state());
    worst_opening = std::max(worst_opening, left.opening);
    worst_fan = std::max(worst_fan, left.fan);
    worst_heat = std::max(worst_heat, left.heat);
    INFO("seed " << seed);
    REQUIRE(left.opening < 1e-8);
    REQUIRE(left.fan < 1e-8);
    REQUIRE(left.mass < 1e-12);
    REQUIRE(left.heat < 1e-9);
  }
  WARN("converged " << stops[network::StopReason::converged] << ", too hot "
                    << stops[network::StopReason::runaway] << "; worst: strips " << worst_opening << ", fans "
                    << worst_fan << ", mass " << worst_mass << ", energy " << worst_energy);
  CHECK(worst_mass <= 1e-9);
  CHECK(worst_energy <= 1e-8);
  CHECK(stops[network::StopReason::converged] > 18000);
}

TEST_CASE("a node without a way out is reported, not solved") {
  network::Graph graph = testing::random_network(3);
  network::Node lonely;
  lonely.name = "lonely";
  graph.nodes.push_back(lonely);
  network::Solver solver(graph);
  const network::Summary summary = solver.solve();
  CHECK(summary.stop == network::StopReason::disconnected);
  CHECK(summary.message == "'lonely' has no open way to the outside");
}
