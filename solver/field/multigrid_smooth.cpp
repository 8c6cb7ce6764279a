// The smoothers. Both give the same bytes however the rows are shared among threads: a colour or a set of
// lines never reads what it writes elsewhere.
#include <omp.h>

#include <algorithm>

#include "solver/field/multigrid_level.hpp"
#include "solver/field/parallel.hpp"

namespace tuft::field {
namespace {

/// Relaxes every second cell of row j, from the first with (i + j) % 2 == colour.
inline void relax_row(const Level& level, Padded* solution, int j, int colour) {
  double* s = solution->row(j);
  const double *below = solution->row(j - 1), *above = solution->row(j + 1);
  const double *w = level.west.row(j), *so = level.south.row(j), *no = level.south.row(j + 1),
               *inv = level.inverse.row(j), *b = level.rhs.row(j);
  for (int i = (j + colour) & 1; i < level.nx; i += 2)
    s[i] = inv[i] * (b[i] + w[i] * s[i - 1] + w[i + 1] * s[i + 1] + so[i] * below[i] + no[i] * above[i]);
}

}  // namespace

void Level::smooth(bool forward) {
  if (!lines) {
    smooth_points(forward);
  } else if (forward) {
    smooth_lines_x(true);
    smooth_lines_y(true);
  } else {
    smooth_lines_y(false);
    smooth_lines_x(false);
  }
}

/// Both colours in one pass over memory: the second colour follows one row behind the first. The rows where
/// blocks of two threads meet wait until both have finished the first colour.
void Level::smooth_points(bool forward) {
  const int first = forward ? 0 : 1, second = 1 - first;
  const bool share = static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny) > 40000;
#pragma omp parallel if (share)
  {
    const int threads = omp_get_num_threads(), me = omp_get_thread_num();
    const int begin = static_cast<int>(static_cast<long long>(ny) * me / threads);
    const int end = static_cast<int>(static_cast<long long>(ny) * (me + 1) / threads);
    const int inner_begin = begin == 0 ? 0 : begin + 1, inner_end = end == ny ? ny : end - 1;
    for (int j = begin; j < end; ++j) {
      relax_row(*this, &solution, j, first);
      if (j - 1 >= inner_begin && j - 1 < inner_end) relax_row(*this, &solution, j - 1, second);
    }
    if (end == ny && end - 1 >= inner_begin) relax_row(*this, &solution, end - 1, second);
#pragma omp barrier
    if (begin < inner_begin && begin < end) relax_row(*this, &solution, begin, second);
    if (end > inner_end && end - 1 >= inner_begin) relax_row(*this, &solution, end - 1, second);
  }
}

void Level::smooth_lines_x(bool forward) {
  for (int colour = 0; colour < 2; ++colour) {
    const int start = forward ? colour : 1 - colour;
    for_rows(0, (ny - start + 1) / 2, static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny),
             [&](int m) {
               const int j = start + 2 * m;
               double* s = solution.row(j);
               const double *below = solution.row(j - 1), *above = solution.row(j + 1);
               const double *w = west.row(j), *so = south.row(j), *no = south.row(j + 1), *p = line_x.row(j),
                            *b = rhs.row(j);
               double before = 0.0;
               for (int i = 0; i < nx; ++i)
                 s[i] = before = p[i] * (b[i] + so[i] * below[i] + no[i] * above[i] + w[i] * before);
               for (int i = nx - 2; i >= 0; --i) s[i] += p[i] * w[i + 1] * s[i + 1];
             });
  }
}

/// All even columns at once, then all odd ones, row by row; columns are shared in strips.
void Level::smooth_lines_y(bool forward) {
  const int strips = std::max(1, nx / 64);
  for (int colour = 0; colour < 2; ++colour) {
    const int start = forward ? colour : 1 - colour;
    for_rows(0, strips, cells(), [&](int strip) {
      const int from = nx * strip / strips, to = nx * (strip + 1) / strips;
      const int first = from + ((from & 1) == start ? 0 : 1);
      for (int j = 0; j < ny; ++j) {
        double* s = solution.row(j);
        const double* below = solution.row(j - 1);
        const double *w = west.row(j), *so = south.row(j), *p = line_y.row(j), *b = rhs.row(j);
        for (int i = first; i < to; i += 2)
          s[i] = p[i] * (b[i] + w[i] * s[i - 1] + w[i + 1] * s[i + 1] + so[i] * below[i]);
      }
      for (int j = ny - 2; j >= 0; --j) {
        double* s = solution.row(j);
        const double *above = solution.row(j + 1), *no = south.row(j + 1), *p = line_y.row(j);
        for (int i = first; i < to; i += 2) s[i] += p[i] * no[i] * above[i];
      }
    });
  }
}

}  // namespace tuft::field
