#include "solver/uncertainty/group_indices.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "solver/numerics/checks.hpp"

namespace tuft::uncertainty {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::uint32_t kLeftOut = 20;     // parts of the jackknife
constexpr std::uint64_t kLeftOutKey = 20;  // as for single inputs: any number
constexpr int kPointsPerTerm = 5;          // judgement: the noise of the fit is then a fifth at most
constexpr int kMostTerms = 300;            // of a degree above 1: what a fit may cost
constexpr int kHighestDegree = 3;

/// Legendre polynomials on (0, 1), of mean 0, variance 1 and without correlation.
double legendre(int degree, double point) {
  const double x = 2.0 * point - 1.0;
  if (degree == 1) return std::sqrt(3.0) * x;
  if (degree == 2) return std::sqrt(5.0) * 0.5 * (3.0 * x * x - 1.0);
  return std::sqrt(7.0) * 0.5 * (5.0 * x * x * x - 3.0 * x);
}

int degree_for(Eigen::Index points, Eigen::Index inputs) {
  for (int degree = kHighestDegree; degree > 1; --degree)
    if (degree * inputs * kPointsPerTerm <= points && degree * inputs <= kMostTerms) return degree;
  return inputs * kPointsPerTerm <= points ? 1 : 0;
}

/// ProductSums of products over some points: terms with terms, terms with outputs, outputs with themselves.
struct ProductSums {
  double points = 0.0;
  MatrixXd terms, outputs;
  VectorXd squares;
};

/// Terms and outputs at all points, those of one part of the jackknife behind each other.
struct FitTable {
  MatrixXd terms, outputs;
  std::vector<Eigen::Index> begin;  // of each part, and the end
};

FitTable fit_table(const SampleMatrix& points, int degree, const std::vector<std::vector<double>>& outputs) {
  const Eigen::Index n = points.rows(), inputs = points.cols();
  std::vector<Eigen::Index> order(n), part(n);
  std::iota(order.begin(), order.end(), Eigen::Index{0});
  for (Eigen::Index i = 0; i < n; ++i) part[i] = below_count(kLeftOutKey, i, kLeftOut);
  std::stable_sort(order.begin(), order.end(),
                   [&](Eigen::Index a, Eigen::Index b) { return part[a] < part[b]; });
  FitTable out;
  out.terms.resize(n, 1 + inputs * degree);
  out.outputs.resize(n, static_cast<Eigen::Index>(outputs.size()));
  for (std::uint32_t p = 0; p <= kLeftOut; ++p)
    out.begin.push_back(std::count_if(part.begin(), part.end(), [&](Eigen::Index each) { return each < p; }));
  out.terms.col(0).setOnes();
  for (Eigen::Index r = 0; r < n; ++r)
    for (Eigen::Index j = 0; j < inputs; ++j)
      for (int d = 1; d <= degree; ++d)
        out.terms(r, 1 + j * degree + d - 1) = legendre(d, points(order[r], j));
  for (std::size_t o = 0; o < outputs.size(); ++o) {
    // ProductSums of squares lose digits on a large mean.
    const double mean = std::accumulate(outputs[o].begin(), outputs[o].end(), 0.0) / static_cast<double>(n);
    for (Eigen::Index r = 0; r < n; ++r) out.outputs(r, o) = outputs[o][order[r]] - mean;
  }
  return out;
}

/// Entry by entry: a product of whole matrices is blocked by the number of threads, and its last digits with
/// it.
ProductSums product_sums(const FitTable& table, std::size_t part) {
  const Eigen::Index first = table.begin[part], count = table.begin[part + 1] - first;
  const Eigen::Index terms = table.terms.cols(), outputs = table.outputs.cols();
  ProductSums out{static_cast<double>(count), MatrixXd(terms, terms), MatrixXd(terms, outputs),
                  VectorXd(outputs)};
  for (Eigen::Index a = 0; a < terms; ++a) {
    const auto column = table.terms.col(a).segment(first, count);
    for (Eigen::Index b = 0; b <= a; ++b)
      out.terms(a, b) = out.terms(b, a) = column.dot(table.terms.col(b).segment(first, count));
    for (Eigen::Index o = 0; o < outputs; ++o)
      out.outputs(a, o) = column.dot(table.outputs.col(o).segment(first, count));
  }
  for (Eigen::Index o = 0; o < outputs; ++o)
    out.squares[o] = table.outputs.col(o).segment(first, count).squaredNorm();
  return out;
}

/// Upper triangular U with U' U = A; an empty one where A is not positive definite.
MatrixXd upper_factor(const MatrixXd& a) {
  MatrixXd u = MatrixXd::Zero(a.rows(), a.cols());
  for (Eigen::Index j = 0; j < a.cols(); ++j) {
    for (Eigen::Index i = 0; i < j; ++i)
      u(i, j) = (a(i, j) - u.col(i).head(i).dot(u.col(j).head(i))) / u(i, i);
    const double pivot = a(j, j) - u.col(j).head(j).squaredNorm();
    if (!(pivot > 0.0)) return {};
    u(j, j) = std::sqrt(pivot);
  }
  return u;
}

VectorXd solved_with(const MatrixXd& u, VectorXd x) {
  for (Eigen::Index i = 0; i < x.size(); ++i) x[i] = (x[i] - u.col(i).head(i).dot(x.head(i))) / u(i, i);
  for (Eigen::Index i = x.size() - 1; i >= 0; --i) {
    x[i] /= u(i, i);
    x.head(i) -= x[i] * u.col(i).head(i);
  }
  return x;
}

/// Diagonal of the inverse: the variances of the coefficients over that of the noise.
VectorXd inverse_diagonal(const MatrixXd& u) {
  VectorXd out = VectorXd::Zero(u.rows());
  for (Eigen::Index k = 0; k < u.rows(); ++k) {
    // Row k of the inverse of U' is found downwards from its 1; its squares add to the diagonal.
    VectorXd x = VectorXd::Zero(u.rows());
    x[k] = 1.0 / u(k, k);
    for (Eigen::Index i = k + 1; i < u.rows(); ++i)
      x[i] = -u.col(i).segment(k, i - k).dot(x.segment(k, i - k)) / u(i, i);
    out[k] = x.squaredNorm();
  }
  return out;
}

/// Shares of all groups, one row an output. `spread` is the diagonal of the inverse.
MatrixXd group_shares(const ProductSums& sums, const MatrixXd& u, const VectorXd& spread,
                      const std::vector<int>& group, int groups) {
  const Eigen::Index terms = u.rows(), outputs = sums.squares.size();
  const Eigen::Index degree = (terms - 1) / static_cast<Eigen::Index>(group.size());
  MatrixXd out = MatrixXd::Zero(outputs, groups);
  for (Eigen::Index o = 0; o < outputs; ++o) {
    const double mean = sums.outputs(0, o) / sums.points;
    const double variance = (sums.squares[o] - sums.points * mean * mean) / (sums.points - 1.0);
    if (!(variance > 0.0)) continue;
    const VectorXd coefficient = solved_with(u, sums.outputs.col(o));
    const double left = std::max(0.0, sums.squares[o] - coefficient.dot(sums.outputs.col(o)));
    const double noise = left / (sums.points - static_cast<double>(terms));
    for (Eigen::Index t = 1; t < terms; ++t)
      out(o, group[(t - 1) / degree]) += (coefficient[t] * coefficient[t] - noise * spread[t]) / variance;
  }
  return out;
}

void check_groups_fit(const SampleMatrix& points, const std::vector<int>& group, int groups,
                      const std::vector<std::vector<double>>& outputs) {
  if (static_cast<Eigen::Index>(group.size()) != points.cols())
    refuse("shares: one group for each input is needed");
  for (const int each : group)
    if (each < 0 || each >= groups) refuse("shares: group ", each, " does not exist");
  bool finite = numerics::all_finite(points.data(), static_cast<std::size_t>(points.size()));
  for (const std::vector<double>& output : outputs) {
    if (static_cast<Eigen::Index>(output.size()) != points.rows())
      refuse("shares: one output for each row of inputs is needed");
    finite = finite && numerics::all_finite(output.data(), output.size());
  }
  if (!finite) refuse("shares: every input and output must be finite");
}

}  // namespace

std::vector<std::vector<GivenDataIndex>> group_indices(const SampleMatrix& points,
                                                       const std::vector<int>& group, int groups,
                                                       const std::vector<std::vector<double>>& outputs) {
  check_groups_fit(points, group, groups, outputs);
  const int degree = points.cols() > 0 ? degree_for(points.rows(), points.cols()) : 0;
  if (degree == 0 || outputs.empty() || points.rows() < 2 * static_cast<Eigen::Index>(kLeftOut)) return {};
  const FitTable table = fit_table(points, degree, outputs);
  std::vector<ProductSums> parts(kLeftOut);
  for_each_piece(kLeftOut, [&](long p) { parts[p] = product_sums(table, p); });
  ProductSums all = parts[0];
  for (std::size_t p = 1; p < parts.size(); ++p) {
    all.points += parts[p].points;
    all.terms += parts[p].terms;
    all.outputs += parts[p].outputs;
    all.squares += parts[p].squares;
  }
  const MatrixXd u = upper_factor(all.terms);
  if (u.size() == 0) return {};
  const VectorXd spread = inverse_diagonal(u);
  const MatrixXd whole = group_shares(all, u, spread, group, groups);
  std::vector<MatrixXd> without(kLeftOut, whole);
  for_each_piece(kLeftOut, [&](long p) {
    const ProductSums rest{all.points - parts[p].points, all.terms - parts[p].terms,
                           all.outputs - parts[p].outputs, all.squares - parts[p].squares};
    const MatrixXd factor = upper_factor(rest.terms);
    if (factor.size() > 0)
      without[p] = group_shares(rest, factor, spread * (all.points / rest.points), group, groups);
  });
  MatrixXd mean = MatrixXd::Zero(whole.rows(), whole.cols()), squares = mean;
  for (const MatrixXd& each : without) mean += each / static_cast<double>(kLeftOut);
  for (const MatrixXd& each : without) squares += (each - mean).cwiseAbs2();
  const MatrixXd error = (squares * ((kLeftOut - 1.0) / kLeftOut)).cwiseSqrt();
  std::vector<std::vector<GivenDataIndex>> out(outputs.size(), std::vector<GivenDataIndex>(groups));
  for (Eigen::Index o = 0; o < whole.rows(); ++o)
    for (int g = 0; g < groups; ++g) out[o][g] = {whole(o, g), error(o, g)};
  return out;
}

}  // namespace tuft::uncertainty
