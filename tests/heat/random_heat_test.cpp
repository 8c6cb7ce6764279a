// Random networks with bodies, fins, skin and fans that follow a temperature.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/audit.hpp"
#include "solver/network/linear_step.hpp"
#include "solver/network/solve.hpp"
#include "tests/network/random_network.hpp"

using namespace tuft;
using network::Equations;
using network::State;

namespace {

Eigen::VectorXd residual(Equations& equations, const State& x) {
  equations.evaluate(x);
  Eigen::VectorXd mass(equations.n_nodes()), heat(equations.n_temperatures());
  equations.node_residuals(x, mass, heat);
  const network::Scales& scales = equations.scales();
  Eigen::VectorXd all(equations.n_flows() + mass.size() + heat.size());
  for (int e = 0; e < equations.n_flows(); ++e) all[e] = equations.element(e).imbalance / scales.pressure;
  all.segment(equations.n_flows(), mass.size()) = mass / scales.flow;
  all.tail(heat.size()) = heat / scales.heat;
  return all;
}

State shifted(const State& solved, const Equations& equations) {
  State x = solved;
  for (Eigen::Index e = 0; e < x.flow.size(); ++e)
    x.flow[e] += (0.01 + 0.003 * static_cast<double>(e)) * equations.scales().flow;
  for (Eigen::Index i = 0; i < x.pressure.size(); ++i)
    x.pressure[i] += 0.01 * static_cast<double>(i + 1) * equations.scales().pressure;
  for (Eigen::Index i = 0; i < x.temperature.size(); ++i)
    x.temperature[i] += 1.3 * static_cast<double>(i + 1);
  return x;
}

State moved(const State& x, const State& by, double factor) {
  State y = x;
  y.flow += factor * by.flow;
  y.pressure += factor * by.pressure;
  y.temperature += factor * by.temperature;
  return y;
}

}  // namespace

TEST_CASE("with heat paths the residual falls along the Newton correction at the rate of its own size") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    const network::Graph graph = testing::random_heated_network(seed);
    network::Solver solver(graph);
    if (!solver.solve().converged()) continue;
    Equations equations(graph);
    const State x = shifted(solver.state(), equations);
    const Eigen::VectorXd at_x = residual(equations, x);
    network::LinearStep step(equations);
    REQUIRE(step.compute(equations, x, {}, false));
    const State d = step.correction();
    const double h = 1e-6;
    const Eigen::VectorXd rate =
        (residual(equations, moved(x, d, h)) - residual(equations, moved(x, d, -h))) / (2.0 * h);
    INFO("seed " << seed);
    CHECK((rate + at_x).cwiseAbs().maxCoeff() < 1e-5 * (1.0 + at_x.cwiseAbs().maxCoeff()));
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
    const network::Audit books = network::audit(graph, solver.state());
    CHECK(books.energy < 1e-8);
    CHECK(books.mass < 1e-9);
    // No sink colder than the room: nothing gets colder than it.
    CHECK(solver.state().temperature.minCoeff() > graph.ambient.temperature - 1e-6);
    ++solved;
  }
  CHECK(solved > 1500);
}
