// Eigenvalues of a large matrix that is known by its products alone.
#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "solver/sparse/gmres.hpp"

namespace tuft::sparse {

/// An approximate eigenvalue: |A x - value x| = `residual` |x| for an x in the space that products span.
struct RitzValue {
  std::complex<double> value;
  double residual = 0.0;
};

/// Arnoldi's method (Saad 1980, Linear Algebra Appl. 34:269-295, from memory), one product after another,
/// without a restart: after each of them all that is known of the eigenvalues can be looked at. Sums run in
/// a fixed order.
class Arnoldi {
 public:
  /// `start` is not 0.
  explicit Arnoldi(std::vector<double> start);

  /// One product more. False: the space holds no further direction, and its eigenvalues are exact.
  bool step(const VectorMap& apply);

  int steps() const { return static_cast<int>(columns_.size()); }
  std::vector<RitzValue> ritz_values() const;
  /// Real part of the approximate eigenvector of ritz_values()[k].
  std::vector<double> vector_of(int k) const;

 private:
  Eigen::MatrixXd projected() const;

  std::vector<std::vector<double>> basis_;    ///< orthonormal
  std::vector<std::vector<double>> columns_;  ///< of the matrix on it, each one entry longer than the last
};

}  // namespace tuft::sparse
