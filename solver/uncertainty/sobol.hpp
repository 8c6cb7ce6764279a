// Sobol' sequences: points that fill the unit cube more evenly than random ones.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {

/// Largest number of dimensions: as many as have been checked against a second transcription of the direction
/// numbers.
constexpr int kMostDimensions = 481;

/// A Sobol' sequence in base 2 (D1), plain or scrambled (D2). Every point can be asked for by its number, in
/// any order. The first 2^m points hold exactly one in each of the 2^m equal slices of every axis, scrambled
/// or not.
class Sobol {
 public:
  /// The plain sequence, in the order of the Gray code; point 0 is the origin.
  /// Throws std::invalid_argument unless 1 <= dimensions <= kMostDimensions.
  explicit Sobol(int dimensions);

  /// The same, scrambled: every coordinate is uniform by itself, and sequences of different seeds are
  /// independent replicates.
  Sobol(int dimensions, std::uint64_t seed);

  int dimensions() const { return dimensions_; }

  /// Coordinate `dimension` of point `index` as a binary fraction of 32 digits. Throws std::invalid_argument
  /// unless index < 2^32 and 0 <= dimension < dimensions().
  std::uint32_t bits(std::uint64_t index, int dimension) const;

  /// The same as a number in (0, 1): the middle of the fraction's last digit, never an end.
  double at(std::uint64_t index, int dimension) const {
    return (static_cast<double>(bits(index, dimension)) + 0.5) * 0x1p-32;
  }

  /// Writes the `dimensions()` coordinates of a point.
  void point(std::uint64_t index, double* out) const;

  /// Points first .. first + count - 1, shared among threads. Throws std::invalid_argument if `count` is
  /// negative or a number reaches 2^32.
  SampleMatrix points(std::uint64_t first, int count) const;

 private:
  int dimensions_ = 0;
  bool scrambled_ = false;
  std::vector<std::uint32_t> direction_;  ///< 32 a dimension, in the order of the index's bits
  std::vector<std::uint64_t> key_;        ///< one a dimension, of the scrambling
};

}  // namespace tuft::uncertainty
