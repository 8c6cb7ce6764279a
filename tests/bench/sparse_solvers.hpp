// Direct solvers of sparse systems behind one interface: the program's own, and those of libraries.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "tests/bench/sparse_systems.hpp"

namespace tuft::experiment {

/// Factors of one system. Made by ordering and symbolic analysis, which see the pattern and, where the
/// library wants them, the values.
class SparseSolver {
 public:
  virtual ~SparseSolver() = default;
  /// Numeric factorisation; throws std::runtime_error with the library's code where it fails.
  virtual void factor() = 0;
  /// x := approximate inverse of A times x, once, without refinement.
  virtual void solve(std::vector<double>* x) const = 0;
  /// Memory of the factors alone [bytes].
  virtual double factor_bytes() const = 0;
};

struct SparseMethod {
  std::string name;
  /// The system must outlive the solver.
  std::function<std::unique_ptr<SparseSolver>(const SparseSystem&)> make;
};

/// The program's own first.
std::vector<SparseMethod> sparse_methods();

/// Threads of the program's own solver and of the BLAS, where that has any.
void set_threads(int threads);

/// Name of the BLAS that is loaded, with the kernels it chose.
std::string blas_name();

}  // namespace tuft::experiment
