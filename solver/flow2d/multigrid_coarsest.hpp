// The coarsest grid, solved directly, and the bodies of cells whose level is free.
#pragma once

#include <memory>
#include <vector>

#include "solver/flow2d/array2.hpp"
#include "solver/sparse/frontal_lu.hpp"
#include "solver/flow2d/multigrid_level.hpp"

namespace tuft::field {

/// Bodies of connected cells that nothing holds.
struct FloatingBodies {
  Array2T<int> label;  ///< body of each cell, -1: none; empty where all cells are alike
  int count = 0;

  int of(int i, int j) const { return label.empty() ? count - 1 : label(i, j); }
};

FloatingBodies find_floating_bodies(const Level& level);

/// Mean of the values over every body.
std::vector<double> body_means(const FloatingBodies& bodies, const Array2& values);
/// Takes every body's mean out of its values.
void remove_means(const FloatingBodies& bodies, Array2* values);

/// One cell of every floating body is set to 0.
class Coarsest {
 public:
  explicit Coarsest(const Level& level);
  /// Cells that are solved for, as i + nx j; values() holds their right-hand sides before solve() and the
  /// solution after. All other cells are 0.
  const std::vector<int>& cells() const { return cells_; }
  std::vector<double>& values() { return values_; }
  void solve();

 private:
  std::vector<int> cells_;
  std::vector<double> values_;
  // One of the two: the inverse, row by row, of a small matrix; the factors of a larger one.
  std::vector<double> inverse_, product_;
  std::unique_ptr<FrontalLu<double>> lu_;
};

}  // namespace tuft::field
