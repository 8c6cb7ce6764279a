#include "solver/sparse/arnoldi.hpp"

#include <cmath>
#include <utility>

#include "solver/numerics/dense.hpp"

namespace tuft::sparse {
namespace {

constexpr double kNothingLeft = 1e-12;  // of a product, beside what it has in the space already

double length_of(const std::vector<double>& v) { return std::sqrt(ordered_dot(v, v)); }

void divide(std::vector<double>* v, double by) {
  for (double& x : *v) x /= by;
}

}  // namespace

Arnoldi::Arnoldi(std::vector<double> start) {
  divide(&start, length_of(start));
  basis_.push_back(std::move(start));
}

bool Arnoldi::step(const VectorMap& apply) {
  std::vector<double> next(basis_.back().size());
  apply(basis_.back(), &next);
  const double whole = length_of(next);
  std::vector<double> column(basis_.size() + 1, 0.0);
  // Twice: what rounding leaves of the first time is gone after the second.
  for (int pass = 0; pass < 2; ++pass)
    for (std::size_t k = 0; k < basis_.size(); ++k) {
      const double along = ordered_dot(basis_[k], next);
      column[k] += along;
      for (std::size_t m = 0; m < next.size(); ++m) next[m] -= along * basis_[k][m];
    }
  column.back() = length_of(next);
  const bool more = column.back() > kNothingLeft * whole;
  if (more) {
    divide(&next, column.back());
    basis_.push_back(std::move(next));
  }
  columns_.push_back(std::move(column));
  return more;
}

Eigen::MatrixXd Arnoldi::projected() const {
  const Eigen::Index n = steps();
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index k = 0; k < n; ++k)
    for (Eigen::Index r = 0; r <= std::min(k + 1, n - 1); ++r) out(r, k) = columns_[k][r];
  return out;
}

std::vector<RitzValue> Arnoldi::ritz_values() const {
  const numerics::AllModes modes = numerics::all_modes(projected());
  const double beyond = columns_.back().back();
  std::vector<RitzValue> out;
  for (Eigen::Index k = 0; k < modes.values.size(); ++k)
    out.push_back({modes.values[k], beyond * std::abs(modes.vectors(steps() - 1, k))});
  return out;
}

std::vector<double> Arnoldi::vector_of(int k) const {
  const Eigen::VectorXd weights = numerics::all_modes(projected()).vectors.col(k).real();
  std::vector<double> out(basis_.front().size(), 0.0);
  for (Eigen::Index m = 0; m < weights.size(); ++m)
    for (std::size_t n = 0; n < out.size(); ++n) out[n] += weights[m] * basis_[m][n];
  return out;
}

}  // namespace tuft::sparse
