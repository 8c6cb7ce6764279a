// The line smoother. It gives the same bytes however the rows are shared among threads: a set of lines never
// reads what it writes elsewhere.
#include <algorithm>

#include "solver/flow2d/multigrid_level.hpp"
#include "solver/flow2d/parallel.hpp"

namespace tuft::field {
void Level::smooth(bool forward) {
  if (forward) {
    smooth_lines_x(true);
    smooth_lines_y(true);
  } else {
    smooth_lines_y(false);
    smooth_lines_x(false);
  }
}

void Level::smooth_lines_x(bool forward) {
  for (int colour = 0; colour < 2; ++colour) {
    const int start = forward ? colour : 1 - colour;
    for_rows(
        0, (ny - start + 1) / 2, static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny), [&](int m) {
          const int j = start + 2 * m;
          double* s = solution.row(j);
          const double *below = solution.row(j - 1), *above = solution.row(j + 1);
          const double *w = west(j), *so = south(j), *no = south(j + 1), *p = line_x.row(j), *b = rhs.row(j);
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
        const double *w = west(j), *so = south(j), *p = line_y.row(j), *b = rhs.row(j);
        for (int i = first; i < to; i += 2)
          s[i] = p[i] * (b[i] + w[i] * s[i - 1] + w[i + 1] * s[i + 1] + so[i] * below[i]);
      }
      for (int j = ny - 2; j >= 0; --j) {
        double* s = solution.row(j);
        const double *above = solution.row(j + 1), *no = south(j + 1), *p = line_y.row(j);
        for (int i = first; i < to; i += 2) s[i] += p[i] * no[i] * above[i];
      }
    });
  }
}

}  // namespace tuft::field
