#include "solver/flow2d/layer_transient.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <stdexcept>
#include <string>

#include "solver/flow2d/layer_collect.hpp"
#include "solver/flow2d/layer_start.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kAtOnce = 1e-9;  // of the interval, as near as a moment is met

void require_positive(double value, const char* name) {
  if (std::isfinite(value) && value > 0.0) return;
  char text[100];
  std::snprintf(text, sizeof text, "%s is %g; it must be finite and above 0", name, value);
  throw std::invalid_argument(text);
}

/// The stores as lumps of a model's air. Takes what its layers are given over whole parts as their P. Throws
/// std::invalid_argument for a part that is not there, and for numbers that cannot be.
std::vector<HeatLump> lumps_of(const std::vector<ThermalMass>& thermal_masses, const LayerBoundaryData& given,
                               LayerModel* model) {
  const int n_zones = static_cast<int>(model->raster.zone_storey.size());
  std::vector<HeatLump> out;
  for (const ThermalMass& thermal_mass : thermal_masses) {
    if (!(thermal_mass.capacity > 0.0) || !(thermal_mass.conductance > 0.0) ||
        !std::isfinite(thermal_mass.start) || !std::isfinite(thermal_mass.at_once))
      throw std::invalid_argument("a heat store of part " + std::to_string(thermal_mass.part) +
                                  " needs a capacity and a conductance above 0 and a temperature");
    HeatLump lump;
    lump.capacity = thermal_mass.capacity;
    lump.conductance = thermal_mass.conductance;
    lump.start = thermal_mass.start;
    for (std::size_t l = 0; l < model->layers.size(); ++l) {
      Layer& layer = model->layers[l];
      for (std::size_t k = 0; layer.kind == LayerKind::inside && k < layer.part.size(); ++k)
        if (layer.part[k] == thermal_mass.part) {
          lump.problem = &layer.problem;
          lump.layer = l;
          lump.cells.push_back(k);
        }
    }
    if (thermal_mass.part < 0 || lump.cells.empty())
      throw std::invalid_argument("there is no part " + std::to_string(thermal_mass.part) +
                                  " to store heat in");
    lump.area = static_cast<double>(lump.cells.size()) * model->raster.dx * model->raster.dy;
    const std::vector<double>& list = thermal_mass.part < n_zones ? given.zones : given.fin_stacks;
    const int index = thermal_mass.part < n_zones ? thermal_mass.part : thermal_mass.part - n_zones;
    lump.power = (list.empty() ? 0.0 : list[index]) - thermal_mass.at_once;
    out.push_back(std::move(lump));
  }
  return out;
}

/// In time what a stack gives its air goes through its store, or is given in watts.
LayerBoundaryData with_watts(LayerBoundaryData given) {
  given.fin_metals.clear();
  return given;
}

class Follower {
 public:
  Follower(const geometry::Case& content, const geometry::Condition& condition,
           const LayerBoundaryData& given, const std::vector<ThermalMass>& thermal_masses,
           const LayerTransientOptions& options)
      : case_(content),
        condition_(condition),
        given_(with_watts(given)),
        thermal_masses_(thermal_masses),
        options_(options) {
    require_positive(options.until, "CourseOptions::until");
    require_positive(options.march.tolerance, "MarchOptions::tolerance");
    if (options.every != 0.0) require_positive(options.every, "CourseOptions::every");
  }

  LayerTransient run() {
    LayerModel model = make_model(case_, condition_, given_, options_.cell);
    const network::Graph graph = model.network.graph;  // outlives the model, which moves
    network::Solver network(graph);
    const network::Summary flows = network.solve();
    if (!flows.converged()) {
      transient_.message = "the network, which sets the scales, has no solution: " + flows.message;
      return transient_;
    }
    for (Layer& layer : model.layers)
      layer.problem.momentum_scheme = layer.problem.energy_scheme = options_.scheme;
    const Magnitudes magnitudes = magnitudes_of(model, network);
    Fields start = still_fields(model);
    if (!options_.from.empty() && !start_from(options_.from.front(), model, &start)) return transient_;
    flow_ = std::make_unique<LayerFlow>(std::move(model), magnitudes);
    lumps_ = ThermalMasses(lumps_of(thermal_masses_, given_, &flow_->model()), flow_->model().power);
    MarchOptions steps = options_.march;
    steps.passage = flow_->passage();
    March march(flow_->flow(), std::move(start), steps, &lumps_);
    go(&march);
    return transient_;
  }

 private:
  bool start_from(const TransientStart& from, const LayerModel& model, Fields* start) {
    PlanOptions steady = options_.steady;
    steady.cell = options_.cell;
    Fields found;
    const PlanResult result = solve_plan(case_, from.condition, from.given, steady, &found);
    if (!result.converged()) {
      transient_.message =
          "there is no steady state of " + from.condition.name + " to start from: " + result.message;
      return false;
    }
    *start = carried_over(make_model(case_, from.condition, from.given, options_.cell), found, model);
    return true;
  }

  void show(const March& march) const {
    if (!options_.on_moment) return;
    PlanResult state;
    state.end = PlanEnd::in_time;
    state.first_order = options_.scheme == Convection::upwind;
    state.mass = transient_.mass;
    state.energy = transient_.energy;
    collect(case_.device, given_, flow_->model(), march.fields(), flow_->coupling(), &state);
    options_.on_moment(march.time(), state);
  }

  TransientStep told(const March& march, const MarchStep& step) const {
    TransientStep out;
    out.time = march.time();
    out.step = step.step;
    out.error = step.error;
    out.mass = step.solved.balance.mass;
    out.energy = step.solved.balance.energy;
    out.newton = step.solved.newton;
    out.residual = step.solved.residual;
    PlanResult flows;
    flows.ambient_temperature = flow_->coupling().fluid().temperature;
    collect_flows(case_.device, flow_->model(), march.fields(), flow_->coupling(), &flows);
    out.through_flow = flows.through_flow;
    out.vents = std::move(flows.vents);
    out.fans = std::move(flows.fans);
    for (std::size_t l = 0; l < flow_->model().layers.size(); ++l)
      for (std::size_t k = 0; k < march.fields().layers[l].temperature.size(); ++k)
        if (flow_->model().layers[l].problem.solid[k] == 0)
          out.warmest = std::max(out.warmest, march.fields().layers[l].temperature[k]);
    out.thermal_masses = lumps_.temperatures();
    return out;
  }

  void count(const MarchStep& step, const TransientStep& told) {
    ++transient_.steps;
    transient_.again += step.tries - 1;
    transient_.newton += step.solved.newton;
    transient_.factorisations += step.solved.factorisations;
    transient_.linear_iterations += step.solved.iterations;
    transient_.mass = std::max(transient_.mass, told.mass);
    transient_.energy = std::max(transient_.energy, told.energy);
    transient_.time = told.time;
  }

  void go(March* march) {
    show(*march);
    const double until = options_.until, every = options_.every > 0.0 ? options_.every : until;
    for (int n = 1; march->time() < until; ++n) {
      const double moment = std::min(until, n * every) >= until * (1.0 - kAtOnce) ? until : n * every;
      while (march->time() < moment) {
        const MarchStep step = march->step(moment);
        if (!step.good) return fail(*march);
        const TransientStep report = told(*march, step);
        count(step, report);
        note_rate_of_change(step, report);
        if (options_.on_step && !options_.on_step(report)) {
          show(*march);
          transient_.end = TransientEnd::stopped;
          finish("stopped");
          return;
        }
      }
      show(*march);
    }
    transient_.end = TransientEnd::followed;
    finish("computed to its end");
  }

  void note_rate_of_change(const MarchStep& step, const TransientStep& report) {
    const double passage = report.through_flow > 0.0 ? flow_->air() / report.through_flow : options_.until;
    transient_.rate_of_change = step.change * passage / step.step;
  }

  void finish(const char* how) {
    const double power = lumps_.power(), passing = lumps_.passing();
    const double larger = std::max(std::abs(power), std::abs(passing));
    transient_.stored = larger > 0.0 ? (power - passing) / larger : 0.0;
    char text[240];
    std::snprintf(text, sizeof text,
                  "%s, %.4g s in %d steps; mass of every step to %.1e, energy to %.1e of what passes", how,
                  transient_.time, transient_.steps, transient_.mass, transient_.energy);
    transient_.message = text;
  }

  void fail(const March& march) {
    char text[200];
    std::snprintf(text, sizeof text, "no step was found, however short, after %.6g s and %d steps",
                  march.time(), transient_.steps);
    transient_.message = text;
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const LayerBoundaryData given_;
  const std::vector<ThermalMass>& thermal_masses_;
  const LayerTransientOptions& options_;
  std::unique_ptr<LayerFlow> flow_;
  ThermalMasses lumps_;
  LayerTransient transient_;
};

}  // namespace

LayerTransient run_transient(const geometry::Case& content, const geometry::Condition& condition,
                             const LayerBoundaryData& given, const std::vector<ThermalMass>& thermal_masses,
                             const LayerTransientOptions& options) {
  return Follower(content, condition, given, thermal_masses, options).run();
}

}  // namespace tuft::flow2d
