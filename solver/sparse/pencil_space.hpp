// Eigenvalues of a pair of large matrices that are known by their products alone.
#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "solver/sparse/gmres.hpp"

namespace tuft::sparse {

/// An approximate solution of M x = v K x in a space of directions.
struct PencilPair {
  std::complex<double> value;   ///< v
  Eigen::VectorXcd directions;  ///< x, as parts of the directions
  Eigen::VectorXcd images;      ///< K x, as parts of their images; of length 1
};

/// A large vector, or none of an imaginary part.
struct ComplexVector {
  std::vector<double> real, imaginary;
  double length() const;
};

/// Directions, and the eigenvalues v that M x = v K x has in the space they span: M x - v K x is
/// perpendicular to all images K x. These are the Ritz values of M K^-1 (Saad 1980, Linear Algebra Appl.
/// 34:269-295, from memory) in the space of the images. No system with K is solved for them: whatever the
/// directions are, what is left of a pair is known exactly, and only that is an error. Infinite eigenvalues
/// of the reciprocal problem are v = 0 and disturb nothing. Directions and images are kept in single
/// precision; sums run in a fixed order.
class PencilSpace {
 public:
  /// Takes a direction with its products by K and M. `transposed` multiplies by M transposed. False: the
  /// image lies in the space already, and the direction is left out.
  bool add(const std::vector<double>& direction, std::vector<double> image,
           const std::vector<double>& product, const VectorMap& transposed);

  int size() const { return static_cast<int>(directions_.size()); }
  std::vector<PencilPair> pairs() const;
  ComplexVector vector_of(const PencilPair& pair) const;  ///< x
  ComplexVector image_of(const PencilPair& pair) const;   ///< K x

 private:
  using Stored = std::vector<std::vector<float>>;
  static std::vector<double> dots(const Stored& with, const std::vector<double>& v);
  static ComplexVector sum_of(const Stored& parts, const Eigen::VectorXcd& weights);
  static void subtract(const Stored& parts, const std::vector<double>& weights, std::vector<double>* v);

  Stored directions_;
  Stored images_;                            ///< made orthonormal, one after another
  std::vector<std::vector<double>> shares_;  ///< of those in the image of each direction
  Eigen::MatrixXd projected_;                ///< images' products with M times the directions
};

}  // namespace tuft::sparse
