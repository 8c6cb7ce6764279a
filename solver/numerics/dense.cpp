#include "solver/numerics/dense.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <Eigen/QR>
#include <cmath>
#include <utility>

namespace tuft::numerics {

using Eigen::MatrixXd;
using Eigen::VectorXd;

using Eigen::Index;

DenseLu::DenseLu(Index size)
    : factors_(size < kBlockedFrom ? size : 0, size < kBlockedFrom ? size : 0),
      brought_up_(static_cast<std::size_t>(factors_.rows())),
      blocked_(size < kBlockedFrom ? nullptr : std::make_unique<Eigen::PartialPivLU<MatrixXd>>(size)) {}
DenseLu::DenseLu(const Eigen::Ref<const MatrixXd>& matrix) : DenseLu(matrix.rows()) { compute(matrix); }
DenseLu::DenseLu(DenseLu&&) noexcept = default;
DenseLu& DenseLu::operator=(DenseLu&&) noexcept = default;
DenseLu::~DenseLu() = default;

void DenseLu::compute(const Eigen::Ref<const MatrixXd>& matrix) {
  if (matrix.rows() >= kBlockedFrom) {
    if (!blocked_) blocked_ = std::make_unique<Eigen::PartialPivLU<MatrixXd>>(matrix.rows());
    blocked_->compute(matrix);
    return;
  }
  blocked_.reset();
  factors_ = matrix;
  brought_up_.resize(static_cast<std::size_t>(matrix.rows()));
  factor_small();
}

// Column by column: each is brought up to date by the columns before it, so that what its noughts spare is
// known at once. A pivot of nought leaves what is below it as it is: nought as well.
void DenseLu::factor_small() {
  const Index n = factors_.rows();
  for (Index j = 0; j < n; ++j) {
    double* const column = factors_.col(j).data();
    for (Index k = 0; k < j; ++k) std::swap(column[k], column[brought_up_[k]]);
    for (Index k = 0; k < j; ++k) {
      const double multiplier = column[k];
      if (multiplier == 0.0) continue;
      const double* const before = factors_.col(k).data();
      for (Index i = k + 1; i < n; ++i) column[i] -= before[i] * multiplier;
    }
    Index pivot = j;
    for (Index i = j + 1; i < n; ++i)
      if (std::abs(column[i]) > std::abs(column[pivot])) pivot = i;
    brought_up_[j] = pivot;
    if (pivot != j)
      for (Index k = 0; k <= j; ++k) std::swap(factors_(j, k), factors_(pivot, k));
    if (column[j] == 0.0) continue;
    const double inverse = 1.0 / column[j];
    for (Index i = j + 1; i < n; ++i) column[i] *= inverse;
  }
}

VectorXd DenseLu::solve(const Eigen::Ref<const VectorXd>& b) const {
  VectorXd x(b.size());
  solve_into(b, x);
  return x;
}

void DenseLu::solve_into(const Eigen::Ref<const VectorXd>& b, Eigen::Ref<VectorXd> x) const {
  if (blocked_) {
    x = blocked_->solve(b);
    return;
  }
  x = b;
  const Index n = factors_.rows();
  for (Index k = 0; k < n; ++k) std::swap(x[k], x[brought_up_[k]]);
  for (Index k = 0; k < n; ++k)
    if (x[k] != 0.0) x.tail(n - k - 1) -= x[k] * factors_.col(k).tail(n - k - 1);
  for (Index k = n - 1; k >= 0; --k) {
    x[k] /= factors_(k, k);
    if (x[k] != 0.0) x.head(k) -= x[k] * factors_.col(k).head(k);
  }
}

MatrixXd DenseLu::solve_columns(const Eigen::Ref<const MatrixXd>& b) const {
  MatrixXd x(b.rows(), b.cols());
  for (Index column = 0; column < b.cols(); ++column) solve_into(b.col(column), x.col(column));
  return x;
}

double DenseLu::determinant_sign() const {
  double sign = 1.0;
  const auto take = [&sign](const auto& diagonal) {
    for (const double pivot : diagonal) sign = pivot < 0.0 ? -sign : sign;
  };
  if (blocked_) {
    sign = blocked_->permutationP().determinant() > 0 ? 1.0 : -1.0;
    take(blocked_->matrixLU().diagonal());
    return sign;
  }
  for (std::size_t k = 0; k < brought_up_.size(); ++k)
    if (brought_up_[k] != static_cast<Index>(k)) sign = -sign;
  take(factors_.diagonal());
  return sign;
}

MatrixXd cholesky_factor(const Eigen::Ref<const MatrixXd>& symmetric) {
  const Eigen::LLT<MatrixXd> factors(symmetric);
  return factors.info() == Eigen::Success ? MatrixXd(factors.matrixL()) : MatrixXd();
}

FastestMode fastest_mode(const Eigen::Ref<const MatrixXd>& matrix) {
  const Eigen::EigenSolver<MatrixXd> eigen(matrix);
  FastestMode mode;
  Eigen::Index fastest = 0;
  mode.growth = eigen.eigenvalues().real().maxCoeff(&fastest);
  mode.vector = eigen.eigenvectors().col(fastest);
  return mode;
}

AllModes all_modes(const Eigen::Ref<const MatrixXd>& matrix) {
  const Eigen::EigenSolver<MatrixXd> eigen(matrix);
  return {eigen.eigenvalues(), eigen.eigenvectors()};
}

double fastest_growth(const Eigen::Ref<const MatrixXd>& matrix) {
  return Eigen::EigenSolver<MatrixXd>(matrix, false).eigenvalues().real().maxCoeff();
}

MatrixXd kernel(const Eigen::Ref<const MatrixXd>& matrix) {
  const Eigen::ColPivHouseholderQR<MatrixXd> qr(matrix.transpose());
  const MatrixXd q = qr.householderQ();
  return q.rightCols(q.cols() - qr.rank());
}

}  // namespace tuft::numerics
