#include "solver/flow2d/multigrid_kernels.hpp"

#include <algorithm>
#include <cstring>

// Where the loader can choose among versions of a function, these are built for wider vectors as well. No sum
// runs along a row and nothing is contracted (-ffp-contract=off), so that every version gives the same bytes.
#if defined(__x86_64__) && defined(__gnu_linux__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define TUFT_WIDE __attribute__((target_clones("default", "avx2", "arch=skylake-avx512")))
#else
#define TUFT_WIDE
#endif

namespace tuft::field {
namespace {

/// What a cell asks for, by what `set` makes of it.
template <class T, class Set>
[[gnu::always_inline]] inline void relax_by(const ColourRow<T>& row, const T* ahead, const Set& set) {
  const T *aw = row.coefficients.west, *ae = row.coefficients.east, *as = row.coefficients.south,
          *an = row.coefficients.north;
  const T *xw = row.neighbours.west, *xe = row.neighbours.east, *xs = row.neighbours.south,
          *xn = row.neighbours.north;
  const T *b = row.rhs, *inverse = row.inverse;
  T* s = row.solution;
  const auto group = [&](int begin, int n) {
#pragma omp simd
    for (int k = begin; k < begin + n; ++k)
      s[k] =
          set(s[k], inverse[k] * (b[k] + (aw[k] * xw[k] + ae[k] * xe[k]) + (as[k] * xs[k] + an[k] * xn[k])));
  };
  if (ahead == nullptr) {
    group(0, row.padded / relaxed_together * relaxed_together);
    return;
  }
  constexpr int line = 64 / static_cast<int>(sizeof(T));
  for (int k = 0; k < row.padded; k += line) {
    __builtin_prefetch(ahead + k, 0, 3);
    group(k, std::min(line, row.padded - k) / relaxed_together * relaxed_together);
  }
}

template <class T>
[[gnu::always_inline]] inline void relax_from_zero(const ColourRow<T>& row, T share) {
  const T *b = row.rhs, *inverse = row.inverse;
  T* s = row.solution;
  const int n = row.padded / relaxed_together * relaxed_together;
#pragma omp simd
  for (int k = 0; k < n; ++k) s[k] = share * (inverse[k] * b[k]);
}

template <class T>
[[gnu::always_inline]] inline void image(int n, const Around<T>& a, const Around<T>& x, const T* s, T* out) {
  const T *aw = a.west, *ae = a.east, *as = a.south, *an = a.north;
  const T *xw = x.west, *xe = x.east, *xs = x.south, *xn = x.north;
#pragma omp simd
  for (int k = 0; k < n; ++k)
    out[k] =
        (aw[k] * (s[k] - xw[k]) + ae[k] * (s[k] - xe[k])) + (as[k] * (s[k] - xs[k]) + an[k] * (s[k] - xn[k]));
}

template <class T>
[[gnu::always_inline]] inline void add_between(int n, const float* near, const float* beside, const T* weight,
                                               T* s) {
#pragma omp simd
  for (int k = 0; k < n; ++k) {
    const T from = static_cast<T>(near[k]);
    s[k] += from + weight[k] * (static_cast<T>(beside[k]) - from);
  }
}

template <class T>
[[gnu::always_inline]] inline void split(int n, const double* from, T* even, T* odd) {
#pragma omp simd
  for (int k = 0; k < n / 2; ++k) {
    even[k] = static_cast<T>(from[2 * k]);
    odd[k] = static_cast<T>(from[2 * k + 1]);
  }
  if (n % 2 == 1) even[n / 2] = static_cast<T>(from[n - 1]);
}

template <class T>
[[gnu::always_inline]] inline void split_both(int n, const T* a, const T* b, float* even, float* odd) {
#pragma omp simd
  for (int k = 0; k < n / 2; ++k) {
    even[k] = static_cast<float>(a[2 * k] + b[2 * k]);
    odd[k] = static_cast<float>(a[2 * k + 1] + b[2 * k + 1]);
  }
  if (n % 2 == 1) even[n / 2] = static_cast<float>(a[n - 1] + b[n - 1]);
}

}  // namespace

TUFT_WIDE void relax(const ColourRow<double>* row, int rows, const double* ahead) {
  for (int r = 0; r < rows; ++r) relax_by(row[r], ahead, [](double, double asked) { return asked; });
}
TUFT_WIDE void relax(const ColourRow<double>* row, int rows, double kept, const double* ahead) {
  const double share = 1 - kept;
  for (int r = 0; r < rows; ++r)
    relax_by(row[r], ahead, [=](double s, double asked) { return kept * s + share * asked; });
}
TUFT_WIDE void relax_scaled(const ColourRow<double>* row, int rows, double share) {
  for (int r = 0; r < rows; ++r)
    relax_by<double>(row[r], nullptr, [=](double, double asked) { return share * asked; });
}
TUFT_WIDE void relax_alone(const ColourRow<double>* row, int rows, double share) {
  for (int r = 0; r < rows; ++r) relax_from_zero(row[r], share);
}
TUFT_WIDE void relax(const ColourRow<float>* row, int rows, const float* ahead) {
  for (int r = 0; r < rows; ++r) relax_by(row[r], ahead, [](float, float asked) { return asked; });
}
TUFT_WIDE void relax(const ColourRow<float>* row, int rows, float kept, const float* ahead) {
  const float share = 1 - kept;
  for (int r = 0; r < rows; ++r)
    relax_by(row[r], ahead, [=](float s, float asked) { return kept * s + share * asked; });
}
TUFT_WIDE void relax_scaled(const ColourRow<float>* row, int rows, float share) {
  for (int r = 0; r < rows; ++r)
    relax_by<float>(row[r], nullptr, [=](float, float asked) { return share * asked; });
}
TUFT_WIDE void relax_alone(const ColourRow<float>* row, int rows, float share) {
  for (int r = 0; r < rows; ++r) relax_from_zero(row[r], share);
}
TUFT_WIDE void image_row(int n, const Around<double>& a, const Around<double>& x, const double* s,
                         double* out) {
  image(n, a, x, s, out);
}
TUFT_WIDE void image_row(int n, const Around<float>& a, const Around<float>& x, const float* s, float* out) {
  image(n, a, x, s, out);
}
TUFT_WIDE void add_between_row(int n, const float* near, const float* beside, const double* weight,
                               double* s) {
  add_between(n, near, beside, weight, s);
}
TUFT_WIDE void add_between_row(int n, const float* near, const float* beside, const float* weight, float* s) {
  add_between(n, near, beside, weight, s);
}

TUFT_WIDE void split_row(int n, const double* from, double* even, double* odd) { split(n, from, even, odd); }
TUFT_WIDE void split_row(int n, const double* from, float* even, float* odd) { split(n, from, even, odd); }
TUFT_WIDE void split_sum(int n, const double* a, const double* b, float* even, float* odd) {
  split_both(n, a, b, even, odd);
}
TUFT_WIDE void split_sum(int n, const float* a, const float* b, float* even, float* odd) {
  split_both(n, a, b, even, odd);
}
TUFT_WIDE void join_row(int n, const double* even, const double* odd, double* to) {
#pragma omp simd
  for (int k = 0; k < n / 2; ++k) {
    to[2 * k] = even[k];
    to[2 * k + 1] = odd[k];
  }
  if (n % 2 == 1) to[n - 1] = even[n / 2];
}
TUFT_WIDE void join_blended(int n, float share_a, const float* even_a, const float* odd_a, float share_b,
                            const float* even_b, const float* odd_b, float* to) {
#pragma omp simd
  for (int k = 0; k < n / 2; ++k) {
    to[2 * k] = share_a * even_a[k] + share_b * even_b[k];
    to[2 * k + 1] = share_a * odd_a[k] + share_b * odd_b[k];
  }
  if (n % 2 == 1) to[n - 1] = share_a * even_a[n / 2] + share_b * even_b[n / 2];
}
/// Eight partial sums; one version for all machines.
double squares_row(int n, const double* values) {
  typedef double Pair __attribute__((vector_size(2 * sizeof(double))));
  Pair a = {}, b = {}, c = {}, d = {};
  int k = 0;
  for (; k + 8 <= n; k += 8) {
    Pair v[4];
    std::memcpy(v, values + k, sizeof v);
    a += v[0] * v[0];
    b += v[1] * v[1];
    c += v[2] * v[2];
    d += v[3] * v[3];
  }
  double rest = 0.0;
  for (; k < n; ++k) rest += values[k] * values[k];
  const Pair sum = (a + b) + (c + d);
  return (sum[0] + sum[1]) + rest;
}

}  // namespace tuft::field
