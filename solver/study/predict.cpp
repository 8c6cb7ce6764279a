#include "solver/study/predict.hpp"

#include <cmath>

#include "solver/heat/controls.hpp"
#include "solver/network/assemble.hpp"
#include "solver/network/audit.hpp"
#include "solver/study/solution.hpp"

namespace tuft::study {
namespace {

using geometry::Case;
using network::Network;

// What a converged solve may leave over in its books [-].
constexpr double kMassTolerance = 1e-9;
constexpr double kEnergyTolerance = 1e-8;

// Copies the solve's story; a solution whose books do not close is no solution.
void fill_report(const network::Summary& summary, const network::Audit& books, ConditionResult& result) {
  result.report.converged = summary.converged();
  result.report.reason = summary.message;
  result.report.iterations = summary.iterations;
  result.report.residual = summary.residual;
  if (!summary.converged()) return;
  result.balance = {books.mass, books.energy};
  if (books.mass <= kMassTolerance && books.energy <= kEnergyTolerance) return;
  result.report.converged = false;
  result.report.reason = "the books of mass and heat do not close";
}

}  // namespace

ConditionResult predict(const Case& content, int condition) {
  const geometry::Condition& wanted = content.conditions[static_cast<std::size_t>(condition)];
  Network net = network::assemble(content, wanted);
  const heat::HeatLayout layout = heat::add_heat_paths(content, wanted, net);
  const heat::Steady steady = heat::solve_steady(content, layout, net);
  const network::Audit books = steady.summary.converged() ? audit(net.graph, steady.state) : network::Audit{};

  ConditionResult result;
  result.condition = condition;
  result.name = wanted.name;
  result.ambient_temperature = net.graph.ambient.temperature;
  result.ambient_density = air::density(net.graph.ambient.state, net.graph.ambient.temperature);
  result.power = steady.power;
  fill_report(steady.summary, books, result);
  if (!result.report.converged) return result;
  network::Equations equations(net.graph);
  equations.evaluate(steady.state);
  const Solution solution{net, layout, steady, equations, steady.state};
  result.heat = {books.heat_with_air, books.heat_through_walls};
  fill_vents(content, solution, result);
  fill_moving(content, solution, result);
  fill_heat(content, solution, result);
  return result;
}

std::vector<ConditionResult> predict_all(const Case& content) {
  std::vector<ConditionResult> results;
  for (int i = 0; i < static_cast<int>(content.conditions.size()); ++i)
    results.push_back(predict(content, i));
  return results;
}

SweepResult predict_sweep(const Case& content, int sweep) {
  const geometry::Sweep& wanted = content.sweeps[static_cast<std::size_t>(sweep)];
  SweepResult result;
  result.name = wanted.name;
  Case turned = content;
  const geometry::Condition& base = content.conditions[static_cast<std::size_t>(wanted.condition)];
  const int n_steps = static_cast<int>(std::floor((wanted.to - wanted.from) / wanted.step + 1e-9));
  for (int i = 0; i <= n_steps; ++i) {
    const double angle = wanted.from + i * wanted.step;
    geometry::Condition condition = base;
    condition.pose = static_cast<int>(content.poses.size());
    turned.poses = content.poses;
    turned.poses.push_back(geometry::tilted(wanted.name, wanted.axis, angle));
    turned.conditions = {condition};
    SweepPoint point{angle, predict(turned, 0)};
    point.result.condition = wanted.condition;
    result.points.push_back(std::move(point));
  }
  return result;
}

}  // namespace tuft::study
