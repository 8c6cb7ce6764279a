// Analytic derivatives of whole networks against central differences.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/linear_step.hpp"
#include "solver/network/solve.hpp"
#include "tests/network/random_network.hpp"

using namespace tuft;
using network::Equations;
using network::State;

namespace {

// A state near a solution, every flow and temperature shifted so that no kink is sat upon.
State shifted(const State& solved, const Equations& equations) {
  State x = solved;
  for (Eigen::Index e = 0; e < x.flow.size(); ++e)
    x.flow[e] += (0.01 + 0.003 * static_cast<double>(e)) * equations.scales().flow;
  for (Eigen::Index i = 0; i < x.pressure.size(); ++i) {
    x.pressure[i] += 0.01 * static_cast<double>(i + 1) * equations.scales().pressure;
    x.temperature[i] += 1.3 * static_cast<double>(i + 1);
  }
  return x;
}

Eigen::VectorXd residual(Equations& equations, const State& x) {
  equations.evaluate(x);
  Eigen::VectorXd mass(equations.n_nodes()), heat(equations.n_nodes());
  equations.node_residuals(x, mass, heat);
  Eigen::VectorXd all(equations.n_flows() + 2 * equations.n_nodes());
  const network::Scales& scales = equations.scales();
  for (int e = 0; e < equations.n_flows(); ++e) all[e] = equations.element(e).imbalance / scales.pressure;
  all.segment(equations.n_flows(), equations.n_nodes()) = mass / scales.flow;
  all.tail(equations.n_nodes()) = heat / scales.heat;
  return all;
}

State moved(const State& x, const State& by, double factor) {
  State y = x;
  y.flow += factor * by.flow;
  y.pressure += factor * by.pressure;
  y.temperature += factor * by.temperature;
  return y;
}

}  // namespace

// If J is the true Jacobian, the Newton correction d of R(x) satisfies dR/d(step) along d = -R(x).
TEST_CASE("along the Newton correction the residual falls at the rate of its own size") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const network::Graph graph = testing::random_network(seed);
    network::Solver solver(graph);
    if (!solver.solve().converged()) continue;
    Equations equations(graph);
    const State x = shifted(solver.state(), equations);
    const Eigen::VectorXd at_x = residual(equations, x);
    network::LinearStep step(equations);
    REQUIRE(step.compute(equations, x, {}, false));
    const State d = step.correction();
    // Small enough for the curvature, large enough for round-off.
    const double h = 1e-6;
    const Eigen::VectorXd rate =
        (residual(equations, moved(x, d, h)) - residual(equations, moved(x, d, -h))) / (2.0 * h);
    INFO("seed " << seed);
    CHECK((rate + at_x).cwiseAbs().maxCoeff() < 1e-5 * (1.0 + at_x.cwiseAbs().maxCoeff()));
    ++checked;
  }
  CHECK(checked > 40);
}

TEST_CASE("every element's derivatives agree with central differences") {
  for (std::uint64_t seed = 100; seed < 130; ++seed) {
    const network::Graph graph = testing::random_network(seed);
    network::Solver solver(graph);
    if (!solver.solve().converged()) continue;
    Equations equations(graph);
    const State x = shifted(solver.state(), equations);
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
      const double by_m = difference(y.flow[e], hm, y, &ElementState::imbalance);
      CHECK(-at.slope == Approx(by_m).epsilon(2e-4).margin(1e-9));
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
        CHECK((side_a ? at.imbalance_ta : at.imbalance_tb) == Approx(i_t).epsilon(1e-4).margin(1e-9));
        const double f_t = difference(y.temperature[node], ht, y, &ElementState::forward);
        CHECK((side_a ? at.forward_ta : at.forward_tb) == Approx(f_t).epsilon(1e-3).margin(flow_unit));
        const double b_t = difference(y.temperature[node], ht, y, &ElementState::backward);
        CHECK((side_a ? at.backward_ta : at.backward_tb) == Approx(b_t).epsilon(1e-3).margin(flow_unit));
      }
    }
  }
}
