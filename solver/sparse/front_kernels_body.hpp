// The dense work inside a front: products in vector registers and small triangles, Gaussian elimination,
// factors packed for solving and the passes over them. Included by each translation unit that builds the
// kernels for one kind of machine. Everything is local to that unit and nothing of the standard library is
// used: a shared inline function compiled for a newer processor might otherwise be the one the linker keeps
// for everybody.
#pragma once

#include "solver/sparse/front_kernels.hpp"

namespace tuft::sparse {
namespace {

// --- products and small triangles

#if defined(__AVX2__)
constexpr int kVectorBytes = 32, kTileVectors = 3;
#else
constexpr int kVectorBytes = 16, kTileVectors = 2;
#endif
constexpr int kTileColumns = 4;
constexpr int kDepth = 256;  // products summed in registers before they are taken off; a packed tile fits L1

template <class T>
struct Lanes {
  typedef T Vector __attribute__((vector_size(kVectorBytes)));
  static constexpr int n = kVectorBytes / static_cast<int>(sizeof(T));
  static constexpr int per_panel = kPanelRows / n;
};
template <class T>
using Vector = typename Lanes<T>::Vector;

template <class T>
inline Vector<T> load(const T* from) {
  Vector<T> v;
  __builtin_memcpy(&v, from, sizeof v);
  return v;
}
template <class T>
inline void store(const Vector<T>& v, T* to) {
  __builtin_memcpy(to, &v, sizeof v);
}
inline int least_of(int a, int b) { return a < b ? a : b; }
template <class T>
inline T size_of(T x) {
  return x < T(0) ? -x : x;
}
using Step = std::ptrdiff_t;

/// c -= a b for a tile of V vectors of rows and N columns, held in registers.
template <class T, int V, int N>
void take_tile(const T* a, Step a_step, const T* b, Step b_step, int depth, T* c, Step c_step) {
  Vector<T> sum[V][N] = {};
  for (int k = 0; k < depth; ++k)
    for (int v = 0; v < V; ++v) {
      const Vector<T> column = load(a + k * a_step + v * Lanes<T>::n);
      for (int n = 0; n < N; ++n) sum[v][n] += column * b[k + n * b_step];
    }
  for (int n = 0; n < N; ++n)
    for (int v = 0; v < V; ++v) {
      T* at = c + n * c_step + v * Lanes<T>::n;
      store<T>(load(at) - sum[v][n], at);
    }
}

template <class T>
using Tile = void (*)(const T*, Step, const T*, Step, int, T*, Step);
template <class T, int V>
constexpr Tile<T> kTiles[kTileColumns] = {take_tile<T, V, 1>, take_tile<T, V, 2>, take_tile<T, V, 3>,
                                          take_tile<T, V, 4>};

/// c -= a b, all three parts of one front; `rows` is rounded up to whole panels.
template <class T>
void take_product(const T* a, const T* b, T* c, Step step, int rows, int columns, int depth) {
  constexpr int tile_rows = kTileVectors * Lanes<T>::n;
  const int all = padded_rows(rows);
  const bool packs = columns >= 16;  // then the copy is soon paid for by fewer misses
  T packed[tile_rows * kDepth];
  for (int k = 0; k < depth; k += kDepth) {
    const int d = least_of(kDepth, depth - k);
    for (int r = 0; r < all; r += tile_rows) {
      const int vectors = least_of(tile_rows, all - r) / Lanes<T>::n;
      const T* left = a + r + k * step;
      if (packs)
        for (int m = 0; m < d; ++m)
          for (int v = 0; v < vectors; ++v)
            store<T>(load(left + m * step + v * Lanes<T>::n), packed + m * tile_rows + v * Lanes<T>::n);
      const Tile<T>* tiles = vectors == 1 ? kTiles<T, 1> : vectors == 2 ? kTiles<T, 2> : kTiles<T, 3>;
      for (int n = 0; n < columns; n += kTileColumns)
        tiles[least_of(kTileColumns, columns - n) - 1](packs ? packed : left, packs ? tile_rows : step,
                                                       b + k + n * step, step, d, c + r + n * step, step);
    }
  }
}

/// x := (I + t)^-1 x for columns of eight numbers, t the strict triangle of a block of eight by eight, by
/// columns: below the diagonal, or above it when `upper`.
template <class T, bool upper>
void solve_small(const T* t, T* x, Step step, int columns) {
  constexpr int vectors = Lanes<T>::per_panel;
  for (int n = 0; n < columns; ++n) {
    Vector<T> own[vectors];
    for (int v = 0; v < vectors; ++v) own[v] = load(x + n * step + v * Lanes<T>::n);
#pragma GCC unroll 8
    for (int m = 0; m < kPanelRows; ++m) {
      const int k = upper ? kPanelRows - 1 - m : m;
      const T found = own[k / Lanes<T>::n][k % Lanes<T>::n];
      for (int v = 0; v < vectors; ++v) own[v] -= load(t + k * kPanelRows + v * Lanes<T>::n) * found;
    }
    for (int v = 0; v < vectors; ++v) store<T>(own[v], x + n * step + v * Lanes<T>::n);
  }
}

/// The strict lower triangle of the first n <= 8 rows and columns at l, zeros elsewhere.
template <class T>
void copy_strict_lower(const T* l, Step step, int n, T* out) {
  for (int c = 0; c < kPanelRows; ++c)
    for (int r = 0; r < kPanelRows; ++r) out[c * kPanelRows + r] = r > c && r < n ? l[r + c * step] : T(0);
}

/// x := L^-1 x for the first n rows, L having a unit diagonal. Later rows stay.
template <class T>
void solve_unit_lower(const T* l, T* x, Step step, int n, int columns) {
  if (n <= kPanelRows) {
    T t[kPanelRows * kPanelRows];
    copy_strict_lower(l, step, n, t);
    solve_small<T, false>(t, x, step, columns);
    return;
  }
  // Whole panels come last, so that taking off the product touches no row beyond them.
  const int last = n < 2 * kPanelRows ? kPanelRows : n / 2 / kPanelRows * kPanelRows, first = n - last;
  solve_unit_lower(l, x, step, first, columns);
  take_product(l + first, x, x + first, step, last, columns, first);
  solve_unit_lower(l + first + first * step, x + first, step, last, columns);
}

// --- elimination

template <class T>
struct Elimination {
  T* a;
  Step step;
  int own, all;
  T least;
  int* swaps;
  int replaced;

  T& at(int r, int c) const { return a[r + c * step]; }

  void swap_rows(int k_begin, int k_end, int c_begin, int c_end) const {
    for (int c = c_begin; c < c_end; ++c) {
      T* column = &at(0, c);
      for (int k = k_begin; k < k_end; ++k) {
        const T kept = column[k];
        column[k] = column[swaps[k]];
        column[swaps[k]] = kept;
      }
    }
  }

  /// Finishes column k, from which all earlier ones have been taken off, and swaps within columns
  /// begin..end.
  void eliminate(int k, int begin, int end) {
    T* column = &at(0, k);
    int best = k;
    for (int r = k + 1; r < own; ++r)
      if (size_of(column[r]) > size_of(column[best])) best = r;
    swaps[k] = best;
    if (best != k) swap_rows(k, k + 1, begin, end);
    if (!(size_of(column[k]) > least)) {
      column[k] = column[k] < T(0) ? -least : least;
      ++replaced;
    }
    const T inverse = T(1) / column[k];
    for (int r = k + 1; r < all; ++r) column[r] *= inverse;
  }

  /// LU of columns begin..end, what stands before them taken off already (recursive, so that nearly all work
  /// is products: Toledo 1997, SIAM J. Matrix Anal. Appl. 18:1065-1081).
  void factor_columns(int begin, int end) {
    if (end - begin > kPanelRows) {
      const int middle = begin + padded_rows((end - begin) / 2);
      factor_columns(begin, middle);
      take_off(begin, middle, middle, end);
      factor_columns(middle, end);
      swap_rows(middle, end, begin, middle);
      return;
    }
    for (int k = begin; k < end; ++k) {
      for (int c = begin; c < k; ++c)
        for (int r = c + 1; r < k; ++r) at(r, k) -= at(r, c) * at(c, k);
      take_product(&at(k, begin), &at(begin, k), &at(k, k), step, all - k, 1, k - begin);
      eliminate(k, begin, end);
    }
  }

  /// Takes the finished columns k_begin..k_end off columns c_begin..c_end.
  void take_off(int k_begin, int k_end, int c_begin, int c_end) const {
    if (c_begin == c_end) return;
    swap_rows(k_begin, k_end, c_begin, c_end);
    solve_unit_lower(&at(k_begin, k_begin), &at(k_begin, c_begin), step, k_end - k_begin, c_end - c_begin);
    take_product(&at(k_end, k_begin), &at(k_begin, c_begin), &at(k_end, c_begin), step, all - k_end,
                 c_end - c_begin, k_end - k_begin);
  }
};

template <class T>
int factor(T* front, int own, int border, T least, int* swaps) {
  Elimination<T> e{front, front_stride(own + border), own, own + border, least, swaps, 0};
  e.factor_columns(0, own);
  e.take_off(0, own, own, own + border);
  return e.replaced;
}

// --- packed factors and passes

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

template <class T>
constexpr FrontKernels<T> kKernels{factor<T>, pack<T>, forward<T>, backward<T>};

}  // namespace
}  // namespace tuft::sparse
