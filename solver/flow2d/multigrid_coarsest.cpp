#include "solver/flow2d/multigrid_coarsest.hpp"

#include <algorithm>

namespace tuft::field {

FloatingBodies find_floating_bodies(const Level& level) {
  FloatingBodies bodies;
  if (level.open) {  // one body; the usual case needs no walk
    bool held = level.holds;
    for (int j = 0; j < level.ny; ++j) held = held || level.west(j)[0] > 0.0 || level.west(j)[level.nx] > 0.0;
    for (int i = 0; i < level.nx; ++i)
      held = held || level.south(0)[i] > 0.0 || level.south(level.ny)[i] > 0.0;
    bodies.count = held ? 0 : 1;
    return bodies;
  }
  bodies.label = Array2T<int>(level.nx, level.ny, -2);
  std::vector<int> stack, members;
  for (int start = 0; start < level.nx * level.ny; ++start) {
    if (bodies.label[static_cast<std::size_t>(start)] != -2) continue;
    bool held = false;
    members.clear();
    stack.assign(1, start);
    bodies.label[static_cast<std::size_t>(start)] = -1;
    while (!stack.empty()) {
      const int cell = stack.back(), i = cell % level.nx, j = cell / level.nx;
      stack.pop_back();
      members.push_back(cell);
      const bool rim = (i == 0 && level.west(j)[0] > 0.0) || (j == 0 && level.south(0)[i] > 0.0) ||
                       (i + 1 == level.nx && level.west(j)[i + 1] > 0.0) ||
                       (j + 1 == level.ny && level.south(j + 1)[i] > 0.0);
      held = held || rim || (level.holds && level.held(j)[i] > 0.0) || !(level.diagonal(i, j) > 0.0);
      const auto visit = [&](double coefficient, bool inside, int next) {
        if (!inside || !(coefficient > 0.0) || bodies.label[static_cast<std::size_t>(next)] != -2) return;
        bodies.label[static_cast<std::size_t>(next)] = -1;
        stack.push_back(next);
      };
      visit(level.west(j)[i], i > 0, cell - 1);
      visit(level.west(j)[i + 1], i + 1 < level.nx, cell + 1);
      visit(level.south(j)[i], j > 0, cell - level.nx);
      visit(level.south(j + 1)[i], j + 1 < level.ny, cell + level.nx);
    }
    if (held) continue;
    for (int cell : members) bodies.label[static_cast<std::size_t>(cell)] = bodies.count;
    ++bodies.count;
  }
  return bodies;
}

std::vector<double> body_means(const FloatingBodies& bodies, const Array2& values) {
  std::vector<double> sum(static_cast<std::size_t>(bodies.count), 0.0), n = sum;
  if (bodies.count == 0) return sum;
  if (bodies.label.empty()) {  // all cells are one body
    for (int j = 0; j < values.ny(); ++j) {
      const double* v = values.row(j);
      double of_row = 0.0;
      for (int i = 0; i < values.nx(); ++i) of_row += v[i];
      sum[0] += of_row;
    }
    sum[0] /= static_cast<double>(values.size());
    return sum;
  }
  for (int j = 0; j < values.ny(); ++j)
    for (int i = 0; i < values.nx(); ++i)
      if (const int b = bodies.of(i, j); b >= 0) {
        sum[static_cast<std::size_t>(b)] += values(i, j);
        n[static_cast<std::size_t>(b)] += 1.0;
      }
  for (std::size_t b = 0; b < sum.size(); ++b) sum[b] /= n[b];
  return sum;
}

void remove_means(const FloatingBodies& bodies, Array2* values) {
  if (bodies.count == 0) return;
  const std::vector<double> means = body_means(bodies, *values);
  if (bodies.label.empty()) {
    for (std::size_t k = 0; k < values->size(); ++k) (*values)[k] -= means[0];
    return;
  }
  for (int j = 0; j < values->ny(); ++j)
    for (int i = 0; i < values->nx(); ++i)
      if (const int b = bodies.of(i, j); b >= 0) (*values)(i, j) -= means[static_cast<std::size_t>(b)];
}

namespace {

/// Inverse of a positive definite matrix, row by row, by Gauss-Jordan elimination (which needs no pivoting
/// then).
std::vector<double> inverse_of(const SparsePattern& pattern, const std::vector<double>& values) {
  const std::size_t n = pattern.row_start.size() - 1;
  std::vector<double> a(n * n, 0.0);
  for (std::size_t r = 0; r < n; ++r)
    for (int k = pattern.row_start[r]; k < pattern.row_start[r + 1]; ++k)
      a[r * n + static_cast<std::size_t>(pattern.column[static_cast<std::size_t>(k)])] =
          values[static_cast<std::size_t>(k)];
  for (std::size_t p = 0; p < n; ++p) {
    const double pivot = 1.0 / a[p * n + p];
    a[p * n + p] = 1.0;
    for (std::size_t c = 0; c < n; ++c) a[p * n + c] *= pivot;
    for (std::size_t r = 0; r < n; ++r) {
      if (r == p || a[r * n + p] == 0.0) continue;
      const double factor = a[r * n + p];
      a[r * n + p] = 0.0;
      for (std::size_t c = 0; c < n; ++c) a[r * n + c] -= factor * a[p * n + c];
    }
  }
  return a;
}

}  // namespace

Coarsest::Coarsest(const Level& level) {
  const int nx = level.nx;
  const FloatingBodies bodies = find_floating_bodies(level);
  std::vector<unsigned char> pinned(static_cast<std::size_t>(std::max(bodies.count, 1)), 0);
  Array2T<int> number(level.nx, level.ny, -1);
  std::vector<UnknownPlace> places;
  for (int j = 0; j < level.ny; ++j)
    for (int i = 0; i < level.nx; ++i) {
      if (!(level.diagonal(i, j) > 0.0)) continue;
      const int body = bodies.of(i, j);
      if (body >= 0 && !pinned[static_cast<std::size_t>(body)]) {
        pinned[static_cast<std::size_t>(body)] = 1;
        continue;
      }
      number(i, j) = static_cast<int>(cells_.size());
      cells_.push_back(i + nx * j);
      places.push_back({i, j, false, false});
    }
  SparsePattern pattern;
  std::vector<double> values;
  pattern.row_start.push_back(0);
  for (int cell : cells_) {
    const int i = cell % nx, j = cell / nx;
    const auto enter = [&](int x, int y, double value) {
      if (x < 0 || y < 0 || x >= level.nx || y >= level.ny || number(x, y) < 0) return;
      pattern.column.push_back(number(x, y));
      values.push_back(value);
    };
    enter(i, j, level.diagonal(i, j));
    enter(i - 1, j, -level.west(j)[i]);
    enter(i + 1, j, -level.west(j)[i + 1]);
    enter(i, j - 1, -level.south(j)[i]);
    enter(i, j + 1, -level.south(j + 1)[i]);
    pattern.row_start.push_back(static_cast<int>(pattern.column.size()));
  }
  values_.resize(cells_.size());
  if (cells_.size() <= 40) {
    inverse_ = inverse_of(pattern, values);
    product_.resize(cells_.size());
    return;
  }
  lu_ = std::make_unique<FrontalLu<double>>(pattern, places, level.nx, level.ny);
  lu_->factor(values);
}

void Coarsest::solve() {
  if (lu_) {
    lu_->solve(&values_);
    return;
  }
  const std::size_t n = values_.size();
  for (std::size_t r = 0; r < n; ++r) {
    double sum = 0.0;
    for (std::size_t c = 0; c < n; ++c) sum += inverse_[r * n + c] * values_[c];
    product_[r] = sum;
  }
  std::swap(values_, product_);
}

}  // namespace tuft::field
