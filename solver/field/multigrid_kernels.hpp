// The innermost loops of the point-smoothed multigrid, over one row of one colour.
#pragma once

namespace tuft::field {

/// Values around a row of cells, or the coefficients through their faces: entry k belongs to cell k.
template <class T>
struct Around {
  const T *west, *east, *south, *north;
};

/// Cells relaxed at a time.
constexpr int relaxed_together = 16;

/// s = inverse (b + sum of coefficient times neighbour). n is a multiple of relaxed_together.
void relax_row(int n, const Around<double>& a, const Around<double>& x, const double* b,
               const double* inverse, double* s);
void relax_row(int n, const Around<float>& a, const Around<float>& x, const float* b, const float* inverse,
               float* s);

/// out = sum of coefficient times (s - neighbour).
void image_row(int n, const Around<double>& a, const Around<double>& x, const double* s, double* out);
void image_row(int n, const Around<float>& a, const Around<float>& x, const float* s, float* out);

/// s += near + weight (beside - near).
void add_between_row(int n, const float* near, const float* beside, const double* weight, double* s);
void add_between_row(int n, const float* near, const float* beside, const float* weight, float* s);

}  // namespace tuft::field
