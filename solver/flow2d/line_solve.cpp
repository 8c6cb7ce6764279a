#include "solver/flow2d/line_solve.hpp"

#include <vector>

#include "solver/flow2d/parallel.hpp"

namespace tuft::field {
namespace {

void solve_along_x(const DiffusionLines& l, Array2* r) {
  const int nx = r->nx();
  for_rows(0, r->ny(), r->size(), [&](int j) {
    thread_local std::vector<double> factor;
    factor.assign(static_cast<std::size_t>(nx) + 1, 0.0);
    double before = 0.0;
    for (int i = 0; i < nx; ++i) {
      const auto I = static_cast<std::size_t>(i);
      if (!l.active(i, j)) {
        (*r)(i, j) = before = 0.0;
        factor[I] = 0.0;
        continue;
      }
      const double back = l.west(i, j), ahead = i + 1 < nx ? l.west(i + 1, j) : 0.0;
      const double previous = i > 0 ? factor[I - 1] : 0.0;
      const double pivot = l.storage(i, j) + back + ahead + l.held_x(i, j) - back * previous;
      factor[I] = ahead / pivot;
      (*r)(i, j) = before = ((*r)(i, j) + back * before) / pivot;
    }
    for (int i = nx - 2; i >= 0; --i)
      if (l.active(i, j)) (*r)(i, j) += factor[static_cast<std::size_t>(i)] * (*r)(i + 1, j);
  });
}

/// The same along y for all columns at once, row by row.
void solve_along_y(const DiffusionLines& l, Array2* r) {
  const int nx = r->nx(), ny = r->ny();
  Array2 factor(nx, ny);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      if (!l.active(i, j)) {
        (*r)(i, j) = 0.0;
        continue;
      }
      const double back = l.south(i, j), ahead = j + 1 < ny ? l.south(i, j + 1) : 0.0;
      const double previous = j > 0 ? factor(i, j - 1) : 0.0, before = j > 0 ? (*r)(i, j - 1) : 0.0;
      const double pivot = l.storage(i, j) + back + ahead + l.held_y(i, j) - back * previous;
      factor(i, j) = ahead / pivot;
      (*r)(i, j) = ((*r)(i, j) + back * before) / pivot;
    }
  for (int j = ny - 2; j >= 0; --j)
    for (int i = 0; i < nx; ++i)
      if (l.active(i, j)) (*r)(i, j) += factor(i, j) * (*r)(i, j + 1);
}

}  // namespace

void solve_by_lines(const DiffusionLines& lines, Array2* r) {
  solve_along_x(lines, r);
  for (std::size_t k = 0; k < r->size(); ++k) (*r)[k] *= lines.storage[k];
  solve_along_y(lines, r);
}

}  // namespace tuft::field
