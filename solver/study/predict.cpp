#include "solver/study/predict.hpp"

#include <cmath>
#include <exception>

#include "solver/network/assemble.hpp"
#include "solver/network/audit.hpp"
#include "solver/network/branches.hpp"
#include "solver/network/fan_speed.hpp"
#include "solver/network/initial_states.hpp"
#include "solver/study/solution.hpp"

namespace tuft::study {
namespace {

using geometry::Case;
using network::Network;

// What a converged solve may leave over in its balances [-].
constexpr double kMassTolerance = 1e-9;
constexpr double kEnergyTolerance = 1e-8;

// Copies the solve's story; a solution whose balances do not close is no solution.
void fill_report(const network::Summary& summary, const network::Audit& energy_balance,
                 ConditionResult& result) {
  result.report.converged = summary.converged();
  result.report.reason = summary.message;
  result.report.iterations = summary.iterations;
  result.report.residual = summary.residual;
  if (!summary.converged()) return;
  result.balance = {energy_balance.mass, energy_balance.energy};
  if (energy_balance.mass <= kMassTolerance && energy_balance.energy <= kEnergyTolerance) return;
  result.report.converged = false;
  result.report.reason = "the balances of mass and heat do not close";
}

// One condition from a start; none: from cold. `state` is where it ended.
ConditionResult solve_condition(const Case& content, int condition, const network::State* start,
                                network::State& state) {
  const geometry::Condition& wanted = content.conditions[condition];
  network::Model model = model_of(content, condition);
  const network::Steady steady = start == nullptr
                                     ? network::solve_from_cold(content, model)
                                     : network::solve_steady(content, model.layout, model.net, start);
  const Network& net = model.net;
  const network::HeatLayout& layout = model.layout;
  state = steady.state;
  const network::Audit energy_balance =
      steady.summary.converged() ? audit(net.graph, steady.state) : network::Audit{};

  ConditionResult result;
  result.condition = condition;
  result.name = wanted.name;
  result.ambient_temperature = net.graph.ambient.temperature;
  result.ambient_density = physics::density(net.graph.ambient.state, net.graph.ambient.temperature);
  result.power = steady.power;
  fill_report(steady.summary, energy_balance, result);
  if (!result.report.converged) return result;
  network::Equations equations(net.graph);
  equations.evaluate(steady.state);
  const Solution solution{net, layout, steady, equations, steady.state};
  result.heat = {energy_balance.heat_with_air, energy_balance.heat_through_walls};
  fill_vents(content, solution, result);
  fill_moving(content, solution, result);
  fill_heat(content, solution, result);
  fill_air_heat(content, solution, result);
  fill_ranges(solution, result);
  return result;
}

std::string tips_words(const network::Branch& branch) {
  std::string text;
  for (const network::TurningPoint& turning_point : branch.turning_points)
    text += (text.empty() ? "" : "; ") + network::tip_words(turning_point);
  return text;
}

// Looks for the other states of a solved condition. A cold start that came to rest where nothing stays is
// replaced by the state it would slide into.
void add_states(const Case& content, StateSearch search, network::State& state, ConditionResult& result) {
  const geometry::Condition& wanted = content.conditions[result.condition];
  network::BranchOptions options;
  options.sweeps = options.traces = search == StateSearch::walks;
  options.traces_of_several = true;
  const network::Branches found = network::find_branches(content, wanted, options);
  if (!found.summary.converged() || found.branches.empty()) return;
  const network::Branch& cold = found.branches.front();
  const bool slides = cold.stability.stable && differ(state, cold.steady.state);
  if (slides) result = solve_condition(content, result.condition, &cold.steady.state, state);
  States& states = result.states;
  states.slides = slides;
  states.looked_for = true;
  states.stable = found.stable;
  states.unstable = static_cast<int>(found.branches.size()) - found.stable;
  states.growth = cold.stability.growth;
  states.place = cold.stability.place;
  states.would_tip = tips_words(cold);
  states.left_out = found.left_out;
  for (std::size_t i = 1; i < found.branches.size(); ++i) {
    const network::Branch& branch = found.branches[i];
    if (!branch.stability.stable) continue;
    network::State there;
    const ConditionResult other = solve_condition(content, result.condition, &branch.steady.state, there);
    const std::string how = branch.reached_by.empty() ? std::string() : branch.reached_by.front();
    if (other.report.converged) states.others.push_back({how, other.vents, tips_words(branch)});
  }
}

// Hysteresis makes a steady state of its own where the device comes from hotter: what its fans do there.
void add_cooling_speeds(const Case& content, const network::State& state, ConditionResult& result) {
  bool any = false;
  for (std::size_t f = 0; f < result.fans.size(); ++f) {
    result.fans[f].cooling_speed = result.fans[f].speed;
    any = any || (result.fans[f].speed_control && *content.device.fans[f].speed_control.hysteresis > 0.0);
  }
  if (!any) return;
  const geometry::Condition& wanted = content.conditions[result.condition];
  Network net = network::assemble(content, wanted);
  const network::HeatLayout layout =
      network::add_heat_paths(content, wanted, net, network::Approach::cooling);
  const network::Steady steady = network::solve_steady(content, layout, net, &state);
  if (!steady.summary.converged()) return;
  for (std::size_t f = 0; f < result.fans.size(); ++f) {
    const network::FanElement& fan = net.graph.fans[net.layout.fan_element[f]];
    if (fan.sensor >= 0) result.fans[f].cooling_speed = network::speed_of(fan, net.graph, steady.state);
  }
}

}  // namespace

network::Model model_of(const Case& content, int condition, const std::vector<network::Parts>* parts) {
  const geometry::Condition& wanted = content.conditions[condition];
  network::Model model;
  model.net = network::assemble(content, wanted, network::ZoneAir::layered, {}, parts);
  model.layout = network::add_heat_paths(content, wanted, model.net);
  return model;
}

bool differ(const network::State& a, const network::State& b) {
  constexpr double kFlow = 1e-4;  // of the largest
  const double largest = a.flow.size() > 0 ? a.flow.cwiseAbs().maxCoeff() : 0.0;
  return a.flow.size() != b.flow.size() || (a.flow - b.flow).cwiseAbs().maxCoeff() > kFlow * largest;
}

ConditionResult predict(const Case& content, int condition, StateSearch search) {
  network::State state;
  ConditionResult result = solve_condition(content, condition, nullptr, state);
  if (!result.report.converged || search == StateSearch::none) return result;
  add_states(content, search, state, result);
  if (result.report.converged) add_cooling_speeds(content, state, result);
  return result;
}

// Every condition writes to its own place, so any number of threads gives the same bytes.
std::vector<ConditionResult> predict_these(const Case& content, const std::vector<int>& conditions,
                                           StateSearch search) {
  std::vector<ConditionResult> results(conditions.size());
  std::vector<std::exception_ptr> faults(conditions.size());
  const int n = static_cast<int>(conditions.size());
#pragma omp parallel for schedule(dynamic)
  for (int i = 0; i < n; ++i) {
    try {
      results[i] = predict(content, conditions[i], search);
    } catch (...) {
      faults[i] = std::current_exception();
    }
  }
  for (const std::exception_ptr& fault : faults)
    if (fault) std::rethrow_exception(fault);
  return results;
}

ConditionResult predict_in_pose(const Case& content, int condition, const geometry::Pose& pose) {
  Case turned = content;
  turned.conditions = {content.conditions[condition]};
  turned.conditions.front().pose = static_cast<int>(turned.poses.size());
  turned.poses.push_back(pose);
  network::State state;
  ConditionResult result = solve_condition(turned, 0, nullptr, state);
  result.condition = condition;
  return result;
}

namespace {

// Marks what one vent does for less than two degrees between two other things. What it does at either end of
// the sweep may last longer than the sweep shows.
void mark_passing(SweepResult& sweep, std::size_t vent) {
  const auto state = [&](std::size_t i) {
    const ConditionResult& result = sweep.points[i].result;
    return result.report.converged ? static_cast<int>(result.vents[vent].role) : -1;
  };
  for (std::size_t first = 0; first < sweep.points.size();) {
    std::size_t next = first + 1;
    while (next < sweep.points.size() && state(next) == state(first)) ++next;
    const bool inside = first > 0 && next < sweep.points.size() && state(first) >= 0 &&
                        state(first - 1) >= 0 && state(next) >= 0;
    // From the middle of the step before to the middle of the step after.
    if (inside) {
      const double from = 0.5 * (sweep.points[first - 1].angle + sweep.points[first].angle);
      const double to = 0.5 * (sweep.points[next - 1].angle + sweep.points[next].angle);
      for (std::size_t i = first; i < next && to - from < (1.0 - 1e-9) * kPassing; ++i)
        sweep.points[i].result.vents[vent].passing = true;
    }
    first = next;
  }
}

}  // namespace

SweepResult predict_sweep(const Case& content, int sweep) {
  const geometry::Sweep& wanted = content.sweeps[sweep];
  SweepResult result;
  result.name = wanted.name;
  const int n_steps = static_cast<int>(std::floor((wanted.to - wanted.from) / wanted.step + 1e-9));
  for (int i = 0; i <= n_steps; ++i) {
    const double angle = wanted.from + i * wanted.step;
    const geometry::Pose pose = geometry::tilted(wanted.name, wanted.axis, angle);
    result.points.push_back({angle, predict_in_pose(content, wanted.condition, pose)});
  }
  for (std::size_t vent = 0; vent < content.device.vents.size(); ++vent) mark_passing(result, vent);
  return result;
}

}  // namespace tuft::study
