// The dense work inside the fronts of FrontalLu, built for plain and for wide vector registers.
#pragma once

#include <cstddef>

namespace tuft::sparse {

// Sizes, static so that every translation unit keeps its own: front_kernels_body.hpp says why.

/// Rows are stored and worked on eight at a time.
constexpr int kPanelRows = 8;
static constexpr int padded_rows(int rows) { return (rows + kPanelRows - 1) / kPanelRows * kPanelRows; }

/// Numbers from one column of a front to the next: at least kPanelRows beyond the rows, which the kernels
/// read and write and which hold zeros. An odd number of panels, so that columns don't fall on each other in
/// the cache.
static constexpr int front_stride(int rows) {
  return (padded_rows(rows) / kPanelRows / 2 * 2 + 3) * kPanelRows;
}

/// Numbers packed for the pass forward: of each panel of rows, all columns eliminated before it, and the
/// inverse of the diagonal block where it is one of the front's own.
static constexpr std::size_t lower_size(int own, int border) {
  std::size_t sum = static_cast<std::size_t>(padded_rows(border)) * static_cast<std::size_t>(own);
  for (int k = 0; k < own; k += kPanelRows) sum += static_cast<std::size_t>(kPanelRows * (k + kPanelRows));
  return sum;
}
/// Numbers packed for the pass backward: of each panel of the front's own rows the inverse of the diagonal
/// block and all later columns.
static constexpr std::size_t upper_size(int own, int border) {
  std::size_t sum = 0;
  for (int k = 0; k < own; k += kPanelRows) {
    const int after = own - k > kPanelRows ? own - k - kPanelRows : 0;
    sum += static_cast<std::size_t>(kPanelRows * (kPanelRows + after + border));
  }
  return sum;
}

/// Numbers a right-hand side needs in a front: what arrives at its own rows, their solution, the border's;
/// the first two of padded_rows(own), the last of padded_rows(border).
static constexpr int workspace_size(int own, int border) {
  return 2 * padded_rows(own) + padded_rows(border);
}

/// One build of the kernels. A front is a square matrix by columns, `own` rows and columns to be eliminated
/// before `border` that are left, a column every front_stride(own + border).
template <class Scalar>
struct FrontKernels {
  /// Factors the own part in place, rows interchanged among own rows (swaps[k] >= k is the row taken for row
  /// k), and takes what it leaves off the border's part. Pivots not above `least` in size are replaced by it;
  /// returns how many were.
  int (*factor)(Scalar* front, int own, int border, Scalar least, int* swaps);
  /// Copies a factored front into lower_size and upper_size numbers, in the order of the passes.
  void (*pack)(const Scalar* front, int own, int border, Scalar* lower, Scalar* upper);
  /// For each of `columns` workspaces one after another: own := L^-1 P arrived, border -= L_border own.
  /// `rows` holds the row of the matrix that stands in each place after all interchanges.
  void (*forward)(const Scalar* lower, const int* rows, int own, int border, Scalar* workspace, int columns);
  /// For each workspace: own := U^-1 (own - U_border border).
  void (*backward)(const Scalar* upper, int own, int border, Scalar* workspace, int columns);
};

/// Kernels any machine runs.
template <class Scalar>
const FrontKernels<Scalar>& baseline_kernels();

/// Kernels for AVX2 and fused multiply-add, null where this build or this machine has none. They round
/// differently from the others in the last places.
template <class Scalar>
const FrontKernels<Scalar>* wide_kernels();

}  // namespace tuft::sparse
