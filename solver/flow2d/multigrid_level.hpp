// One grid of the multigrid hierarchy and what is done on it.
#pragma once

#include <memory>
#include <vector>

#include "solver/flow2d/grid.hpp"
#include "solver/flow2d/multigrid.hpp"
#include "solver/flow2d/multigrid_acceleration.hpp"

namespace tuft::field {

/// Cell values with a ring of ghost cells, so that no kernel asks where it is. Cell (i, j) is at (i + 1, j +
/// 1).
class Padded {
 public:
  Padded() = default;
  Padded(int nx, int ny)
      : stride_(nx + 2), data_(static_cast<std::size_t>(nx + 2) * static_cast<std::size_t>(ny + 2)) {}
  /// Pointer to cell (0, j); [-1] and [nx] are ghosts, and so are rows -1 and ny.
  double* row(int j) { return data_.data() + static_cast<std::ptrdiff_t>(j + 1) * stride_ + 1; }
  const double* row(int j) const { return data_.data() + static_cast<std::ptrdiff_t>(j + 1) * stride_ + 1; }
  void clear() { data_.assign(data_.size(), 0.0); }
  /// The values as they lie in memory, ghosts included, for sums and products that need no neighbours.
  std::ptrdiff_t lines() const {
    return stride_ > 0 ? static_cast<std::ptrdiff_t>(data_.size()) / stride_ : 0;
  }
  std::ptrdiff_t line_size() const { return stride_; }
  double* line(std::ptrdiff_t r) { return data_.data() + r * stride_; }
  const double* line(std::ptrdiff_t r) const { return data_.data() + r * stride_; }

 private:
  std::ptrdiff_t stride_ = 0;
  std::vector<double> data_;
};

/// Where a fine cell's centre lies between coarse ones along an axis: nearest coarse cell, the next best, and
/// the weight of the latter.
struct Between {
  int near = 0, next = 0;
  double weight = 0.0;
  double rim = 0.0;  ///< weight of the value 0 at the rim, where the rim holds it
};

struct Level {
  Level(Axis x_axis, Axis y_axis, std::shared_ptr<const PressureEquation> its_equation);

  Axis x, y;
  int nx, ny;
  std::shared_ptr<const PressureEquation> equation;
  /// Rows of cells that all others are like in their coefficients, and which of these (a place in the list)
  /// each row is like: an even row like an even one, an odd like an odd. kept[ny] is the length of the list.
  std::vector<int> distinct, kept;
  bool holds = false;               ///< some cells are held to 0 by themselves
  bool gaps = false;                ///< some cells take no part
  bool open = true;                 ///< every cell is joined to all its neighbours
  bool stretched = false;           ///< coefficients of the two directions differ a lot in some cell
  std::vector<Between> in_x, in_y;  ///< this level's cells among the next coarser level's

  // Line smoother only, from add_lines() on.
  Padded solution, rhs;
  Padded inverse;         ///< 1 / diagonal, 0 in cells that take no part
  Padded line_x, line_y;  ///< inverse pivots of the lines through each cell

  /// Coefficients through the west faces of row j, [nx] the last east face; and through its south faces.
  const double* west(int j) const { return equation->ax.row(j); }
  const double* south(int j) const { return equation->ay.row(j); }
  /// Null where no cell is held by itself.
  const double* held(int j) const { return holds ? equation->held.row(j) : nullptr; }
  double diagonal(int i, int j) const {
    return west(j)[i] + west(j)[i + 1] + south(j)[i] + south(j + 1)[i] + (holds ? held(j)[i] : 0.0);
  }
  std::size_t cells() const { return static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny); }
  /// Whether two rows have the same coefficients all around.
  bool same_rows(int a, int b) const;
  /// What the line smoother needs besides.
  void add_lines();

  /// One sweep of lines along x and along y; `forward` false runs them the other way round.
  void smooth(bool forward);
  /// residual = rhs - A solution, restricted (summed over each coarse cell) into coarse->rhs.
  void restrict_residual(Level* coarse) const;
  /// solution += interpolated coarse.solution.
  void add_correction(const Level& coarse);
  /// out = rhs - A solution; zero where cells take no part.
  void residual(Padded* out) const;

  /// image = A d, zero where cells take no part, with two products in a fixed order.
  Products apply(const Padded& d, Padded* image) const;

 private:
  void survey();
  void find_distinct_rows();
  void add_correction_around_gaps(const Level& coarse);
  void smooth_lines_x(bool forward);
  void smooth_lines_y(bool forward);
};

/// The next coarser level: two by two cells made one, coefficients through a coarse face from the fine faces
/// on it.
Level coarser(Level* fine);

/// Whether all cells that would be made one are joined among themselves. A thin wall inside a coarse cell
/// would be lost, and with it the difference between its two sides.
bool may_coarsen(const Level& level);

}  // namespace tuft::field
