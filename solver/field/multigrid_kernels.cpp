#include "solver/field/multigrid_kernels.hpp"

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
[[gnu::always_inline]] inline void relax_by(const ColourRow<T>& row, const Set& set) {
  const T *aw = row.coefficients.west, *ae = row.coefficients.east, *as = row.coefficients.south,
          *an = row.coefficients.north;
  const T *xw = row.neighbours.west, *xe = row.neighbours.east, *xs = row.neighbours.south,
          *xn = row.neighbours.north;
  const T *b = row.rhs, *inverse = row.inverse;
  T* s = row.solution;
  const int n = row.padded / relaxed_together * relaxed_together;
#pragma omp simd
  for (int k = 0; k < n; ++k)
    s[k] = set(s[k], inverse[k] * (b[k] + (aw[k] * xw[k] + ae[k] * xe[k]) + (as[k] * xs[k] + an[k] * xn[k])));
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

}  // namespace

TUFT_WIDE void relax(const ColourRow<double>& row) {
  relax_by(row, [](double, double asked) { return asked; });
}
TUFT_WIDE void relax(const ColourRow<double>& row, double kept) {
  const double share = 1 - kept;
  relax_by(row, [=](double s, double asked) { return kept * s + share * asked; });
}
TUFT_WIDE void relax_scaled(const ColourRow<double>& row, double share) {
  relax_by(row, [=](double, double asked) { return share * asked; });
}
TUFT_WIDE void relax_alone(const ColourRow<double>& row, double share) { relax_from_zero(row, share); }
TUFT_WIDE void relax(const ColourRow<float>& row) {
  relax_by(row, [](float, float asked) { return asked; });
}
TUFT_WIDE void relax(const ColourRow<float>& row, float kept) {
  const float share = 1 - kept;
  relax_by(row, [=](float s, float asked) { return kept * s + share * asked; });
}
TUFT_WIDE void relax_scaled(const ColourRow<float>& row, float share) {
  relax_by(row, [=](float, float asked) { return share * asked; });
}
TUFT_WIDE void relax_alone(const ColourRow<float>& row, float share) { relax_from_zero(row, share); }
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

}  // namespace tuft::field
