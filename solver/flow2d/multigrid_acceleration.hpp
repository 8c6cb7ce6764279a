// Conjugate gradients around multigrid cycles, for either way of keeping cell values.
#pragma once

#include <cmath>
#include <vector>

#include "solver/flow2d/multigrid.hpp"
#include "solver/flow2d/parallel.hpp"

namespace tuft::field {

/// d . A d and d . r.
struct Products {
  double with_image = 0.0, with_rhs = 0.0;
};

inline double total(const std::vector<double>& rows) {
  double sum = 0.0;
  for (double r : rows) sum += r;
  return sum;
}

template <class Field, class Row>
double sum_over_lines(const Field& shape, const Row& row) {
  const int lines = static_cast<int>(shape.lines());
  std::vector<double> sums(static_cast<std::size_t>(lines), 0.0);
  for_rows(0, lines, static_cast<std::size_t>(shape.lines() * shape.line_size()),
           [&](int r) { sums[static_cast<std::size_t>(r)] = row(r); });
  return total(sums);
}

template <class Field>
double dot(const Field& a, const Field& b) {
  return sum_over_lines(a, [&](int r) {
    const auto *x = a.line(r), *y = b.line(r);
    double sum = 0.0;
    for (std::ptrdiff_t k = 0; k < a.line_size(); ++k) sum += x[k] * y[k];
    return sum;
  });
}

/// Flexible conjugate gradients (Notay 2000, SIAM J. Sci. Comput. 22:1444-1460): each direction is made
/// conjugate to the one before it. *r is b - A *x at the start and at the end. `precondition` makes z from r
/// by one cycle and returns it; `apply(d, &image)` returns Products.
template <class Field, class Precondition, class Apply>
void accelerate(const MultigridOptions& options, double norm_b, Field* x, Field* r, Field* direction,
                Field* image, MultigridSummary* summary, const Precondition& precondition,
                const Apply& apply) {
  double curvature = 0.0;
  while (summary->cycles < options.max_cycles && summary->history.back() > options.tolerance) {
    const Field& z = precondition();
    ++summary->cycles;
    const double beta = curvature > 0.0 ? -dot(z, *image) / curvature : 0.0;
    sum_over_lines(z, [&](int line) {
      const auto* from = z.line(line);
      auto* d = direction->line(line);
      for (std::ptrdiff_t k = 0; k < z.line_size(); ++k) d[k] = from[k] + beta * d[k];
      return 0.0;
    });
    const Products products = apply(*direction, image);
    curvature = products.with_image;
    if (!(curvature > 0.0)) break;
    const double step = products.with_rhs / curvature;
    const double squares = sum_over_lines(z, [&](int line) {
      const auto *d = direction->line(line), *im = image->line(line);
      auto *xi = x->line(line), *ri = r->line(line);
      double sum = 0.0;
      for (std::ptrdiff_t k = 0; k < z.line_size(); ++k) {
        xi[k] += step * d[k];
        ri[k] -= step * im[k];
        sum += ri[k] * ri[k];
      }
      return sum;
    });
    summary->history.push_back(std::sqrt(squares) / norm_b);
  }
}

}  // namespace tuft::field
