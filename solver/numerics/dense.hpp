// Factors and eigenvalues of small dense matrices. The templates behind them take seconds to compile, so that
// they are compiled here alone.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <vector>

namespace tuft::numerics {

/// LU factors of a square matrix with partial pivoting. Matrices of networks are small and mostly nought: up
/// to kBlockedFrom rows a column is only subtracted where its multiplier is not nought, which is faster there
/// than a library's factors in blocks.
class DenseLu {
 public:
  /// Room for a matrix of this size, so that `compute` allocates nothing.
  explicit DenseLu(Eigen::Index size = 0);
  explicit DenseLu(const Eigen::Ref<const Eigen::MatrixXd>& matrix);
  DenseLu(DenseLu&&) noexcept;
  DenseLu& operator=(DenseLu&&) noexcept;
  ~DenseLu();

  void compute(const Eigen::Ref<const Eigen::MatrixXd>& matrix);

  /// x of A x = b. Entries are not finite where the matrix is singular.
  Eigen::VectorXd solve(const Eigen::Ref<const Eigen::VectorXd>& b) const;
  /// The same without an allocation; `x` has the size of `b` and is not `b`.
  void solve_into(const Eigen::Ref<const Eigen::VectorXd>& b, Eigen::Ref<Eigen::VectorXd> x) const;
  /// The same for many right-hand sides, one a column.
  Eigen::MatrixXd solve_columns(const Eigen::Ref<const Eigen::MatrixXd>& b) const;

  /// +1 or -1: the sign of the determinant; of no meaning where the matrix is singular.
  double determinant_sign() const;

 private:
  /// There both take as long where a tenth of the entries is not nought (docs/performance.md).
  static constexpr Eigen::Index kBlockedFrom = 128;

  void factor_small();

  // Below kBlockedFrom rows: L below the diagonal, U on it and above, and the row that each step brought up.
  Eigen::MatrixXd factors_;
  std::vector<Eigen::Index> brought_up_;
  std::unique_ptr<Eigen::PartialPivLU<Eigen::MatrixXd>> blocked_;  // from there on
};

/// Lower triangular L with L L' = A for a symmetric A; empty where A is not positive definite.
Eigen::MatrixXd cholesky_factor(const Eigen::Ref<const Eigen::MatrixXd>& symmetric);

/// The eigenvalue with the largest real part, and its vector.
struct FastestMode {
  double growth = 0.0;  ///< real part
  Eigen::VectorXcd vector;
};

/// Of a square matrix with at least one row.
FastestMode fastest_mode(const Eigen::Ref<const Eigen::MatrixXd>& matrix);

/// All eigenvalues of a square matrix with at least one row, and their vectors, one a column, each of
/// length 1.
struct AllModes {
  Eigen::VectorXcd values;
  Eigen::MatrixXcd vectors;
};

AllModes all_modes(const Eigen::Ref<const Eigen::MatrixXd>& matrix);

/// The growth of the fastest mode alone.
double fastest_growth(const Eigen::Ref<const Eigen::MatrixXd>& matrix);

/// Orthonormal columns x with A x = 0, by QR with column pivoting of A'; their number is the dimension of A's
/// kernel.
Eigen::MatrixXd kernel(const Eigen::Ref<const Eigen::MatrixXd>& matrix);

}  // namespace tuft::numerics
