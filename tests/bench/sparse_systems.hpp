// Sparse systems that the program factors: what the sparse solvers are compared on.
#pragma once

#include <string>
#include <vector>

#include "solver/sparse/frontal_lu.hpp"

namespace tuft::experiment {

/// A matrix by rows, each row over its largest entry, and where its unknowns lie.
struct SparseSystem {
  sparse::SparsePattern pattern;
  std::vector<double> values;
  std::vector<sparse::UnknownPlace> places;
  int nx = 0, ny = 0;  ///< cells of the grid

  std::size_t n() const { return places.size(); }
  /// y := A x.
  void apply(const std::vector<double>& x, std::vector<double>* y) const;
};

/// The Jacobian of one solve, at the state it has found, in the blocks that are factored one by one.
struct SparseTask {
  std::string name;
  std::vector<SparseSystem> blocks;
  /// What the solve took on its finest grid.
  int factorisations = 0, iterations = 0;

  std::size_t n() const;
};

/// The plan layers of cases/slim-notebook.yaml, first condition, at cells of this size [m]: the flow of each
/// layer and the temperatures of each.
SparseTask plan_task(double cell);

/// The section of the same condition at the solver's own cells.
SparseTask section_task();

/// The side-heated cavity at Ra 1e6, n x n cells.
SparseTask cavity_task(int n);

}  // namespace tuft::experiment
