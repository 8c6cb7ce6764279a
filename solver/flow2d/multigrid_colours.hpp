// One grid of the point-smoothed multigrid, its cells kept by colour, and what is done on one row of it.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include "solver/flow2d/multigrid_kernels.hpp"
#include "solver/flow2d/multigrid_level.hpp"
#include "solver/sparse/zeroed.hpp"

namespace tuft::field {

/// Cell values of a red-black grid, either colour apart, so that a half-sweep reads and writes what lies side
/// by side. Cell (i, j) has colour c = (i + j) % 2 and is entry k = i / 2 of row j of that colour; that row
/// starts at i = (j + c) % 2. A ring of ghosts holds 0.
template <class T>
class Coloured {
 public:
  Coloured() = default;
  Coloured(int nx, int ny)
      : stride_(((nx + 1) / 2 + 15) / 16 * 16 + 8),
        plane_(stride_ * (ny + 2)),
        data_(static_cast<std::size_t>(2 * plane_)) {}
  /// Entry 0 of row j of colour c; [-1] and the entry past the last are ghosts, and so are rows -1 and ny.
  T* row(int c, int j) { return data_.data() + c * plane_ + (j + 1) * stride_ + 1; }
  const T* row(int c, int j) const { return data_.data() + c * plane_ + (j + 1) * stride_ + 1; }
  T& at(int i, int j) { return row((i + j) & 1, j)[i >> 1]; }
  T at(int i, int j) const { return row((i + j) & 1, j)[i >> 1]; }
  bool empty() const { return data_.size() == 0; }
  void clear() { std::fill_n(data_.data(), data_.size(), T{}); }
  /// Takes the values of another of the same shape, and stays where it is in memory.
  void copy_values(const Coloured& from) { std::copy_n(from.data_.data(), data_.size(), data_.data()); }
  /// The values as they lie in memory, ghosts included, for sums and products that need no neighbours.
  std::ptrdiff_t lines() const { return stride_ > 0 ? 2 * plane_ / stride_ : 0; }
  std::ptrdiff_t line_size() const { return stride_; }
  T* line(std::ptrdiff_t r) { return data_.data() + r * stride_; }
  const T* line(std::ptrdiff_t r) const { return data_.data() + r * stride_; }

 private:
  std::ptrdiff_t stride_ = 0, plane_ = 0;
  Zeroed<T> data_;
};

/// Weights of the next coarse cell for the cells left (0) and right (1) of a coarse cell's centre, and what
/// is lost of a correction at the two ends of the axis where the rim holds 0 there.
template <class T>
struct CoarseWeights {
  explicit CoarseWeights(std::vector<Between> its_places = {});
  std::vector<T> next[2];
  std::vector<Between> places;
};

template <class T>
struct ColourLevel {
  /// Takes over the coefficients of *level, and its lists of places and rows, which are left empty there.
  explicit ColourLevel(Level* level);
  ColourLevel(ColourLevel&&) = default;

  int nx, ny;
  Coloured<T> solution, rhs;
  /// Row of the coefficients below for rows 0 to ny of cells. Rows with the same coefficients share one: on a
  /// uniform grid, and beside and above blocks, there are few, and they stay in the cache.
  std::vector<int> kept;
  Coloured<T> west, south;  ///< coefficient through the cell's west and south face
  Coloured<T> inverse;      ///< 1 / diagonal, 0 in cells that take no part
  Coloured<T> held;         ///< empty unless some cell is held to 0 by itself
  bool gaps;                ///< some cells take no part
  CoarseWeights<T> in_x, in_y;

  std::size_t cells() const { return static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny); }
  /// Cells of colour c in row j.
  int count(int c, int j) const { return (nx + 1 - ((j + c) & 1)) / 2; }

  /// Row j of colour c of the solution with all that bears on it; the next rows of the colour follow.
  const ColourRow<T>& row(int c, int j) const { return rows_[static_cast<std::size_t>(c * ny + j)]; }
  /// out[k] = rhs - A values of the cells of colour c in row j; 0 in cells that take no part.
  void residual(const Coloured<T>& values, int c, int j, T* out) const;
  /// out[k] = A values.
  void image(const Coloured<T>& values, int c, int j, T* out) const;
  /// Whether cell (i, j) takes part.
  bool part(int i, int j) const { return inverse.row((i + j) & 1, kept_row(j))[i >> 1] > T{}; }
  /// Whether the face at the rim couples to the 0 beyond.
  bool rim_holds_x(int i, int j) const { return west.row((i + j) & 1, kept_row(j))[i >> 1] > T{}; }
  bool rim_holds_y(int i, int j) const { return south.row((i + j) & 1, kept_row(j))[i >> 1] > T{}; }
  int kept_row(int j) const { return kept[static_cast<std::size_t>(j)]; }
  /// Adds the correction of the coarser grid to the cells of row j.
  template <class U>
  void add_correction(const ColourLevel<U>& coarse, int j);
  /// Sums the residual over the cells of row J of the coarser grid into its right-hand side. The other colour
  /// was relaxed last: there the residual is 0. *squares, if asked for (double only), becomes the sum of its
  /// squares.
  template <class U>
  void restrict_residual(int c, int J, ColourLevel<U>* coarse, double* squares) const;

 private:
  template <class U>
  void add_correction_around_gaps(const ColourLevel<U>& coarse, int c, int j);

  std::vector<ColourRow<T>> rows_;
};

extern template struct ColourLevel<double>;
extern template struct ColourLevel<float>;

}  // namespace tuft::field
