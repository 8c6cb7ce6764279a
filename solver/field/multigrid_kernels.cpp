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

template <class T>
[[gnu::always_inline]] inline void relax(int n, const Around<T>& a, const Around<T>& x, const T* b,
                                         const T* inverse, T* s) {
  const T *aw = a.west, *ae = a.east, *as = a.south, *an = a.north;
  const T *xw = x.west, *xe = x.east, *xs = x.south, *xn = x.north;
  n = n / relaxed_together * relaxed_together;
#pragma omp simd
  for (int k = 0; k < n; ++k)
    s[k] = inverse[k] * (b[k] + (aw[k] * xw[k] + ae[k] * xe[k]) + (as[k] * xs[k] + an[k] * xn[k]));
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

TUFT_WIDE void relax_row(int n, const Around<double>& a, const Around<double>& x, const double* b,
                         const double* inverse, double* s) {
  relax(n, a, x, b, inverse, s);
}
TUFT_WIDE void relax_row(int n, const Around<float>& a, const Around<float>& x, const float* b,
                         const float* inverse, float* s) {
  relax(n, a, x, b, inverse, s);
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

}  // namespace tuft::field
