#include "solver/numerics/dense.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <Eigen/QR>

namespace tuft::numerics {

using Eigen::MatrixXd;
using Eigen::VectorXd;

DenseLu::DenseLu(Eigen::Index size) : lu_(std::make_unique<Eigen::PartialPivLU<MatrixXd>>(size)) {}
DenseLu::DenseLu(const Eigen::Ref<const MatrixXd>& matrix) : DenseLu(matrix.rows()) { compute(matrix); }
DenseLu::DenseLu(DenseLu&&) noexcept = default;
DenseLu& DenseLu::operator=(DenseLu&&) noexcept = default;
DenseLu::~DenseLu() = default;

void DenseLu::compute(const Eigen::Ref<const MatrixXd>& matrix) { lu_->compute(matrix); }

VectorXd DenseLu::solve(const Eigen::Ref<const VectorXd>& b) const { return lu_->solve(b); }

void DenseLu::solve_into(const Eigen::Ref<const VectorXd>& b, Eigen::Ref<VectorXd> x) const {
  x = lu_->solve(b);
}

MatrixXd DenseLu::solve_columns(const Eigen::Ref<const MatrixXd>& b) const { return lu_->solve(b); }

double DenseLu::determinant_sign() const {
  double sign = lu_->permutationP().determinant() > 0 ? 1.0 : -1.0;
  for (const double pivot : lu_->matrixLU().diagonal()) sign = pivot < 0.0 ? -sign : sign;
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
