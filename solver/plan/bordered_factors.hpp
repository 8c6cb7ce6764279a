// The preconditioner of the coupled steps: factors of the layers' matrix, bordered by the few unknowns beside
// it.
#pragma once

#include <Eigen/LU>
#include <vector>

#include "solver/field/frontal_lu.hpp"
#include "solver/plan/layer_system.hpp"

namespace tuft::plan {

/// Approximates the inverse of D/C - J of a LayerSystem, scaled by its rows and columns (F25):
///
///     [A B; C E]^-1,  A: compact Jacobians of the layers and slopes of the cell openings, factored;
///                     the rest by differences, through the Schur complement E - C A^-1 B.
class BorderedFactors {
 public:
  explicit BorderedFactors(const LayerSystem& system, const Model& model);

  /// Takes the matrix at `fields` (evaluated last), with `inertia` over `courant` on the diagonal.
  void factor(const Fields& fields, const std::vector<double>& inertia, double courant, LayerSystem* system);

  /// *out := approximate inverse times `in`; both scaled.
  void solve(const std::vector<double>& in, LayerSystem* system, std::vector<double>* out) const;

 private:
  std::size_t entry(int row, int column) const;
  void add_layers(const Fields& fields, LayerSystem* system, std::vector<double>* values) const;
  void set_border(const Fields& fields, LayerSystem* system);
  std::vector<double> solve_cells(const std::vector<double>& scaled) const;
  std::vector<double> own_change(const std::vector<double>& cells, LayerSystem* system) const;

  field::SparsePattern pattern_;
  std::vector<std::vector<int>> layer_entries_;  ///< of the layers' own patterns in the joint one
  std::vector<CellRef> loose_;
  field::FrontalLu<float> lu_;
  std::vector<double> equalised_;
  Fields at_;                                ///< where the matrix was taken
  std::vector<std::vector<double>> border_;  ///< A^-1 B, a column an own unknown
  Eigen::PartialPivLU<Eigen::MatrixXd> schur_;
};

}  // namespace tuft::plan
