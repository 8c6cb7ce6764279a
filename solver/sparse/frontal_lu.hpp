// A direct solver for sparse matrices that live on a grid: nested dissection and dense fronts.
#pragma once

#include <memory>
#include <vector>

namespace tuft::sparse {

/// A part of a store.
template <class T>
struct Span {
  T* first;
  T* last;
  T* begin() const { return first; }
  T* end() const { return last; }
};

/// Rows of a sparse matrix, compressed; the pattern must be symmetric in structure or is treated as if it
/// were.
struct SparsePattern {
  std::vector<int> row_start;  ///< n+1
  std::vector<int> column;     ///< of each entry, row by row
  int n() const { return static_cast<int>(row_start.size()) - 1; }
  /// Columns of a row's entries.
  Span<const int> row(int r) const {
    return {column.data() + row_start[r], column.data() + row_start[r + 1]};
  }
};

/// Where an unknown lives, and what it is.
struct UnknownPlace {
  int x = 0, y = 0;       ///< cell
  bool pressure = false;  ///< its own row is a mass balance, with nothing on the diagonal
  bool face = false;      ///< a velocity
};

/// LU factors of a matrix whose unknowns sit in the cells of an nx by ny grid and couple to the cells around
/// them (corner neighbours included), any number of unknowns a cell.
///
/// Nested dissection (George 1973, SIAM J. Numer. Anal. 10:345-363) with the multifrontal method (Duff & Reid
/// 1983, ACM Trans. Math. Softw. 9:302-325): about n^3 work and n^2 log n memory for n = max(nx, ny). Rows
/// are interchanged within a front only. A group of cells closed on all sides would leave its pressure level
/// undetermined inside its front; one pressure of it is therefore eliminated further up the tree, where the
/// group is open again.
///
/// Scalar is float for a preconditioner (half the memory and time), double for a solve to round-off.
template <class Scalar>
class FrontalLu {
 public:
  FrontalLu(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, int nx, int ny);
  ~FrontalLu();
  FrontalLu(FrontalLu&&) noexcept;
  FrontalLu& operator=(FrontalLu&&) noexcept;

  /// Factors the matrix with these entries (in the pattern's order). Returns the number of pivots that had to
  /// be replaced because they vanished: 0 for a matrix that is safely regular.
  int factor(const std::vector<double>& values);

  /// x := A^-1 x, for `columns` right-hand sides one after another in x: the factors are read once for all.
  /// @pre factor() was called.
  void solve(std::vector<double>* x, int columns = 1) const;

  /// The same within larger vectors: unknown k is entry numbers[k] of each, `numbers` as given to
  /// set_numbers. All other entries stay.
  void solve(const std::vector<double*>& right_sides) const;
  void set_numbers(const std::vector<int>& numbers);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tuft::sparse
