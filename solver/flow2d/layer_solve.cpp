#include "solver/flow2d/layer_solve.hpp"

#include <algorithm>
#include <cstdio>
#include <memory>
#include <stdexcept>

#include "solver/flow2d/layer_collect.hpp"
#include "solver/flow2d/layer_means.hpp"
#include "solver/flow2d/layer_start.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kMostPassages = 80.0;  // of a run in time, half of them averaged over, unless it is told
constexpr double kEnoughChanges = 3.0;  // of the air, for its swings to be known (judgement)

/// Flow at held temperatures, inertia stepped up from none where it is not found at once: without inertia and
/// heat the balances are those of a resistance network, which has one solution and lets itself be found.
Strategy inertia_last() {
  Strategy out;
  for (const double share : {0.0, 0.1, 0.3, 0.6, 1.0}) {
    const double followed = share > 0.0 && share < 1.0 ? 0.1 : 1e-3;
    out.first.push_back({share, 1.0, false, followed, share == 0.0 ? 1e6 : 1e3});
  }
  // Boldly first. Where that leads nowhere soon, the jets of a coarser grid are too blunt a start: with part
  // of the inertia they become sharper step by step, in fewer steps than from no inertia (by measurement).
  out.near = {{1.0, 1.0, false, 1e-2, 1e4, 8}};
  out.between = {
      {0.3, 1.0, false, 0.1, 1e3, 12}, {0.6, 1.0, false, 0.1, 1e3, 12}, {1.0, 1.0, false, 1e-3, 1e3, 12}};
  out.courants = {1e6, 1e2, 5.0};
  return out;
}

class PlanSolver : public Task {
 public:
  PlanSolver(const geometry::Case& content, const geometry::Condition& condition,
             const LayerBoundaryData& given, const PlanOptions& options)
      : case_(content), condition_(condition), given_(given), options_(options) {}

  PlanResult solve(Fields* found) {
    LayerModel finest = make_model(case_, condition_, given_, options_.cell);
    const network::Graph graph = finest.network.graph;  // outlives the model, which moves
    network::Solver network(graph);
    const network::Summary flows = network.solve();
    if (!flows.converged()) {
      result_.end = PlanEnd::no_network;
      result_.message = "the network has no solution to start from: " + flows.message;
      return result_;
    }
    network_ = &network;
    make_levels(std::move(finest));
    FoundFlow flow = Driver(this, inertia_last()).run(wanted());
    LayerFlow& last = *levels_.back();
    last.coupling().evaluate(flow.fields);
    note(flow);
    collect(case_.device, given_, last.model(), flow.fields, last.coupling(), &result_);
    if (result_.end == PlanEnd::averaged) take_means(flow);
    if (found != nullptr) *found = std::move(flow.fields);
    return result_;
  }

  int n_levels() const override { return static_cast<int>(levels_.size()); }
  const Flow& flow(int level) override { return at(level).flow(); }
  Fields start(int level) override { return start_from_network(at(level).model(), *network_); }
  Fields carried(int level, const Fields& fields) override {
    return start_from_coarse(at(level).model(), fields, at(level + 1).model());
  }

 private:
  LayerFlow& at(int level) { return *levels_[level]; }

  /// Coarser grids first.
  void make_levels(LayerModel finest) {
    std::vector<LayerModel> models;
    const double shorter = std::min(case_.device.size.x(), case_.device.size.y());
    for (double cell = 2.0 * options_.cell; options_.coarse_start; cell *= 2.0) {
      if (shorter / cell < options_.fewest) break;
      try {
        LayerModel model = make_model(case_, condition_, given_, cell);
        if (!alike(model, finest)) break;
        models.push_back(std::move(model));
      } catch (const std::invalid_argument&) {
        break;  // something is smaller than these cells: the finer grid starts alone
      }
    }
    const Magnitudes magnitudes = magnitudes_of(finest, *network_);
    for (auto model = models.rbegin(); model != models.rend(); ++model)
      levels_.push_back(std::make_unique<LayerFlow>(std::move(*model), magnitudes));
    levels_.push_back(std::make_unique<LayerFlow>(std::move(finest), magnitudes));
  }

  DriverOptions wanted() {
    DriverOptions out;
    out.scheme = options_.scheme;
    out.newton = options_.newton;
    LayerFlow& last = *levels_.back();
    out.in_time.march = coarse_in_time(last.passage());
    out.in_time.most_steps = options_.march_steps;
    out.stable = options_.stable;
    out.leave_all = options_.leave_all;
    out.in_time.monitor = [this, &last](const Fields&, double passages) {
      return std::make_unique<FlowMonitor>(case_.device, &last, options_.march_steps,
                                           passages > 0.0 ? passages : kMostPassages);
    };
    return out;
  }

  void note(const FoundFlow& flow) {
    switch (flow.end) {
      case FlowEnd::steady:
        result_.end = PlanEnd::converged;
        break;
      case FlowEnd::reduced:
        result_.end = PlanEnd::reduced;
        break;
      case FlowEnd::averaged:
        result_.end = PlanEnd::averaged;
        break;
      case FlowEnd::not_found:
        result_.end = PlanEnd::not_converged;
        break;
    }
    const bool averaged = result_.end == PlanEnd::averaged;
    result_.message = flow.message;
    result_.momentum_share = averaged ? 1.0 : flow.share;
    result_.first_order = flow.first_order;
    result_.steadiness = flow.steadiness();
    result_.marched_steps = flow.marched_steps;
    result_.marched = flow.marched;
    result_.steps = averaged ? flow.marched_steps : flow.newton.steps;
    result_.factorisations = averaged ? 0 : flow.newton.factorisations;
    result_.linear_iterations = averaged ? 0 : flow.newton.linear_iterations;
    result_.residual = averaged ? 0.0 : flow.newton.residual();
    result_.mass = averaged ? flow.mass : flow.newton.audit.mass;
    result_.energy = averaged ? flow.energy : flow.newton.audit.energy;
    result_.energy_cells = averaged ? flow.energy : flow.newton.audit.energy_cells;
  }

  void take_means(const FoundFlow& flow) {
    const auto& monitor = static_cast<const FlowMonitor&>(*flow.monitor);
    const PlanResult means = monitor.means().flows();
    put_means(means, &result_);
    result_.span = monitor.means().span();
    result_.air_changes = monitor.passages();
    result_.amplitudes = monitor.means().amplitudes();
    result_.swings_are_whole =
        result_.air_changes >= kEnoughChanges && monitor.means().amplitudes_stay(means.through_flow);
    double largest = 0.0;
    for (const double a : result_.amplitudes) largest = std::max(largest, a);
    char text[240];
    std::snprintf(
        text, sizeof text,
        ", of which the second half, %.3g s, was averaged: the air passes the device %.2g times in it, and "
        "the flows of vents swing by up to %.2g %% of the through-flow to either side",
        result_.span, result_.air_changes,
        means.through_flow > 0.0 ? 100.0 * largest / means.through_flow : 0.0);
    result_.message += text;
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const LayerBoundaryData& given_;
  const PlanOptions& options_;
  const network::Solver* network_ = nullptr;
  std::vector<std::unique_ptr<LayerFlow>> levels_;
  PlanResult result_;
};

}  // namespace

PlanResult solve_plan(const geometry::Case& content, const geometry::Condition& condition,
                      const LayerBoundaryData& given, const PlanOptions& options) {
  return PlanSolver(content, condition, given, options).solve(nullptr);
}

PlanResult solve_plan(const geometry::Case& content, const geometry::Condition& condition,
                      const LayerBoundaryData& given, const PlanOptions& options, Fields* fields) {
  return PlanSolver(content, condition, given, options).solve(fields);
}

}  // namespace tuft::flow2d
