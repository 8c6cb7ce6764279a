#include "tests/bench/sparse_systems.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "geometry/casefile/case_file.hpp"
#include "solver/flow2d/factors.hpp"
#include "solver/flow2d/layer_solve.hpp"
#include "solver/flow2d/layer_start.hpp"
#include "solver/flow2d/section_model.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"
#include "tests/flow2d/field_support.hpp"

namespace tuft::experiment {
namespace {

using sparse::SparsePattern;

const geometry::Case& demo() {
  static const geometry::Case content =
      casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml").file.content;
  return content;
}

/// Rows in the order of their columns, as UMFPACK wants them.
void sort_rows(SparseSystem* s) {
  for (std::size_t r = 0; r < s->n(); ++r) {
    std::vector<std::pair<int, double>> row;
    const auto begin = static_cast<std::size_t>(s->pattern.row_start[r]),
               end = static_cast<std::size_t>(s->pattern.row_start[r + 1]);
    for (std::size_t k = begin; k < end; ++k) row.emplace_back(s->pattern.column[k], s->values[k]);
    std::sort(row.begin(), row.end());
    for (std::size_t k = begin; k < end; ++k) std::tie(s->pattern.column[k], s->values[k]) = row[k - begin];
  }
}

/// The rows and columns of the unknowns whose block is `number`.
SparseSystem block_of(const SparsePattern& whole, const std::vector<double>& values,
                      const std::vector<sparse::UnknownPlace>& places, const std::vector<int>& block,
                      int number) {
  SparseSystem out;
  std::vector<int> local(block.size(), -1);
  int n = 0;
  for (std::size_t k = 0; k < block.size(); ++k)
    if (block[k] == number) local[k] = n++;
  out.pattern.row_start.push_back(0);
  for (std::size_t r = 0; r < block.size(); ++r) {
    if (local[r] < 0) continue;
    for (int k = whole.row_start[r]; k < whole.row_start[r + 1]; ++k) {
      const int c = local[static_cast<std::size_t>(whole.column[static_cast<std::size_t>(k)])];
      if (c < 0) continue;
      out.pattern.column.push_back(c);
      out.values.push_back(values[static_cast<std::size_t>(k)]);
    }
    out.pattern.row_start.push_back(static_cast<int>(out.pattern.column.size()));
    out.places.push_back(places[r]);
  }
  sort_rows(&out);
  return out;
}

/// The compact Jacobian at a flow's fields, scaled and without inertia, in the blocks that the program
/// factors: the flow of each layer and the temperatures of each where they are factored apart, else all in
/// one.
std::vector<SparseSystem> systems_of(const flow2d::Flow& flow, const flow2d::Fields& fields) {
  flow2d::FlowSystem system(flow);
  system.set_scales(fields, false);
  system.balances(fields);
  flow2d::Factors factors(system);
  factors.factor(fields, std::vector<double>(static_cast<std::size_t>(system.n()), 0.0), 1.0, &system);
  const int n_layers = system.n_layers();
  std::vector<sparse::UnknownPlace> places;
  std::vector<int> block;
  for (int l = 0; l < n_layers; ++l) {
    const flow2d::Unknowns& unknowns = system.unknowns(l);
    const auto part = unknowns.places();
    places.insert(places.end(), part.begin(), part.end());
    for (int k = 0; k < unknowns.n(); ++k)
      block.push_back(!flow.factors_apart ? 0 : unknowns[k].kind == flow2d::kind_t ? n_layers + l : l);
  }
  std::vector<SparseSystem> out;
  for (int b = 0; b < (flow.factors_apart ? 2 * n_layers : 1); ++b) {
    out.push_back(block_of(factors.pattern(), factors.values(), places, block, b));
    out.back().nx = system.nx();
    out.back().ny = system.ny();
  }
  return out;
}

/// A solve on the finest grid and the systems at the state it ended in.
SparseTask task_of(const std::string& name, const flow2d::Flow& flow, const flow2d::Fields& fields,
                   const flow2d::NewtonSummary& solve) {
  if (!solve.converged()) throw std::runtime_error(name + ": no solution was found: " + solve.message);
  return {name, systems_of(flow, fields), solve.factorisations, solve.linear_iterations};
}

}  // namespace

void SparseSystem::apply(const std::vector<double>& x, std::vector<double>* y) const {
  for (std::size_t r = 0; r < n(); ++r) {
    double sum = 0.0;
    for (int k = pattern.row_start[r]; k < pattern.row_start[r + 1]; ++k)
      sum += values[static_cast<std::size_t>(k)] *
             x[static_cast<std::size_t>(pattern.column[static_cast<std::size_t>(k)])];
    (*y)[r] = sum;
  }
}

std::size_t SparseTask::n() const {
  std::size_t sum = 0;
  for (const SparseSystem& s : blocks) sum += s.n();
  return sum;
}

SparseTask plan_task(double cell) {
  const study::ConditionResult network = study::predict(demo(), 0);
  const flow2d::LayerBoundaryData given = study::layer_boundary_data(network);
  flow2d::PlanOptions options;
  options.cell = cell;
  SparseTask task;
  task.name = "plan layers at " + std::to_string(static_cast<int>(std::lround(1e3 * cell))) + " mm";
  options.newton.observer = [&task, cells = 0L](const flow2d::Progress& p) mutable {
    const long here = static_cast<long>(p.nx) * p.ny;
    if (here < cells) return;
    if (here > cells) task.factorisations = task.iterations = 0;  // a finer grid begins
    cells = here;
    task.factorisations += p.factored ? 1 : 0;
    task.iterations += p.linear_iterations;
  };
  flow2d::Fields fields;
  if (!flow2d::solve_plan(demo(), demo().conditions[0], given, options, &fields).converged())
    throw std::runtime_error(task.name + ": no solution was found");
  flow2d::LayerModel model = flow2d::make_model(demo(), demo().conditions[0], given, cell);
  network::Solver flows(model.network.graph);
  flows.solve();
  const flow2d::Magnitudes magnitudes = flow2d::magnitudes_of(model, flows);
  flow2d::LayerFlow layers(std::move(model), magnitudes);
  for (flow2d::Problem* problem : layers.flow().layers)
    problem->momentum_scheme = problem->energy_scheme = options.scheme;
  task.blocks = systems_of(layers.flow(), fields);
  return task;
}

SparseTask section_task() {
  const study::ConditionResult network = study::predict(demo(), 0);
  const flow2d::SectionBoundaryData given = study::section_boundary_data(network);
  const flow2d::SectionOptions options;
  const flow2d::Plane plane = flow2d::choose_plane(demo(), demo().conditions[0], given).plane;
  const auto make = [&](double coarser) {
    return flow2d::make_model(demo(), demo().conditions[0], given, plane, options, coarser);
  };
  flow2d::SectionModel coarsest = make(4.0), twice = make(2.0), model = make(1.0);
  flow2d::SingleGridTask grids({&coarsest.problem, &twice.problem, &model.problem});
  const flow2d::FoundFlow found = flow2d::Driver(&grids, flow2d::thick_air_first()).run({});
  return task_of("section", grids.flow(2), found.fields, found.newton);
}

SparseTask cavity_task(int n) {
  flow2d::Problem problem = flow2d::test::heated_cavity(n, 1e6);
  flow2d::Flow flow;
  flow.layers = {&problem};
  flow2d::Fields fields{{flow2d::still_state(problem)}, {}};
  const flow2d::NewtonSummary solve = flow2d::NewtonSolver(flow).solve({}, &fields);
  return task_of("cavity " + std::to_string(n) + " x " + std::to_string(n), flow, fields, solve);
}

}  // namespace tuft::experiment
