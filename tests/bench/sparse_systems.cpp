#include "tests/bench/sparse_systems.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "geometry/casefile/case_file.hpp"
#include "solver/flow2d/bordered_factors.hpp"
#include "solver/flow2d/jacobian.hpp"
#include "solver/flow2d/layer_solve.hpp"
#include "solver/flow2d/layer_start.hpp"
#include "solver/flow2d/section_find.hpp"
#include "solver/study/field_given.hpp"
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

/// Counts what is done on the finest grid seen.
struct Count {
  long cells = 0;
  SparseTask* task;
  void operator()(const flow2d::Progress& p) {
    const long here = static_cast<long>(p.nx) * p.ny;
    if (here < cells) return;
    if (here > cells) task->factorisations = task->iterations = 0;
    cells = here;
    task->factorisations += p.factored ? 1 : 0;
    task->iterations += p.linear_iterations;
  }
};

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
SparseSystem block_of(const sparse::SparsePattern& whole, const std::vector<double>& values,
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

/// The program's own scales (NewtonSolver): columns by what drives the problem, rows over their largest
/// entries.
void equalise(const flow2d::Unknowns& unknowns, const flow2d::Scales& scales, SparseSystem* s) {
  const double columns[4] = {scales.velocity, scales.velocity,
                             scales.momentum / (scales.length * scales.depth), scales.temperature};
  for (std::size_t r = 0; r < s->n(); ++r) {
    double largest = 0.0;
    const auto begin = static_cast<std::size_t>(s->pattern.row_start[r]),
               end = static_cast<std::size_t>(s->pattern.row_start[r + 1]);
    for (std::size_t k = begin; k < end; ++k) {
      s->values[k] *= columns[unknowns[s->pattern.column[k]].kind];
      largest = std::max(largest, std::abs(s->values[k]));
    }
    for (std::size_t k = begin; k < end; ++k) s->values[k] /= largest;
  }
}

/// All unknowns of one problem in one block, as the solver of a single grid has them.
SparseTask task_of(const flow2d::Problem& problem, const flow2d::NewtonOptions& given, flow2d::State* state) {
  SparseTask task;
  flow2d::NewtonOptions options = given;
  options.observer = Count{0, &task};
  if (flow2d::NewtonSolver(problem).solve(options, state).end != flow2d::StepsEnd::converged)
    throw std::runtime_error("a field of the comparison was not found");
  flow2d::Residual residual(problem);
  const flow2d::Scales scales = scales_of(problem, state);
  residual.set_scales(scales);
  flow2d::State balances = *state;
  residual.evaluate(*state, &balances);
  const flow2d::Unknowns unknowns(problem, residual.mesh());
  SparseSystem s;
  s.pattern = unknowns.pattern();
  s.values.resize(s.pattern.column.size());
  s.places = unknowns.places();
  s.nx = problem.grid.nx();
  s.ny = problem.grid.ny();
  flow2d::compact_jacobian(unknowns, residual, *state, flow2d::Rows::all, s.values.data());
  equalise(unknowns, scales, &s);
  sort_rows(&s);
  task.blocks.push_back(std::move(s));
  return task;
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
  SparseTask task;
  const study::ConditionResult network = study::predict(demo(), 0);
  const flow2d::Given given = study::given_of(network);
  flow2d::PlanOptions options;
  options.cell = cell;
  options.newton.observer = Count{0, &task};
  flow2d::Fields fields;
  if (!flow2d::solve_plan(demo(), demo().conditions[0], given, options, &fields).converged())
    throw std::runtime_error("the plan layers of the comparison were not found");
  const flow2d::LayerModel model = flow2d::make_model(demo(), demo().conditions[0], given, cell);
  network::Solver flows(model.network.graph);
  flows.solve();
  flow2d::LayerSystem system(model, flow2d::magnitudes_of(model, flows));
  system.set_scales(fields);
  system.balances(fields);
  flow2d::BorderedFactors factors(system, model);
  const std::vector<double> no_inertia(static_cast<std::size_t>(system.n()), 0.0);
  factors.factor(fields, no_inertia, 1.0, &system);
  std::vector<sparse::UnknownPlace> places;
  std::vector<int> block;
  for (int l = 0; l < system.n_layers(); ++l) {
    const auto part = system.unknowns(l).places();
    places.insert(places.end(), part.begin(), part.end());
    for (int k = 0; k < system.unknowns(l).n(); ++k)
      block.push_back(system.unknowns(l)[k].kind == flow2d::kind_t ? system.n_layers() + l : l);
  }
  for (int b = 0; b < 2 * system.n_layers(); ++b) {
    task.blocks.push_back(block_of(factors.pattern(), factors.values(), places, block, b));
    task.blocks.back().nx = model.raster.nx;
    task.blocks.back().ny = model.raster.ny;
  }
  task.name = "plan layers at " + std::to_string(static_cast<int>(std::lround(1e3 * cell))) + " mm";
  return task;
}

SparseTask section_task() {
  const study::ConditionResult network = study::predict(demo(), 0);
  const flow2d::SectionGiven given = study::section_given_of(network);
  const flow2d::SectionOptions options;
  const flow2d::Plane plane = flow2d::choose_plane(demo(), demo().conditions[0], given).plane;
  const auto make = [&](double coarser) {
    return flow2d::make_model(demo(), demo().conditions[0], given, plane, options, coarser);
  };
  const flow2d::SectionModel coarsest = make(4.0), twice = make(2.0), model = make(1.0);
  flow2d::State state = flow2d::rough_start(coarsest, options);
  state = flow2d::rough_flow(twice, flow2d::carried(coarsest.problem, state, twice.problem), options);
  state = flow2d::carried(twice.problem, state, model.problem);
  flow2d::NewtonOptions steps;
  steps.first_courant = 5.0;
  SparseTask task = task_of(model.problem, steps, &state);
  task.name = "section";
  return task;
}

SparseTask cavity_task(int n) {
  const flow2d::Problem problem = flow2d::test::heated_cavity(n, 1e6);
  flow2d::State state = flow2d::still_state(problem);
  SparseTask task = task_of(problem, {}, &state);
  task.name = "cavity " + std::to_string(n) + " x " + std::to_string(n);
  return task;
}

}  // namespace tuft::experiment
