// Random networks with bodies, fins, skin and fans that follow a temperature.
#include <catch2/catch.hpp>

#include "solver/network/audit.hpp"
#include "solver/network/solve.hpp"
#include "tests/network/along_newton.hpp"
#include "tests/network/random_network.hpp"

using namespace tuft;

TEST_CASE("with heat paths the residual falls along the Newton correction at the rate of its own size") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    const network::Graph graph = testing::random_heated_network(seed);
    network::Solver solver(graph);
    if (!solver.solve().converged()) continue;
    INFO("seed " << seed);
    CHECK(testing::newton_direction_error(graph, testing::shifted(solver.state(), solver.equations())) <
          1e-5);
    ++checked;
  }
  CHECK(checked > 80);
}

TEST_CASE("random networks with heat paths are solved, and their books close") {
  int solved = 0;
  for (std::uint64_t seed = 1000; seed < 3000; ++seed) {
    const network::Graph graph = testing::random_heated_network(seed);
    network::Solver solver(graph);
    const network::Summary summary = solver.solve();
    INFO("seed " << seed << ": " << summary.message);
    CHECK(summary.stop != network::StopReason::stalled);
    if (!summary.converged()) continue;
    const network::Audit energy_balance = network::audit(graph, solver.state());
    CHECK(energy_balance.energy < 1e-8);
    CHECK(energy_balance.mass < 1e-9);
    // No sink colder than the room: nothing gets colder than it.
    CHECK(solver.state().temperature.minCoeff() > graph.ambient.temperature - 1e-6);
    ++solved;
  }
  CHECK(solved > 1500);
}
