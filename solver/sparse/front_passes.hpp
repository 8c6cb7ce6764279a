// Factors of a front packed for solving, and the passes over them.
// Included through front_kernels_body.hpp, which says why all is local.
#pragma once

#include "solver/sparse/front_tiles.hpp"

namespace tuft::field {
namespace {

/// Copies the eight numbers at `from`, the first `rows` of them, zeros after.
template <class T>
T* copy_panel(const T* from, int rows, T* to) {
  for (int r = 0; r < kPanelRows; ++r) to[r] = r < rows ? from[r] : T(0);
  return to + kPanelRows;
}

/// Inverse of the unit lower, or of the upper triangle at l, n <= 8 rows; of the unit matrix beyond.
template <class T>
T* invert_lower(const T* l, Step step, int n, T* out) {
  T t[kPanelRows * kPanelRows];
  copy_strict_lower(l, step, n, t);
  for (int k = 0; k < kPanelRows * kPanelRows; ++k) out[k] = k % (kPanelRows + 1) == 0 ? T(1) : T(0);
  solve_small<T, false>(t, out, kPanelRows, kPanelRows);
  return out + kPanelRows * kPanelRows;
}
template <class T>
T* invert_upper(const T* u, Step step, int n, T* out) {
  T t[kPanelRows * kPanelRows], inverse[kPanelRows];
  for (int r = 0; r < kPanelRows; ++r) inverse[r] = r < n ? T(1) / u[r + r * step] : T(1);
  for (int c = 0; c < kPanelRows; ++c)
    for (int r = 0; r < kPanelRows; ++r) {
      t[c * kPanelRows + r] = r < c && c < n ? u[r + c * step] * inverse[r] : T(0);
      out[c * kPanelRows + r] = r == c ? inverse[r] : T(0);
    }
  solve_small<T, true>(t, out, kPanelRows, kPanelRows);
  return out + kPanelRows * kPanelRows;
}

template <class T>
void pack(const T* front, int own, int border, T* lower, T* upper) {
  const int all = own + border;
  const Step step = front_stride(all);
  for (int k = 0; k < own; k += kPanelRows) {
    for (int c = 0; c < k; ++c) lower = copy_panel(front + k + c * step, own - k, lower);
    lower = invert_lower(front + k + k * step, step, least_of(kPanelRows, own - k), lower);
  }
  for (int k = own; k < all; k += kPanelRows)
    for (int c = 0; c < own; ++c) lower = copy_panel(front + k + c * step, all - k, lower);
  for (int k = padded_rows(own) - kPanelRows; k >= 0; k -= kPanelRows) {
    for (int c = least_of(k + kPanelRows, own); c < all; ++c)
      upper = copy_panel(front + k + c * step, own - k, upper);
    upper = invert_upper(front + k + k * step, step, least_of(kPanelRows, own - k), upper);
  }
}

/// y := y - m x in eight rows of N right-hand sides, m a panel of so many columns: what is bound by memory.
/// y := m x when `fresh`. Of one right-hand side four sums run side by side, since each waits for itself.
template <class T, int N, bool fresh>
const T* panel_product(const T* m, int columns, const T* x, T* y, Step step) {
  constexpr int vectors = Lanes<T>::per_panel, sums = N == 1 ? 4 : 1;
  Vector<T> sum[N][sums][vectors] = {};
  int c = 0;
  for (; c + sums <= columns; c += sums)
    for (int s = 0; s < sums; ++s, m += kPanelRows)
      for (int v = 0; v < vectors; ++v) {
        const Vector<T> column = load(m + v * Lanes<T>::n);
        for (int n = 0; n < N; ++n) sum[n][s][v] += column * x[c + s + n * step];
      }
  for (; c < columns; ++c, m += kPanelRows)
    for (int v = 0; v < vectors; ++v) {
      const Vector<T> column = load(m + v * Lanes<T>::n);
      for (int n = 0; n < N; ++n) sum[n][0][v] += column * x[c + n * step];
    }
  for (int n = 0; n < N; ++n)
    for (int v = 0; v < vectors; ++v) {
      T* at = y + n * step + v * Lanes<T>::n;
      Vector<T> total = sum[n][0][v];
      for (int s = 1; s < sums; ++s) total += sum[n][s][v];
      store<T>(fresh ? total : load(at) - total, at);
    }
  return m;
}

template <class T, int N>
void forward_some(const T* lower, const int* rows, int own, int border, T* arrived, Step step) {
  T* found = arrived + padded_rows(own);
  T* beyond = found + padded_rows(own);
  for (int k = 0; k < own; k += kPanelRows) {
    const int n_rows = least_of(kPanelRows, own - k);
    for (int n = 0; n < N; ++n)
      for (int r = 0; r < kPanelRows; ++r)
        found[k + r + n * step] = r < n_rows ? arrived[rows[k + r] + n * step] : T(0);
    lower = panel_product<T, N, false>(lower, k, found, found + k, step);
    // The inverse may write where it reads: all its sums come first.
    lower = panel_product<T, N, true>(lower, kPanelRows, found + k, found + k, step);
  }
  for (int k = 0; k < border; k += kPanelRows)
    lower = panel_product<T, N, false>(lower, own, found, beyond + k, step);
}

template <class T, int N>
void backward_some(const T* upper, int own, int border, T* found, Step step) {
  const T* beyond = found + padded_rows(own);
  for (int k = padded_rows(own) - kPanelRows; k >= 0; k -= kPanelRows) {
    const int after = own - least_of(k + kPanelRows, own);
    upper = panel_product<T, N, false>(upper, after, found + k + kPanelRows, found + k, step);
    upper = panel_product<T, N, false>(upper, border, beyond, found + k, step);
    upper = panel_product<T, N, true>(upper, kPanelRows, found + k, found + k, step);
  }
}

template <class T>
void forward(const T* lower, const int* rows, int own, int border, T* workspace, int columns) {
  const Step step = workspace_size(own, border);
  int n = 0;
  for (; n + 4 <= columns; n += 4) forward_some<T, 4>(lower, rows, own, border, workspace + n * step, step);
  for (; n < columns; ++n) forward_some<T, 1>(lower, rows, own, border, workspace + n * step, step);
}

template <class T>
void backward(const T* upper, int own, int border, T* workspace, int columns) {
  const Step step = workspace_size(own, border);
  T* found = workspace + padded_rows(own);
  int n = 0;
  for (; n + 4 <= columns; n += 4) backward_some<T, 4>(upper, own, border, found + n * step, step);
  for (; n < columns; ++n) backward_some<T, 1>(upper, own, border, found + n * step, step);
}

}  // namespace
}  // namespace tuft::field
