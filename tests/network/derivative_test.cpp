// Analytic derivatives of whole networks against central differences.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/solve.hpp"
#include "tests/network/along_newton.hpp"
#include "tests/network/random_network.hpp"

using namespace tuft;
using network::Equations;
using network::State;

namespace {

// As the streams and openings of a layered zone are (N8), every third.
network::Graph layered_in_part(std::uint64_t seed) {
  network::Graph graph = testing::random_network(seed);
  for (std::size_t i = seed % 3; i < graph.openings.size(); i += 3) {
    graph.openings[i].span_left = 0.3;
    graph.openings[i].purging = 2.5;
    graph.openings[i].mixing = 1e-4;
    graph.openings[i].plume = {5e-5, 3e-4, 5.0 / 3.0, 0.8};
  }
  return graph;
}

}  // namespace

TEST_CASE("along the Newton correction the residual falls at the rate of its own size") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const network::Graph graph = layered_in_part(seed);
    network::Solver solver(graph);
    if (!solver.solve().converged()) continue;
    INFO("seed " << seed);
    CHECK(testing::newton_direction_error(graph, testing::shifted(solver.state(), solver.equations())) <
          1e-5);
    ++checked;
  }
  CHECK(checked > 40);
}

TEST_CASE("every element's derivatives agree with central differences") {
  for (std::uint64_t seed = 100; seed < 160; ++seed) {
    const network::Graph graph = seed < 130 ? testing::random_network(seed) : layered_in_part(seed);
    network::Solver solver(graph);
    if (!solver.solve().converged()) continue;
    Equations equations(graph);
    const State x = testing::shifted(solver.state(), equations);
    for (int e = 0; e < equations.n_flows(); ++e) {
      equations.evaluate(x);
      const network::ElementState at = equations.element(e);
      const auto difference = [&](double& entry, double h, State& y, auto member) {
        const double keep = entry;
        entry = keep + h;
        equations.evaluate(y);
        const double up = equations.element(e).*member;
        entry = keep - h;
        equations.evaluate(y);
        const double down = equations.element(e).*member;
        entry = keep;
        return (up - down) / (2.0 * h);
      };
      State y = x;
      INFO("seed " << seed << " element " << e);
      const double hm = 1e-5 * (std::abs(x.flow[e]) + 1e-3 * equations.scales().flow);
      using network::ElementState;
      // What round-off of the two pressures leaves in a difference of them over a step.
      const auto noise = [&](double step) {
        return 1e-15 * (std::abs(at.head) + std::abs(at.imbalance)) / step;
      };
      const double by_m = difference(y.flow[e], hm, y, &ElementState::imbalance);
      CHECK(-at.slope == Approx(by_m).epsilon(2e-4).margin(1e-9 + noise(hm)));
      const double f_m = difference(y.flow[e], hm, y, &ElementState::forward);
      CHECK(at.forward_m == Approx(f_m).margin(2e-4));
      const double b_m = difference(y.flow[e], hm, y, &ElementState::backward);
      CHECK(at.backward_m == Approx(b_m).margin(2e-4));
      for (const bool side_a : {true, false}) {
        const int node = side_a ? equations.side_a(e) : equations.side_b(e);
        if (node == network::kOutside) continue;
        const double ht = 1e-3;
        const double flow_unit = 1e-4 * (at.forward + at.backward) + 1e-14;
        const double i_t = difference(y.temperature[node], ht, y, &ElementState::imbalance);
        CHECK((side_a ? at.imbalance_ta : at.imbalance_tb) ==
              Approx(i_t).epsilon(1e-4).margin(1e-9 + noise(ht)));
        const double f_t = difference(y.temperature[node], ht, y, &ElementState::forward);
        CHECK((side_a ? at.forward_ta : at.forward_tb) == Approx(f_t).epsilon(1e-3).margin(flow_unit));
        const double b_t = difference(y.temperature[node], ht, y, &ElementState::backward);
        CHECK((side_a ? at.backward_ta : at.backward_tb) == Approx(b_t).epsilon(1e-3).margin(flow_unit));
      }
    }
  }
}
