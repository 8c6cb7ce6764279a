// Gaussian elimination inside a front.
// Included through front_kernels_body.hpp, which says why all is local.
#pragma once

#include "solver/sparse/front_tiles.hpp"

namespace tuft::field {
namespace {

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

}  // namespace
}  // namespace tuft::field
