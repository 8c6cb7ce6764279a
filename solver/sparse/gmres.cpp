#include "solver/sparse/gmres.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace tuft::sparse {
namespace {

void add_scaled(double factor, const std::vector<double>& a, std::vector<double>* y) {
  const int n = static_cast<int>(a.size());
#pragma omp parallel for schedule(static) if (n > 200000)
  for (int k = 0; k < n; ++k) (*y)[k] += factor * a[k];
}

struct Rotation {
  double c = 1.0, s = 0.0;
};

Rotation rotation_for(double a, double b) {
  const double r = std::hypot(a, b);
  return r > 0.0 ? Rotation{a / r, b / r} : Rotation{};
}

void rotate(const Rotation& q, double* a, double* b) {
  const double first = q.c * *a + q.s * *b;
  *b = q.c * *b - q.s * *a;
  *a = first;
}

}  // namespace

double ordered_dot(const std::vector<double>& a, const std::vector<double>& b) {
  constexpr int block = 2048;
  const int n = static_cast<int>(a.size()), blocks = (n + block - 1) / block;
  std::vector<double> sums(blocks, 0.0);
#pragma omp parallel for schedule(static) if (n > 200000)
  for (int m = 0; m < blocks; ++m) {
    double sum = 0.0;
    for (int k = m * block; k < std::min(n, (m + 1) * block); ++k) sum += a[k] * b[k];
    sums[m] = sum;
  }
  double total = 0.0;
  for (double s : sums) total += s;
  return total;
}

GmresSummary gmres(const VectorMap& apply, const VectorMap& precondition, const std::vector<double>& b,
                   const GmresOptions& options, std::vector<double>* x) {
  x->assign(b.size(), 0.0);
  const double norm = std::sqrt(ordered_dot(b, b));
  GmresSummary summary;
  if (!(norm > 0.0)) return {0, 0.0};
  std::vector<std::vector<double>> basis{b}, directions, hessenberg;
  for (double& v : basis[0]) v /= norm;
  std::vector<Rotation> rotations;
  std::vector<double> right{norm};
  for (int k = 0; k < options.max_iterations; ++k) {
    directions.emplace_back(b.size());
    precondition(basis.back(), &directions.back());
    std::vector<double> next(b.size()), column;
    apply(directions.back(), &next);
    for (const auto& v : basis) {
      column.push_back(ordered_dot(next, v));
      add_scaled(-column.back(), v, &next);
    }
    double below = std::sqrt(ordered_dot(next, next));
    const double length = below;
    for (std::size_t m = 0; m < rotations.size(); ++m) rotate(rotations[m], &column[m], &column[m + 1]);
    rotations.push_back(rotation_for(column.back(), below));
    rotate(rotations.back(), &column.back(), &below);
    hessenberg.push_back(column);
    right.push_back(0.0);
    rotate(rotations.back(), &right[right.size() - 2], &right.back());
    summary.iterations = k + 1;
    summary.reduction = std::abs(right.back()) / norm;
    if (summary.reduction <= options.tolerance || !(length > 0.0) || !std::isfinite(length)) break;
    for (double& v : next) v /= length;
    basis.push_back(std::move(next));
  }
  std::vector<double> weights(hessenberg.size());
  for (std::size_t k = hessenberg.size(); k-- > 0;) {
    double sum = right[k];
    for (std::size_t m = k + 1; m < hessenberg.size(); ++m) sum -= hessenberg[m][k] * weights[m];
    weights[k] = sum / hessenberg[k][k];
  }
  for (std::size_t k = 0; k < weights.size(); ++k) add_scaled(weights[k], directions[k], x);
  return summary;
}

}  // namespace tuft::sparse
