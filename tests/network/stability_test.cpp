// The linearised transient: its derivatives, its eigenvalues, and what a disturbance does in time.
#include <Eigen/LU>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/continuation.hpp"
#include "solver/network/initial_states.hpp"
#include "solver/network/stability.hpp"
#include "tests/network/chassis.hpp"
#include "tests/network/duct.hpp"
#include "tests/network/heat_chassis.hpp"

using namespace tuft;
using namespace tuft::testing;

namespace {

void check_against_differences(network::Equations& equations, const network::State& x) {
  equations.evaluate(x);
  const network::TransientJacobian j = network::transient_jacobian(equations, x);
  const Eigen::VectorXd u = network::packed(x);
  for (Eigen::Index column = 0; column < u.size(); ++column) {
    const double h = 1e-6 * equations.unit_scale()[column];
    const auto at = [&](double step) {
      Eigen::VectorXd moved = u;
      moved[column] += step;
      const network::State y = network::unpacked(equations, moved);
      equations.evaluate(y);
      return equations.residual(y);
    };
    const Eigen::VectorXd slope = (at(h) - at(-h)) / (2.0 * h) * equations.unit_scale()[column];
    const Eigen::VectorXd own = j.matrix.col(column) * equations.unit_scale()[column];
    INFO("column " << column);
    CHECK((slope - own).cwiseQuotient(equations.residual_scale()).cwiseAbs().maxCoeff() <
          2e-5 * (1.0 + own.cwiseQuotient(equations.residual_scale()).cwiseAbs().maxCoeff()));
  }
}

}  // namespace

TEST_CASE("the transient Jacobian agrees with central differences", "[branches]") {
  geometry::Case content = heat_chassis();
  for (const int load : {0, 1, 2}) {
    const int condition = add_condition(content, "on-left-edge", 0, load);
    HeatedNetwork made = heated_network(content, condition);
    network::Steady steady = network::solve_steady(content, made.layout, made.net);
    REQUIRE(steady.summary.converged());
    // Off the state, so that no corner is sat upon.
    network::State x = steady.state;
    network::Equations equations(made.net.graph);
    for (Eigen::Index e = 0; e < x.flow.size(); ++e)
      x.flow[e] += (0.011 + 0.003 * static_cast<double>(e)) * equations.scales().flow;
    for (Eigen::Index i = 0; i < x.temperature.size(); ++i)
      x.temperature[i] += 0.7 * static_cast<double>(i + 1);
    check_against_differences(equations, x);
    equations.hold(made.layout.source[kProcessor], 350.0);
    check_against_differences(equations, x);
  }
}

TEST_CASE("a lump that cools to the room dies out at its conductance over its capacity", "[branches]") {
  // Two bodies one behind the other: Ca dTa/dt = -g (Ta - Tb), Cb dTb/dt = g (Ta - Tb) - G (Tb - T0). By hand
  // the roots of Ca Cb s^2 + (g Cb + (g + G) Ca) s + g G = 0.
  network::Graph graph;
  graph.ambient.temperature = 293.15;
  graph.bodies = {{"chip", 5.0, 8.0}, {"plate", 0.0, 60.0}};
  const double inner = 3.0, outer = 0.4;
  network::HeatLink link;
  link.name = "joint";
  link.a = 0;
  link.b = 1;
  link.conductance = inner;
  graph.links.push_back(link);
  link.name = "to the room";
  link.a = 1;
  link.b = network::kOutside;
  link.conductance = outer;
  graph.links.push_back(link);
  network::Equations equations(graph);
  network::State x = equations.at_rest();
  x.temperature << 293.15 + 5.0 / outer + 5.0 / inner, 293.15 + 5.0 / outer;
  equations.evaluate(x);
  const network::Stability found = network::stability(equations, x);
  const double a = 8.0 * 60.0, b = inner * 60.0 + (inner + outer) * 8.0, c = inner * outer;
  CHECK(found.growth == Approx((-b + std::sqrt(b * b - 4.0 * a * c)) / (2.0 * a)).epsilon(1e-10));
  CHECK(found.stable);
  CHECK(found.place == "chip");

  // Held, the chip no longer moves: the plate's own rate is left.
  equations.hold(0, x.temperature[0]);
  CHECK(network::stability(equations, x).growth == Approx(-(inner + outer) / 60.0).epsilon(1e-12));
  graph.bodies[1].capacity = 0.0;
  CHECK_THROWS_AS(network::stability(equations, x), std::invalid_argument);
}

// Derived: one loop, I dm/dt = F(m, T), C dT/dt = G(m, T); the eigenvalues of a 2 x 2 matrix, its entries by
// differences of the residuals of the closed loop (the sum of both elements' momentum is free of pressure).
TEST_CASE("the duct's eigenvalue is that of its two by two matrix, and time agrees", "[branches]") {
  const double s = 0.75;
  const network::Model model = duct({s, 1.0, 0.0});
  int stable = 0, unstable = 0;
  for (const double guess : {8.0e-4, 2.0e-4, -1.5e-4}) {
    network::Equations equations(model.net.graph);
    network::State x = equations.at_rest();
    x.flow.setConstant(guess);
    x.temperature[0] += 20.0 / (0.2 + equations.heat_capacity() * std::abs(guess));
    REQUIRE(network::newton(model, {}, x));
    equations.evaluate(x);
    const network::Stability found = network::stability(equations, x);
    const auto loop = [&](double dm, double dt) {
      network::State y = x;
      y.flow.array() += dm;
      y.temperature[0] += dt;
      equations.evaluate(y);
      const Eigen::VectorXd r = equations.residual(y);
      return Eigen::Vector2d(r[0] + r[1], r[3]);
    };
    const double hm = 1e-9, ht = 1e-3;
    Eigen::Matrix2d m;
    m.col(0) = (loop(hm, 0.0) - loop(-hm, 0.0)) / (2.0 * hm);
    m.col(1) = (loop(0.0, ht) - loop(0.0, -ht)) / (2.0 * ht);
    const double inertance =
        network::opening_inertance(model.net.graph.openings[0].area, model.net.graph.openings[0].depth) +
        network::fan_inertance(model.net.graph.fans[0].curve);
    m.row(0) /= inertance;
    m.row(1) /= model.net.graph.nodes[0].capacity;
    const double half = 0.5 * m.trace(), root = half * half - m.determinant();
    REQUIRE(root > 0.0);
    CHECK(found.growth == Approx(half + std::sqrt(root)).epsilon(1e-5));

    // In time: a push of a hundredth along the mode.
    network::State pushed = x;
    pushed.flow += 0.01 * std::abs(x.flow[0]) * found.mode.flow / found.mode.flow.cwiseAbs().maxCoeff();
    pushed.temperature += 0.1 * found.mode.temperature / found.mode.temperature.cwiseAbs().maxCoeff();
    REQUIRE(network::relax(model, {}, pushed));
    const bool returned = std::abs(pushed.flow[0] - x.flow[0]) < 1e-6 * std::abs(x.flow[0]);
    CHECK(returned == found.stable);
    ++(found.stable ? stable : unstable);
  }
  CHECK(stable == 2);
  CHECK(unstable == 1);
}
