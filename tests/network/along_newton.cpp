#include "tests/network/along_newton.hpp"

#include <cmath>
#include <limits>

#include "solver/network/linear_step.hpp"

namespace tuft::testing {
namespace {

using network::Equations;
using network::State;

Eigen::VectorXd residual(Equations& equations, const State& x) {
  equations.evaluate(x);
  return equations.residual(x).cwiseQuotient(equations.residual_scale());
}

State moved(const State& x, const State& by, double factor) {
  State y = x;
  y.flow += factor * by.flow;
  y.pressure += factor * by.pressure;
  y.temperature += factor * by.temperature;
  return y;
}

}  // namespace

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

double newton_direction_error(const network::Graph& graph, const State& x) {
  Equations equations(graph);
  const Eigen::VectorXd at_x = residual(equations, x);
  network::LinearStep step(equations);
  if (!step.compute(equations, x, {}, false)) return std::numeric_limits<double>::infinity();
  const State d = step.correction();
  // Small enough for the curvature, large enough for round-off.
  const double h = 1e-6;
  const Eigen::VectorXd rate =
      (residual(equations, moved(x, d, h)) - residual(equations, moved(x, d, -h))) / (2.0 * h);
  return (rate + at_x).cwiseAbs().maxCoeff() / (1.0 + at_x.cwiseAbs().maxCoeff());
}

}  // namespace tuft::testing
