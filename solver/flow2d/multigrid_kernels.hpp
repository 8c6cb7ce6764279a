// The innermost loops of the point-smoothed multigrid, over one row of one colour.
#pragma once

namespace tuft::field {

/// Values around a row of cells, or the coefficients through their faces: entry k belongs to cell k.
template <class T>
struct Around {
  const T *west, *east, *south, *north;
};

/// Where a row of one colour and all that bears on it lie in memory; entry k belongs to cell k.
template <class T>
struct ColourRow {
  int count = 0;   ///< cells
  int padded = 0;  ///< the same, up to whole groups of relaxed_together; those past the last stay 0
  Around<T> coefficients, neighbours;
  const T *rhs, *inverse;
  T* solution;
};

/// Cells relaxed at a time.
constexpr int relaxed_together = 8;

/// In each of `rows` rows from *row on: s = inverse (b + sum of coefficient times neighbour). `ahead` is a
/// row of as many values that will be wanted soon: the memory is asked for them meanwhile.
void relax(const ColourRow<double>* row, int rows, const double* ahead = nullptr);
void relax(const ColourRow<float>* row, int rows, const float* ahead = nullptr);

/// s = kept s + (1 - kept) times that; kept < 0 relaxes beyond it.
void relax(const ColourRow<double>* row, int rows, double kept, const double* ahead = nullptr);
void relax(const ColourRow<float>* row, int rows, float kept, const float* ahead = nullptr);

/// s = share times that, whatever s was.
void relax_scaled(const ColourRow<double>* row, int rows, double share);
void relax_scaled(const ColourRow<float>* row, int rows, float share);

/// s = share inverse b.
void relax_alone(const ColourRow<double>* row, int rows, double share);
void relax_alone(const ColourRow<float>* row, int rows, float share);

/// out = sum of coefficient times (s - neighbour).
void image_row(int n, const Around<double>& a, const Around<double>& x, const double* s, double* out);
void image_row(int n, const Around<float>& a, const Around<float>& x, const float* s, float* out);

/// s += near + weight (beside - near).
void add_between_row(int n, const float* near, const float* beside, const double* weight, double* s);
void add_between_row(int n, const float* near, const float* beside, const float* weight, float* s);

/// Entries 0, 2, 4... of n into `even`, the others into `odd`.
void split_row(int n, const double* from, double* even, double* odd);
void split_row(int n, const double* from, float* even, float* odd);
/// The same for the sum of two rows.
void split_sum(int n, const double* a, const double* b, float* even, float* odd);
void split_sum(int n, const float* a, const float* b, float* even, float* odd);
/// The way back.
void join_row(int n, const double* even, const double* odd, double* to);

/// to = share_a a + share_b b, of rows in their two halves.
void join_blended(int n, float share_a, const float* even_a, const float* odd_a, float share_b,
                  const float* even_b, const float* odd_b, float* to);

/// Sum of squares, in an order that does not depend on the width of the machine's vectors.
double squares_row(int n, const double* values);

}  // namespace tuft::field
