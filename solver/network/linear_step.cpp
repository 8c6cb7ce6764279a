#include "solver/network/linear_step.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/jacobian.hpp"

namespace tuft::network {

LinearStep::LinearStep(const Equations& equations, MatrixStorage storage)
    : n_openings_(equations.n_openings()),
      n_flows_(equations.n_flows()),
      n_nodes_(equations.n_nodes()),
      n_temperatures_(equations.n_temperatures()),
      first_temperature_(n_flows_ - n_openings_ + n_nodes_),
      size_(first_temperature_ + n_temperatures_),
      is_sparse_(storage == MatrixStorage::by_size && size_ >= numerics::kSparseFrom),
      matrix_(is_sparse_ ? 0 : size_, is_sparse_ ? 0 : size_),
      right_(size_),
      solution_(size_),
      row_factor_(equations.residual_scale().cwiseInverse()),
      residual_(n_openings_ + size_),
      inertia_(n_openings_ + size_),
      changes_(static_cast<std::size_t>(n_openings_)),
      flow_lu_(is_sparse_ ? 0 : first_temperature_),
      heat_lu_(is_sparse_ ? 0 : n_temperatures_),
      full_lu_(is_sparse_ ? 0 : size_),
      correction_(equations.at_rest()) {
  // Each opening is in the mass and the heat of two nodes; a link may stand for three, each between two
  // temperatures.
  std::size_t most = 4 * changes_.size();
  for (const HeatLink& link : equations.graph().links)
    most += 6 * (2 + link.intakes.size() + link.outlets.size());
  couplings_.reserve(most);
}

double LinearStep::norm(const Equations& equations, const State& x, bool frozen_temperature) {
  return step_norms(equations, x, Inertia{}, frozen_temperature).steady;
}

LinearStep::StepNorms LinearStep::step_norms(const Equations& equations, const State& x,
                                             const Inertia& inertia, bool frozen_temperature) {
  equations.residual(x, residual_);
  set_inertia(equations, inertia);
  const int n = n_flows_ + n_nodes_;
  StepNorms worst;
  bool finite = true;
  const auto take = [&](int row, double change) {
    const double by_step = inertia_[row] * change;
    finite = finite && std::isfinite(residual_[row]) && std::isfinite(by_step);
    worst.steady = std::max(worst.steady, std::abs(residual_[row]) * row_factor_[row]);
    worst.left = std::max(worst.left, std::abs(residual_[row] - by_step) * row_factor_[row]);
  };
  for (int e = 0; e < n_flows_; ++e) take(e, correction_.flow[e]);
  for (int i = 0; i < n_nodes_; ++i) take(n_flows_ + i, 0.0);
  for (int i = 0; i < n_temperatures_ && !frozen_temperature; ++i) take(n + i, correction_.temperature[i]);
  if (!finite) worst = {HUGE_VAL, HUGE_VAL};
  return worst;
}

// What pseudo-time takes from the diagonal of each row. A temperature's pseudo-capacity over the step: its
// wall and a share of the whole flow, so that none is without.
void LinearStep::set_inertia(const Equations& equations, const Inertia& inertia) {
  inertia_.head(n_flows_).setConstant(inertia.flow);
  inertia_.segment(n_flows_, n_nodes_).setZero();
  inertia_.tail(n_temperatures_)
      .setConstant(inertia.heat * equations.heat_capacity() * equations.scales().flow);
  for (int i = 0; i < n_nodes_; ++i)
    inertia_[n_flows_ + n_nodes_ + i] += inertia.heat * at(equations.graph().nodes, i).wall_conductance;
}

// Adds to a row what it owes to the change of an opening's flow, expanded by its momentum equation: `factor`
// times the scaled change.
void LinearStep::add_flow_change(const Equations& equations, int row, int opening, double factor) {
  const FlowChange& change = at(changes_, opening);
  const int a = equations.side_a(opening);
  const int b = equations.side_b(opening);
  right_[row] -= factor * change.constant;
  if (a != kOutside) {
    put(row, pressure_row(a), factor * change.by_pressure);
    put(row, temperature_row(a), factor * change.by_ta);
  }
  if (b != kOutside) {
    put(row, pressure_row(b), -(factor * change.by_pressure));
    put(row, temperature_row(b), factor * change.by_tb);
  }
}

template <typename Put, typename Couple>
void LinearStep::each_slope(const Equations& equations, const State& x, bool frozen_temperature,
                            const Put& put, const Couple& couple) const {
  const Eigen::VectorXd& unit = equations.unit_scale();
  const auto add = [&](int row, int column, double value) {
    if (row < n_openings_) return;  // stands in `changes_`
    const double scaled = value * (unit[column] * row_factor_[row]);
    if (column < n_openings_)
      couple(row - n_openings_, column, scaled);
    else
      put(row - n_openings_, column - n_openings_, scaled);
  };
  each_flow_slope(equations, add);
  if (!frozen_temperature) each_heat_slope(equations, x, add);
}

// The matrix of the inertia set and the right-hand side `residual_`. With frozen temperatures the caller
// solves the leading block only.
void LinearStep::assemble(const Equations& equations, const State& x, bool frozen_temperature,
                          bool frozen_flow) {
  const Scales& scales = equations.scales();
  const Eigen::VectorXd& unit = equations.unit_scale();
  matrix_.setZero();
  entries_.clear();
  couplings_.clear();
  for (int row = 0; row < size_; ++row) {
    const int full = n_openings_ + row;
    right_[row] = -residual_[full] * row_factor_[full];
    put(row, row, -inertia_[full] * unit[full] * row_factor_[full]);
  }
  for (int e = 0; e < n_openings_; ++e) {
    const ElementState& s = equations.element(e);
    const double conductance = frozen_flow ? 0.0 : 1.0 / ((s.slope + inertia_[e]) * scales.flow);
    at(changes_, e) = {conductance * residual_[e], conductance * scales.pressure,
                       conductance * s.imbalance_ta * scales.temperature,
                       conductance * s.imbalance_tb * scales.temperature};
  }
  each_slope(
      equations, x, frozen_temperature, [&](int row, int column, double value) { put(row, column, value); },
      [&](int row, int opening, double value) {
        couplings_.push_back({row, opening, value});
        add_flow_change(equations, row, opening, value);
      });
  if (frozen_temperature) return;
  for (int i = 0; i < n_temperatures_; ++i) {
    if (!equations.is_held(i)) continue;
    clear_row(temperature_row(i));
    put(temperature_row(i), temperature_row(i), -1.0);
    right_[temperature_row(i)] = -equations.held_residual(x, i) / scales.temperature;
  }
}

void LinearStep::clear_row(int row) {
  if (!is_sparse_) {
    matrix_.row(row).setZero();
    return;
  }
  for (numerics::Entry& entry : entries_)
    if (entry.row == row) entry.value = 0.0;
}

// Solves the block on the diagonal that begins at a row, into the same rows of the solution.
bool LinearStep::solve_block(int first, int size, numerics::DenseLu& dense, numerics::SparseLu& sparse) {
  if (!is_sparse_) {
    dense.compute(matrix_.block(first, first, size, size));
    dense.solve_into(right_.segment(first, size), solution_.segment(first, size));
    return true;  // what is singular is found in the solution
  }
  block_.clear();
  const auto is_inside = [&](int at) { return at >= first && at < first + size; };
  for (const numerics::Entry& entry : entries_)
    if (is_inside(entry.row) && is_inside(entry.column))
      block_.push_back({entry.row - first, entry.column - first, entry.value});
  if (!sparse.compute(size, block_)) return false;
  solution_.segment(first, size) = sparse.solve(right_.segment(first, size));
  return true;
}

// By the slopes that the factors were made with.
void LinearStep::recover_flows(const Equations& equations) {
  const Scales& scales = equations.scales();
  const auto pressure = [&](int node) { return solution_[pressure_row(node)]; };
  const auto temperature = [&](int node) { return solution_[temperature_row(node)]; };
  for (int e = 0; e < n_openings_; ++e) {
    const FlowChange& by = at(changes_, e);
    const int a = equations.side_a(e);
    const int b = equations.side_b(e);
    double change = by.constant;
    if (a != kOutside) change += by.by_pressure * pressure(a) + by.by_ta * temperature(a);
    if (b != kOutside) change += -(by.by_pressure * pressure(b)) + by.by_tb * temperature(b);
    correction_.flow[e] = change * scales.flow;
  }
  const int fans = n_flows_ - n_openings_;
  correction_.flow.tail(fans) = solution_.head(fans) * scales.flow;
}

bool LinearStep::compute(const Equations& equations, const State& x, const Inertia& inertia,
                         bool frozen_temperature) {
  equations.residual(x, residual_);
  set_inertia(equations, inertia);
  assemble(equations, x, frozen_temperature);
  if (frozen_temperature) {
    if (!solve_block(0, first_temperature_, flow_lu_, flow_sparse_)) return false;
    solution_.tail(n_temperatures_).setZero();
  } else if (!solve_block(0, size_, full_lu_, full_sparse_)) {
    return false;
  }
  return take_solution(equations);
}

// The right-hand side of `residual_`, with couplings and slopes of the openings as last assembled.
void LinearStep::set_right(const Equations& equations) {
  for (int e = 0; e < n_openings_; ++e) {
    FlowChange& change = at(changes_, e);
    change.constant = change.by_pressure / equations.scales().pressure * residual_[e];
  }
  for (int row = 0; row < size_; ++row) {
    const int full = n_openings_ + row;
    right_[row] = -residual_[full] * row_factor_[full];
  }
  for (const Coupling& coupling : couplings_)
    right_[coupling.row] -= coupling.factor * at(changes_, coupling.opening).constant;
}

void LinearStep::solve_full() {
  if (is_sparse_)
    solution_ = full_sparse_.solve(right_);
  else
    full_lu_.solve_into(right_, solution_);
}

bool LinearStep::compute_with_last_factors(const Equations& equations, const State& x) {
  equations.residual(x, residual_);
  set_right(equations);
  for (int i = 0; i < n_temperatures_; ++i)
    if (equations.is_held(i))
      right_[temperature_row(i)] = -equations.held_residual(x, i) / equations.scales().temperature;
  solve_full();
  return take_solution(equations);
}

bool LinearStep::factor_implicit(const Equations& equations, const State& x,
                                 const Eigen::VectorXd& diagonal) {
  equations.residual(x, residual_);
  inertia_ = diagonal;
  assemble(equations, x, false);
  return solve_block(0, size_, full_lu_, full_sparse_);
}

Eigen::VectorXd LinearStep::solve_implicit(const Equations& equations, const Eigen::VectorXd& right) {
  residual_ = right;
  set_right(equations);
  for (int i = 0; i < n_temperatures_; ++i) {
    const int row = temperature_row(i), full = n_openings_ + row;
    if (equations.is_held(i)) right_[row] = -residual_[full] * row_factor_[full];
  }
  solve_full();
  take_solution(equations);
  Eigen::VectorXd all(n_openings_ + size_);
  all << correction_.flow, correction_.pressure, correction_.temperature;
  return all;
}

bool LinearStep::take_solution(const Equations& equations) {
  const Scales& scales = equations.scales();
  correction_.pressure = solution_.segment(n_flows_ - n_openings_, n_nodes_) * scales.pressure;
  correction_.temperature = solution_.tail(n_temperatures_) * scales.temperature;
  recover_flows(equations);
  return correction_.pressure.allFinite() && correction_.temperature.allFinite() &&
         correction_.flow.allFinite();
}

// With every opening's flow fixed its change is nothing: the temperature block then stands alone.
bool LinearStep::compute_heat(const Equations& equations, const State& x) {
  if (n_temperatures_ == 0) return false;
  equations.residual(x, residual_);
  set_inertia(equations, Inertia{});
  assemble(equations, x, false, true);
  const int n = n_temperatures_;
  if (!solve_block(first_temperature_, n, heat_lu_, heat_sparse_)) return false;
  correction_.temperature = solution_.tail(n) * equations.scales().temperature;
  return correction_.temperature.allFinite();
}

}  // namespace tuft::network
