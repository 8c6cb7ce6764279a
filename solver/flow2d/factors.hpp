// The preconditioner of the coupled steps: factors of the layers' matrix, bordered by the few unknowns beside
// it.
#pragma once

#include <vector>

#include "solver/flow2d/slopes.hpp"
#include "solver/flow2d/system.hpp"
#include "solver/numerics/dense.hpp"
#include "solver/sparse/block_lu.hpp"

namespace tuft::flow2d {

/// Approximates the inverse of D/C - J of a FlowSystem, scaled by its rows and columns (F25):
///
///     [A B; C E]^-1,  A: compact Jacobians of the layers and slopes of the cell openings,
///
/// A as a whole, or where the flow asks for `factors_apart` by block Gauss-Seidel: the flow of one layer
/// after another, then the temperatures of one after another, each factored by itself. What leads back (a
/// later layer into an earlier one, temperatures into the flow) is left to GMRES. The border is exact for
/// that A, through the Schur complement E - C A^-1 B.
class Factors {
 public:
  /// `system` must outlive the object.
  explicit Factors(const FlowSystem& system);

  /// Takes the matrix at `fields` (evaluated last), with `inertia` over `courant` on the diagonal. Rows::flow
  /// leaves the temperatures alone, and so do solves then; Rows::heat keeps the factors of the flow as they
  /// were taken last, at the same scales.
  void factor(const Fields& fields, const std::vector<double>& inertia, double courant, FlowSystem* system,
              Rows rows = Rows::all);

  /// *out := approximate inverse times `in`; both scaled.
  void solve(const std::vector<double>& in, std::vector<double>* out) const;

  /// Takes the slopes that the compact Jacobian has no place for, at the fields it was factored at, into the
  /// products below, until it is factored anew.
  void take_far(const Fields& fields, const FlowSystem& system);

  /// *out := D/C - J of the compact Jacobian as factored last, times `in`; both scaled. After `take_far` J is
  /// exact where convection is upwind or central and there are no eddies. The slight leak that keeps A
  /// regular is not in it. Only after Rows::all.
  void multiply(const std::vector<double>& in, std::vector<double>* out) const;

  /// A as factored last: the unknowns of the layers in the system's order, each row over its largest entry.
  const sparse::SparsePattern& pattern() const { return pattern_; }
  const std::vector<double>& values() const { return values_; }

 private:
  /// Entry of C, scaled: what a scaled change of a cell adds to the balance of an unknown beside the cells.
  struct OwnEntry {
    int own, cell;
    double value;
  };

  /// Entry of B, scaled.
  struct BesideEntry {
    int cell, own;
    double value;
  };

  std::size_t entry(int row, int column) const;
  void add_layers(const Fields& fields, Rows rows, FlowSystem* system, std::vector<double>* values);
  void set_border(const Fields& fields, FlowSystem* system);
  void set_columns_beside(const Fields& fields, FlowSystem* system, Eigen::MatrixXd* own);
  void keep_beside();
  void add_taken(const double* cells, double* own) const;

  int n_cells_ = 0, n_own_ = 0, n_layers_ = 0;
  int end_ = -1;               ///< blocks in use
  std::vector<char> is_heat_;  ///< rows
  sparse::SparsePattern pattern_;
  std::vector<std::vector<int>> layer_entries_;  ///< of the layers' own patterns in the joint one
  std::vector<CellRef> loose_;
  sparse::BlockLu lu_;
  std::vector<double> equalised_;
  std::vector<OwnEntry> by_cells_;  ///< -C
  std::vector<BesideEntry> beside_;
  std::vector<FarSlope> between_;  ///< momentum of one layer by the cells of another
  std::vector<FarSlope> far_;      ///< scaled as D/C - J is
  std::vector<int> leaks_;         ///< unknowns that the slight leak acts on
  Eigen::MatrixXd own_;            ///< E
  std::vector<double> values_;     ///< of A, and
  std::vector<double> columns_;    ///< B, then A^-1 B, a column an own unknown: kept for their memory
  std::vector<float> border_;      ///< A^-1 B, no more exact than the fronts; half as much to read
  numerics::DenseLu schur_;
};

}  // namespace tuft::flow2d
