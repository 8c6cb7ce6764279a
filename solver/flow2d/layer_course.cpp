#include "solver/flow2d/layer_course.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <stdexcept>

#include "solver/flow2d/layer_collect.hpp"
#include "solver/flow2d/layer_start.hpp"

namespace tuft::plan {
namespace {

constexpr double kAtOnce = 1e-9;  // of the interval, as near as a moment is met

void require_positive(double value, const char* name) {
  if (std::isfinite(value) && value > 0.0) return;
  char text[100];
  std::snprintf(text, sizeof text, "%s is %g; it must be finite and above 0", name, value);
  throw std::invalid_argument(text);
}

class Follower {
 public:
  Follower(const geometry::Case& content, const geometry::Condition& condition, const Given& given,
           const std::vector<HeatStore>& stores, const CourseOptions& options)
      : case_(content), condition_(condition), given_(given), stores_(stores), options_(options) {
    require_positive(options.until, "CourseOptions::until");
    require_positive(options.march.tolerance, "MarchOptions::tolerance");
    if (options.every != 0.0) require_positive(options.every, "CourseOptions::every");
  }

  Course run() {
    Model model = make_model(case_, condition_, given_, options_.cell);
    const network::Graph graph = model.network.graph;  // outlives the model, which moves
    network::Solver network(graph);
    const network::Summary flows = network.solve();
    if (!flows.converged()) {
      course_.message = "the network, which tells how large things are, has no solution: " + flows.message;
      return course_;
    }
    for (Layer& layer : model.layers)
      layer.problem.momentum_scheme = layer.problem.energy_scheme = options_.scheme;
    const Magnitudes magnitudes = magnitudes_of(model, network);
    Fields start = still_fields(model);
    if (!options_.from.empty() && !start_from(options_.from.front(), model, &start)) return course_;
    March march(std::move(model), magnitudes, std::move(start), given_, stores_, options_.march);
    go(&march, network);
    return course_;
  }

 private:
  bool start_from(const CourseStart& from, const Model& model, Fields* start) {
    PlanOptions steady = options_.steady;
    steady.cell = options_.cell;
    Fields found;
    const PlanResult result = solve_plan(case_, from.condition, from.given, steady, &found);
    if (!result.converged()) {
      course_.message =
          "there is no steady state of " + from.condition.name + " to start from: " + result.message;
      return false;
    }
    *start = carried_over(make_model(case_, from.condition, from.given, options_.cell), found, model);
    return true;
  }

  void show(const March& march, const network::Solver& network) const {
    if (!options_.on_moment) return;
    PlanResult state;
    state.end = PlanEnd::in_time;
    state.first_order = options_.scheme == field::Convection::upwind;
    state.mass = course_.mass;
    state.energy = course_.energy;
    collect(case_.device, march.model(), network, march.fields(), march.coupling(), &state);
    options_.on_moment(march.time(), state);
  }

  CourseStep told(const March& march, const MarchStep& step) const {
    CourseStep out;
    out.time = march.time();
    out.step = step.step;
    out.error = step.error;
    out.mass = step.solved.books.mass;
    out.energy = step.solved.books.energy;
    out.newton = step.solved.newton;
    out.residual = step.solved.residual;
    PlanResult flows;
    flows.ambient_temperature = march.coupling().fluid().temperature;
    collect_flows(case_.device, march.model(), march.fields(), march.coupling(), &flows);
    out.through_flow = flows.through_flow;
    out.vents = std::move(flows.vents);
    out.fans = std::move(flows.fans);
    for (std::size_t l = 0; l < march.model().layers.size(); ++l)
      for (std::size_t k = 0; k < march.fields().layers[l].temperature.size(); ++k)
        if (march.model().layers[l].problem.solid[k] == 0)
          out.warmest = std::max(out.warmest, march.fields().layers[l].temperature[k]);
    out.stores = march.stores().temperatures();
    return out;
  }

  void count(const MarchStep& step, const CourseStep& told) {
    ++course_.steps;
    course_.again += step.tries - 1;
    course_.newton += step.solved.newton;
    course_.factorisations += step.solved.factorisations;
    course_.linear_iterations += step.solved.iterations;
    course_.mass = std::max(course_.mass, told.mass);
    course_.energy = std::max(course_.energy, told.energy);
    course_.time = told.time;
  }

  void go(March* march, const network::Solver& network) {
    show(*march, network);
    const double until = options_.until, every = options_.every > 0.0 ? options_.every : until;
    for (int n = 1; march->time() < until; ++n) {
      const double moment = std::min(until, n * every) >= until * (1.0 - kAtOnce) ? until : n * every;
      while (march->time() < moment) {
        const MarchStep step = march->step(moment);
        if (!step.good) return fail(*march);
        const CourseStep report = told(*march, step);
        count(step, report);
        note_unrest(*march, step, report);
        if (options_.on_step && !options_.on_step(report)) {
          show(*march, network);
          course_.end = CourseEnd::stopped;
          finish(*march, "stopped");
          return;
        }
      }
      show(*march, network);
    }
    course_.end = CourseEnd::followed;
    finish(*march, "followed to its end");
  }

  void note_unrest(const March& march, const MarchStep& step, const CourseStep& report) {
    double air = 0.0;
    for (const Layer& layer : march.model().layers)
      for (std::size_t k = 0; k < layer.problem.depth.size(); ++k)
        if (layer.problem.solid[k] == 0) air += layer.problem.depth[k];
    air *= march.model().raster.dx * march.model().raster.dy * march.coupling().fluid().density;
    const double passage = report.through_flow > 0.0 ? air / report.through_flow : options_.until;
    course_.unrest = step.change * passage / step.step;
  }

  void finish(const March& march, const char* how) {
    const double power = march.stores().power(), passing = march.stores().passing();
    const double larger = std::max(std::abs(power), std::abs(passing));
    course_.stored = larger > 0.0 ? (power - passing) / larger : 0.0;
    char text[240];
    std::snprintf(text, sizeof text,
                  "%s, %.4g s in %d steps; mass of every step to %.1e, energy to %.1e of what passes", how,
                  course_.time, course_.steps, course_.mass, course_.energy);
    course_.message = text;
  }

  void fail(const March& march) {
    char text[200];
    std::snprintf(text, sizeof text, "no step was found, however short, after %.6g s and %d steps",
                  march.time(), course_.steps);
    course_.message = text;
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const Given& given_;
  const std::vector<HeatStore>& stores_;
  const CourseOptions& options_;
  Course course_;
};

}  // namespace

Course follow(const geometry::Case& content, const geometry::Condition& condition, const Given& given,
              const std::vector<HeatStore>& stores, const CourseOptions& options) {
  return Follower(content, condition, given, stores, options).run();
}

}  // namespace tuft::plan
