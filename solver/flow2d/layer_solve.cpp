#include "solver/flow2d/layer_solve.hpp"

#include <algorithm>
#include <cstdio>
#include <memory>
#include <optional>
#include <stdexcept>

#include "solver/flow2d/layer_collect.hpp"
#include "solver/flow2d/layer_settle.hpp"
#include "solver/flow2d/layer_start.hpp"

namespace tuft::plan {
namespace {

using field::Convection;
using field::NewtonOptions;
using field::NewtonSummary;
using field::StepsEnd;

// Shares of the air's inertia that lead up to the whole when it is not found at once.
constexpr double kShares[] = {0.0, 0.1, 0.3, 0.6, 1.0};

// Steps from a coarser grid's flow after which it was not near enough for long ones (by measurement).
constexpr int kBoldSteps = 8;

// Residual to which a share on the way to the whole is followed.
constexpr double kOnTheWay = 0.1;
// Newton's steps from where a run in time has come, at least.
constexpr int kPolishSteps = 30;

/// What is solved on a grid: the air's whole inertia or a share of it, by which scheme, warm or with the
/// temperatures held.
struct Stage {
  double share = 1.0;
  Convection scheme = Convection::upwind;
  bool energy = true;
  bool operator!=(const Stage& o) const {
    return share != o.share || scheme != o.scheme || energy != o.energy;
  }
};

/// A grid's model with its solver for one stage at a time.
class Grid {
 public:
  Grid(Model model, const Magnitudes& magnitudes) : model_(std::move(model)), magnitudes_(magnitudes) {
    for (const Layer& layer : model_.layers) factors_.push_back(layer.problem.momentum_factor);
  }

  const Model& model() const { return model_; }
  const CoupledNewton& solver() const { return *solver_; }

  /// The model with all the air's inertia and heat, upwind.
  Model whole_model() const {
    Model out = model_;
    for (std::size_t l = 0; l < out.layers.size(); ++l) {
      field::Problem& p = out.layers[l].problem;
      p.momentum_factor = factors_[l];
      p.momentum_scheme = p.energy_scheme = Convection::upwind;
      p.energy = true;
    }
    return out;
  }

  NewtonSummary solve(const Stage& stage, const NewtonOptions& options, Fields* fields) {
    if (solver_ == nullptr || stage != stage_) set(stage);
    return solver_->solve(options, fields);
  }

 private:
  void set(const Stage& stage) {
    if (solver_ == nullptr) solver_ = std::make_unique<CoupledNewton>(model_, magnitudes_);
    stage_ = stage;
    for (std::size_t l = 0; l < model_.layers.size(); ++l) {
      field::Problem& p = model_.layers[l].problem;
      p.momentum_factor = stage.share * factors_[l];
      p.momentum_scheme = p.energy_scheme = stage.scheme;
      p.energy = stage.energy;
    }
  }

  Model model_;
  Magnitudes magnitudes_;
  std::vector<double> factors_;
  Stage stage_;
  std::unique_ptr<CoupledNewton> solver_;
};

NewtonOptions rough(const NewtonOptions& options) {
  NewtonOptions out = options;
  out.residual_tolerance = std::max(1e-3, options.residual_tolerance);
  out.mass_tolerance = out.energy_tolerance = 1.0;
  return out;
}

/// Flow at held temperatures, inertia stepped up from none where it is not found at once: without inertia and
/// heat the balances are those of a resistance network, which has one solution and lets itself be found.
/// Returns the largest share found, negative when none was.
double find_flow(Grid* grid, const NewtonOptions& options, bool near, Fields* fields,
                 NewtonSummary* summary) {
  NewtonOptions steps = rough(options);
  steps.energy_tolerance = 1e300;  // heat is not asked for yet
  const double tolerance = steps.residual_tolerance;
  if (near) {
    steps.residual_tolerance = std::max(1e-2, tolerance);
    // Boldly first; a start that is not that near wants shorter steps, and more of them.
    for (const double courant : {1e4, 1e2}) {
      steps.first_courant = courant;
      steps.max_steps = courant == 1e4 ? std::min(kBoldSteps, options.max_steps) : options.max_steps;
      Fields candidate = *fields;
      *summary = grid->solve({1.0, Convection::upwind, false}, steps, &candidate);
      if (summary->end != StepsEnd::converged) continue;
      *fields = std::move(candidate);
      return 1.0;
    }
    steps.max_steps = options.max_steps;
  }
  double found = -1.0;
  for (const double share : kShares) {
    Fields candidate = *fields;
    steps.residual_tolerance = share > 0.0 && share < 1.0 ? std::max(kOnTheWay, tolerance) : tolerance;
    steps.first_courant = share == 0.0 ? 1e6 : 1e3;
    *summary = grid->solve({share, Convection::upwind, false}, steps, &candidate);
    if (summary->end != StepsEnd::converged) break;
    *fields = std::move(candidate);
    found = share;
  }
  return found;
}

class PlanSolver {
 public:
  PlanSolver(const geometry::Case& content, const geometry::Condition& condition, const Given& given,
             const PlanOptions& options)
      : case_(content), condition_(condition), given_(given), options_(options) {}

  PlanResult solve(Fields* found) {
    Model finest = make_model(case_, condition_, given_, options_.cell);
    const network::Graph graph = finest.network.graph;  // outlives the model, which moves
    network::Solver network(graph);
    const network::Summary flows = network.solve();
    if (!flows.converged()) {
      result_.end = PlanEnd::no_network;
      result_.message = "the network has no solution to start from: " + flows.message;
      return result_;
    }
    magnitudes_ = magnitudes_of(finest, network);
    const std::optional<Fields> start = from_coarse(finest, network);
    Grid grid(std::move(finest), magnitudes_);
    Fields fields = start ? *start : start_from_network(grid.model(), network);
    solve_finest(&grid, start.has_value(), &fields);
    collect(case_.device, grid.model(), network, fields, grid.solver().coupling(), &result_);
    if (result_.end == PlanEnd::averaged) put_means(means_, &result_);
    if (found != nullptr) *found = std::move(fields);
    return result_;
  }

 private:
  /// Coarser grids first: each is solved roughly and hands its fields on.
  std::optional<Fields> from_coarse(const Model& finest, const network::Solver& network) {
    std::vector<Model> models;
    const double shorter = std::min(case_.device.size.x(), case_.device.size.y());
    for (double cell = 2.0 * options_.cell; options_.coarse_start; cell *= 2.0) {
      if (shorter / cell < options_.fewest) break;
      try {
        Model model = make_model(case_, condition_, given_, cell);
        if (!alike(model, finest)) break;
        models.push_back(std::move(model));
      } catch (const std::invalid_argument&) {
        break;  // something is smaller than these cells: the finer grid starts alone
      }
    }
    std::optional<Fields> fields;
    std::unique_ptr<Grid> before;
    for (auto model = models.rbegin(); model != models.rend(); ++model) {
      auto grid = std::make_unique<Grid>(std::move(*model), magnitudes_);
      const bool near = fields.has_value();
      fields = near ? start_from_coarse(before->model(), *fields, grid->model())
                    : start_from_network(grid->model(), network);
      NewtonSummary summary;
      const double share = find_flow(grid.get(), options_.newton, near, &*fields, &summary);
      if (share < 0.0) return std::nullopt;
      NewtonOptions steps = rough(options_.newton);
      steps.first_courant = 1e6;
      Fields candidate = *fields;
      if (grid->solve({share}, steps, &candidate).end != StepsEnd::diverged) fields = std::move(candidate);
      before = std::move(grid);
    }
    if (fields) fields = start_from_coarse(before->model(), *fields, finest);
    return fields;
  }

  void solve_finest(Grid* grid, bool near, Fields* fields) {
    NewtonSummary summary;
    double share = find_flow(grid, options_.newton, near, fields, &summary);
    flow_ = summary;
    NewtonOptions steps = options_.newton;
    for (const double courant : {1e6, 1e2, 5.0}) {
      if (share < 0.0) break;
      Fields candidate = *fields;
      steps.first_courant = courant;
      summary = grid->solve({share}, steps, &candidate);
      if (summary.end != StepsEnd::converged) continue;
      *fields = std::move(candidate);
      break;
    }
    bool found = share >= 0.0 && summary.end == StepsEnd::converged;
    std::string before;
    if ((!found || share < 1.0) && options_.march_steps > 0) {
      before =
          "no steady state at first: " + why_no_steady_state(share < 1.0 ? flow_ : summary, false) + "; ";
      const SettleEnd end = settle(grid, fields, &summary, &before);
      if (end == SettleEnd::restless) return;
      if (end == SettleEnd::steady) {
        found = true;
        share = 1.0;
      } else if (found) {  // back to the part of the inertia that was found
        Fields again = *fields;
        summary = grid->solve({share}, options_.newton, &again);
      }
    }
    result_.momentum_share = std::max(share, 0.0);
    result_.end = !found ? PlanEnd::not_converged : share == 1.0 ? PlanEnd::converged : PlanEnd::reduced;
    result_.message = before + summary.message;
    if (result_.end == PlanEnd::reduced)
      result_.message += "; the fields returned hold only part of the air's inertia";
    if (!found) evaluate(grid, fields);
    if (result_.end == PlanEnd::converged && options_.scheme != Convection::upwind)
      raise_order(grid, fields, &summary);
    note(summary);
  }

  /// A run in time from the best there is (docs/field.md, F31). Leaves *fields alone where it finds nothing.
  SettleEnd settle(Grid* grid, Fields* fields, NewtonSummary* summary, std::string* told) {
    SettleOptions in_time;
    in_time.most_steps = options_.march_steps;
    const auto& raster = grid->model().raster;
    if (options_.newton.observer)
      in_time.observer = [&](const SettleStep& s) {
        field::Progress progress{raster.nx, raster.ny, s.steps, s.residual, 0.0, 0, false};
        progress.time = s.time;
        progress.unrest = s.unrest;
        options_.newton.observer(progress);
      };
    const auto find_steady = [&](const Fields& now) {
      NewtonOptions steps = options_.newton;
      steps.max_steps = std::max(steps.max_steps, kPolishSteps);
      steps.first_courant = 1e3;
      Fields candidate = now;
      const NewtonSummary tried = grid->solve({}, steps, &candidate);
      if (tried.end != StepsEnd::converged) return false;
      *fields = std::move(candidate);
      *summary = tried;
      return true;
    };
    const Settled run =
        settle_in_time(case_.device, grid->whole_model(), magnitudes_, *fields, given_, in_time, find_steady);
    result_.marched_steps = run.steps;
    result_.marched = run.time;
    char text[240];
    std::snprintf(text, sizeof text, "then %d steps in time, %.3g s", run.steps, run.time);
    *told += text;
    if (run.end == SettleEnd::steady) *told += ", came near rest, and Newton's steps from there ";
    if (run.end == SettleEnd::failed) *told += ", after which no step was found, however short; ";
    if (run.end == SettleEnd::brief) *told += ", too short a run for a mean; ";
    if (run.end == SettleEnd::restless) take_means(grid, run, fields, *told);
    return run.end;
  }

  void take_means(Grid* grid, const Settled& run, Fields* fields, const std::string& told) {
    *fields = run.means.fields();
    means_ = run.means.flows();
    result_.end = PlanEnd::averaged;
    result_.momentum_share = 1.0;
    result_.span = run.means.span();
    result_.renewals = run.passages;
    result_.amplitudes = run.means.amplitudes();
    result_.steps = run.steps;
    result_.mass = run.mass;
    result_.energy = result_.energy_cells = run.energy;
    evaluate(grid, fields);
    double largest = 0.0;
    for (const double a : result_.amplitudes) largest = std::max(largest, a);
    char text[240];
    std::snprintf(
        text, sizeof text,
        ", of which the second half, %.3g s, was averaged: the air passes the device %.2g times in it, and "
        "the flows of vents swing by up to %.2g %% of the through-flow to either side",
        result_.span, run.passages, means_.through_flow > 0.0 ? 100.0 * largest / means_.through_flow : 0.0);
    result_.message = told + text;
  }

  /// Puts the solver to fields that are no solution, so that what is collected belongs to them.
  static void evaluate(Grid* grid, Fields* fields) {
    NewtonOptions none;
    none.max_steps = 0;
    grid->solve({}, none, fields);
  }

  void raise_order(Grid* grid, Fields* fields, NewtonSummary* summary) {
    Fields candidate = *fields;
    NewtonOptions steps = options_.newton;
    const NewtonSummary raised = grid->solve({1.0, options_.scheme, true}, steps, &candidate);
    if (raised.end == StepsEnd::converged) {
      *fields = std::move(candidate);
      *summary = raised;
      result_.first_order = false;
      result_.message = raised.message;
      return;
    }
    result_.message += "; convection of higher order: " + raised.message;
    Fields again = *fields;
    *summary = grid->solve({}, options_.newton, &again);
  }

  void note(const NewtonSummary& summary) {
    result_.steps = summary.steps;
    result_.factorisations = summary.factorisations;
    result_.linear_iterations = summary.linear_iterations;
    result_.residual = summary.residual();
    result_.mass = summary.audit.mass;
    result_.energy = summary.audit.energy;
    result_.energy_cells = summary.audit.energy_cells;
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const Given& given_;
  const PlanOptions& options_;
  Magnitudes magnitudes_;
  NewtonSummary flow_;  ///< of the search for the flow at held temperatures on the finest grid
  PlanResult means_;    ///< flows, where they are means
  PlanResult result_;
};

}  // namespace

PlanResult solve_plan(const geometry::Case& content, const geometry::Condition& condition, const Given& given,
                      const PlanOptions& options) {
  return PlanSolver(content, condition, given, options).solve(nullptr);
}

PlanResult solve_plan(const geometry::Case& content, const geometry::Condition& condition, const Given& given,
                      const PlanOptions& options, Fields* fields) {
  return PlanSolver(content, condition, given, options).solve(fields);
}

}  // namespace tuft::plan
