// Products of dense matrices in vector registers, and small triangles.
// Included through front_kernels_body.hpp, which says why all is local.
#pragma once

#include "solver/sparse/front_kernels.hpp"

namespace tuft::field {
namespace {

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

}  // namespace
}  // namespace tuft::field
