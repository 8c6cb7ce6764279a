// Steps with the factors of the step before.
#include <catch2/catch.hpp>

#include "solver/network/solve.hpp"
#include "tests/network/random_network.hpp"

using namespace tuft;
using network::Equations;
using network::State;

namespace {

void add(const State& change, State& x) {
  x.flow += change.flow;
  x.pressure += change.pressure;
  x.temperature += change.temperature;
}

}  // namespace

TEST_CASE("a step with kept factors balances masses to round-off and brings the state closer") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 80; ++seed) {
    const network::Graph graph = testing::random_heated_network(seed);
    network::Solver solver(graph);
    if (!solver.solve().converged()) continue;
    Equations equations(graph);
    network::LinearStep step(equations);
    State x = solver.state();
    x.flow *= 1.001;
    x.temperature.array() += 0.01;
    equations.evaluate(x);
    if (!step.compute(equations, x, {}, false)) continue;
    add(step.correction(), x);
    equations.evaluate(x);
    const double before = step.norm(equations, x, false);
    if (before < 1e-10 || before > 1e-3) continue;  // nothing left to do, or across a kink of a law
    INFO("seed " << seed);
    REQUIRE(step.compute_with_last_factors(equations, x));
    add(step.correction(), x);
    equations.evaluate(x);
    CHECK(step.norm(equations, x, false) < 0.3 * before);
    const Eigen::VectorXd left = equations.residual(x);
    CHECK(left.segment(equations.n_flows(), equations.n_nodes()).cwiseAbs().maxCoeff() <
          1e-13 * equations.scales().flow);
    ++checked;
  }
  CHECK(checked > 30);
}
