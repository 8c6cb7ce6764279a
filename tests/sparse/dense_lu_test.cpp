// Dense factors: small matrices that are mostly nought and large ones, against the matrix itself.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "solver/numerics/dense.hpp"

using tuft::numerics::DenseLu;

namespace {

// Regular, with a share of entries that are not nought and noughts on the diagonal too: rows have to change.
Eigen::MatrixXd matrix_of(int size, double filled, std::mt19937& random) {
  std::uniform_real_distribution<double> any(-1.0, 1.0), chance(0.0, 1.0);
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(size, size);
  for (int column = 0; column < size; ++column) {
    for (int row = 0; row < size; ++row)
      if (chance(random) < filled) matrix(row, column) = any(random);
    matrix((column + 1) % size, column) = 3.0 + filled * size;
  }
  return matrix;
}

}  // namespace

TEST_CASE("dense factors solve what they were made of") {
  std::mt19937 random(7);
  for (const int size : {1, 2, 3, 17, 60, 127, 128, 150})
    for (const double filled : {0.0, 0.1, 1.0}) {
      CAPTURE(size, filled);
      const Eigen::MatrixXd matrix = matrix_of(size, filled, random);
      DenseLu lu(5);  // room for another size
      lu.compute(matrix);
      const Eigen::MatrixXd right = Eigen::MatrixXd::Random(size, 2);
      const Eigen::MatrixXd found = lu.solve_columns(right);
      CHECK((matrix * found - right).cwiseAbs().maxCoeff() < 1e-12);
      CHECK((lu.solve(right.col(1)) - found.col(1)).cwiseAbs().maxCoeff() == 0.0);
    }
}

TEST_CASE("the sign of a determinant counts the rows that changed") {
  // A cycle of n rows is n - 1 exchanges; a factor of -1 in one column turns the sign.
  for (const int size : {2, 3, 4, 130, 131}) {
    CAPTURE(size);
    Eigen::MatrixXd cycle = Eigen::MatrixXd::Zero(size, size);
    for (int i = 0; i < size; ++i) cycle((i + 1) % size, i) = 1.0 + i;
    const double sign = size % 2 == 1 ? 1.0 : -1.0;
    CHECK(DenseLu(cycle).determinant_sign() == sign);
    cycle.col(0) *= -1.0;
    CHECK(DenseLu(cycle).determinant_sign() == -sign);
  }
}

TEST_CASE("a singular matrix gives what is not finite") {
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(4, 4);
  matrix.col(2) = matrix.col(1);
  CHECK_FALSE(DenseLu(matrix).solve(Eigen::VectorXd::Ones(4)).allFinite());
  matrix.setZero();
  CHECK_FALSE(DenseLu(matrix).solve(Eigen::VectorXd::Zero(4)).allFinite());
}
