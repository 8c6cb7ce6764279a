#include "solver/uncertainty/shares.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <utility>

#include "solver/numerics/checks.hpp"

namespace tuft::uncertainty {
namespace {

using Whole = Eigen::Index;  // uncertainty::Whole is another thing
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kTwoPi = 6.283185307179586;

// The numbers are judgements.
constexpr Whole kTerms = 8;           // functions an input, of which some are always looked at:
constexpr Whole kPlainTerms = 3;      // polynomials up to this degree
constexpr Whole kPlainWaves = 4;      // two waves, sine and cosine
constexpr Whole kPointsPerInput = 5;  // of the plain terms' noise: a fifth of the variance at most
constexpr Whole kPointsPerTerm = 10;  // of those that are fitted together
constexpr Whole kMostFitted = 80;     // what a fit may cost
constexpr Whole kMostAtOnce = 16;     // taken up in one round: the strongest hide the others
constexpr int kMostRounds = 8;
constexpr double kStandsOut = 3.5;       // standard errors, among hundreds of terms
constexpr Whole kMostPoints = 4096;      // more tell a share no better than a percent needs
constexpr Whole kMostNumbers = 1 << 22;  // of the table of terms
constexpr std::uint32_t kFolds = 20;     // of the jackknife
constexpr std::uint64_t kFoldKey = 20;   // any number

/// The first kTerms Legendre polynomials on (0, 1), of mean 0, variance 1 and without correlation.
void legendre_terms(double point, double* out, Whole stride) {
  const double x = 2.0 * point - 1.0;
  double before = 1.0, here = x;
  for (Whole d = 1; d <= kTerms; ++d) {
    const double degree = static_cast<double>(d);
    out[(d - 1) * stride] = std::sqrt(2.0 * degree + 1.0) * here;
    const double next = ((2.0 * degree + 1.0) * x * here - degree * before) / (degree + 1.0);
    before = std::exchange(here, next);
  }
}

/// The first kTerms / 2 waves, cosine and sine, likewise.
void wave_terms(double point, double* out, Whole stride) {
  for (Whole w = 0; w < kTerms / 2; ++w) {
    const double angle = kTwoPi * static_cast<double>(w + 1) * point;
    out[2 * w * stride] = std::sqrt(2.0) * std::cos(angle);
    out[(2 * w + 1) * stride] = std::sqrt(2.0) * std::sin(angle);
  }
}

/// Terms at all points, those of one fold behind each other.
struct TermTable {
  MatrixXd terms;                   // points x (kTerms an input)
  std::vector<bool> plain;          // [term] always looked at
  std::vector<Whole> row;           // number of the sample's point
  std::vector<Whole> begin;         // of each fold, and the end
  std::vector<Whole> always;        // the first terms of every input, fitted whatever they are
  std::vector<MatrixXd> of_always;  // products of 1 and these, of each fold

  Whole points() const { return terms.rows(); }
  Whole count(std::size_t fold) const { return begin[fold + 1] - begin[fold]; }
};

/// Folds by chance: every twentieth point of a Sobol' sequence is not just any sample of it.
void deal_folds(Whole points, TermTable& out) {
  std::vector<std::uint32_t> fold;
  for (Whole i = 0; i < points; ++i)
    fold.push_back(below_count(kFoldKey, static_cast<std::uint64_t>(i), kFolds));
  out.row.resize(static_cast<std::size_t>(points));
  std::iota(out.row.begin(), out.row.end(), Whole{0});
  std::stable_sort(out.row.begin(), out.row.end(), [&](Whole a, Whole b) { return fold[a] < fold[b]; });
  for (std::uint32_t f = 0; f <= kFolds; ++f)
    out.begin.push_back(
        std::count_if(fold.begin(), fold.end(), [f](std::uint32_t each) { return each < f; }));
}

/// Entry by entry: a product of whole matrices is blocked by the number of threads, and its last digits with
/// it.
MatrixXd products_of_always(const TermTable& table, std::size_t fold) {
  const Whole first = table.begin[fold], count = table.count(fold);
  const Whole k = 1 + static_cast<Whole>(table.always.size());
  MatrixXd out(k, k);
  out(0, 0) = static_cast<double>(count);
  for (Whole a = 1; a < k; ++a) {
    const auto column = table.terms.col(table.always[a - 1]).segment(first, count);
    out(a, 0) = out(0, a) = column.sum();
    for (Whole b = 1; b <= a; ++b)
      out(a, b) = out(b, a) = column.dot(table.terms.col(table.always[b - 1]).segment(first, count));
  }
  return out;
}

TermTable term_table(const SampleMatrix& points, const std::vector<bool>& cyclic) {
  const Whole inputs = points.cols();
  const Whole most = std::clamp(kMostNumbers / (kTerms * inputs), Whole{1024}, kMostPoints);
  const Whole n = std::min(points.rows(), most);
  // As high a degree as the points bear.
  const Whole degree = std::min(kPlainTerms, n / (kPointsPerInput * inputs));
  TermTable out;
  deal_folds(n, out);
  out.terms.resize(n, kTerms * inputs);
  out.plain.resize(static_cast<std::size_t>(kTerms * inputs));
  for_each_piece(inputs, [&](long j) {
    for (Whole r = 0; r < n; ++r) {
      double* first = &out.terms(r, kTerms * j);
      const double point = points(out.row[r], j);
      cyclic[j] ? wave_terms(point, first, n) : legendre_terms(point, first, n);
    }
  });
  for (Whole j = 0; j < inputs; ++j)
    for (Whole t = 0; t < kTerms; ++t)
      out.plain[kTerms * j + t] = t < (cyclic[j] ? (degree < kPlainTerms ? 2 : kPlainWaves) : degree);
  // What is fitted only where it stands out is told too small where it hardly does: not so the straight
  // lines.
  if (degree > 0)
    for (Whole j = 0; j < inputs; ++j)
      for (Whole t = 0; t < (cyclic[j] ? 2 : 1); ++t) out.always.push_back(kTerms * j + t);
  out.of_always.resize(kFolds);
  for_each_piece(kFolds,
                 [&](long f) { out.of_always[f] = products_of_always(out, static_cast<std::size_t>(f)); });
  return out;
}

/// Upper triangular U with U' U = A; an empty one where A is not positive definite.
MatrixXd upper_factor(const MatrixXd& a) {
  MatrixXd u = MatrixXd::Zero(a.rows(), a.cols());
  for (Whole j = 0; j < a.cols(); ++j) {
    for (Whole i = 0; i < j; ++i) u(i, j) = (a(i, j) - u.col(i).head(i).dot(u.col(j).head(i))) / u(i, i);
    const double pivot = a(j, j) - u.col(j).head(j).squaredNorm();
    if (!(pivot > 0.0)) return {};
    u(j, j) = std::sqrt(pivot);
  }
  return u;
}

VectorXd solved_with(const MatrixXd& u, VectorXd x) {
  for (Whole i = 0; i < x.size(); ++i) x[i] = (x[i] - u.col(i).head(i).dot(x.head(i))) / u(i, i);
  for (Whole i = x.size() - 1; i >= 0; --i) {
    x[i] /= u(i, i);
    x.head(i) -= x[i] * u.col(i).head(i);
  }
  return x;
}

/// Diagonal of the inverse: the variances of the coefficients over that of the noise.
VectorXd inverse_diagonal(const MatrixXd& u) {
  VectorXd out = VectorXd::Zero(u.rows());
  for (Whole k = 0; k < u.rows(); ++k) {
    // Row k of the inverse of U' is found downwards from its 1; its squares add to the diagonal.
    VectorXd x = VectorXd::Zero(u.rows());
    x[k] = 1.0 / u(k, k);
    for (Whole i = k + 1; i < u.rows(); ++i)
      x[i] = -u.col(i).segment(k, i - k).dot(x.segment(k, i - k)) / u(i, i);
    out[k] = x.squaredNorm();
  }
  return out;
}

/// Sums of products over some points: fitted columns (the first is 1) with each other and with the output,
/// the output's square, and the plain terms with what the fit leaves.
struct ProductSums {
  double points = 0.0, square = 0.0;
  MatrixXd columns;
  VectorXd output, left;

  ProductSums without(const ProductSums& fold) const {
    return {points - fold.points, square - fold.square, columns - fold.columns, output - fold.output,
            left - fold.left};
  }
};

/// One output: the terms that stand out, and what is left beside them.
class OutputFit {
 public:
  OutputFit(const TermTable& table, const std::vector<double>& output) : table_(table) {
    const Whole n = table.points();
    // Sums of squares lose digits on a large mean; by the first output, so that a constant varies by exactly
    // 0.
    value_.resize(n);
    for (Whole r = 0; r < n; ++r) value_[r] = output[table.row[r]] - output[0];
    value_.array() -= value_.sum() / static_cast<double>(n);
    if (value_.cwiseAbs().maxCoeff() <= 0.0) return;
    varies_ = true;
    fitted_ = table.always;
    gram_ = table.of_always[0];
    for (std::size_t f = 1; f < kFolds; ++f) gram_ += table.of_always[f];
    product_.resize(gram_.rows());
    product_[0] = value_.sum();
    for (std::size_t k = 0; k < fitted_.size(); ++k)
      product_[static_cast<Whole>(k) + 1] = table.terms.col(fitted_[k]).dot(value_);
    left_ = value_;
    fit();
    for (int round = 0; round < kMostRounds && take_up(); ++round) {
    }
  }

  /// Shares of all terms, fitted or plain; 0 for the others.
  /// `without`: a fold that is left out, kFolds for none.
  VectorXd shares(std::size_t without) {
    if (!varies_) return VectorXd::Zero(table_.terms.cols());
    if (folds_.empty()) sum_up();
    return without == kFolds ? shares_of(all_) : shares_of(all_.without(folds_[without]));
  }

 private:
  Whole most_fitted() const {
    return static_cast<Whole>(table_.always.size()) + std::min(kMostFitted, table_.points() / kPointsPerTerm);
  }

  /// What the fit of all columns leaves; false where they depend on each other.
  bool fit() {
    const MatrixXd factor = upper_factor(gram_);
    if (factor.size() == 0) return false;
    const VectorXd coefficient = solved_with(factor, product_);
    left_ = value_.array() - coefficient[0];
    for (Whole c = 1; c < coefficient.size(); ++c) left_ -= coefficient[c] * table_.terms.col(fitted_[c - 1]);
    return true;
  }

  /// Fits the terms that stand out of what is left as well; false where there is none.
  bool take_up() {
    const double n = static_cast<double>(table_.points());
    const double noise = left_.squaredNorm() / (n - static_cast<double>(gram_.cols()));
    const double scale = value_.squaredNorm() / n;
    if (noise <= 1e-24 * scale) return false;
    std::vector<std::pair<double, Whole>> found;
    for (Whole t = 0; t < table_.terms.cols(); ++t) {
      const double product = table_.terms.col(t).dot(left_);
      if (product * product > kStandsOut * kStandsOut * noise * n) found.emplace_back(-product * product, t);
    }
    std::sort(found.begin(), found.end());
    const Whole room = std::min(kMostAtOnce, most_fitted() - static_cast<Whole>(fitted_.size()));
    bool any = false;
    for (Whole k = 0; k < std::min(room, static_cast<Whole>(found.size())); ++k) {
      const Whole term = found[k].second;
      if (std::find(fitted_.begin(), fitted_.end(), term) != fitted_.end()) continue;
      add(term);
      any = true;
    }
    if (!any) return false;
    return fit();
  }

  void add(Whole term) {
    const Whole c = gram_.cols();
    const auto added = table_.terms.col(term);
    fitted_.push_back(term);
    gram_.conservativeResize(c + 1, c + 1);
    product_.conservativeResize(c + 1);
    gram_(0, c) = gram_(c, 0) = added.sum();
    for (Whole b = 1; b <= c; ++b) gram_(b, c) = gram_(c, b) = table_.terms.col(fitted_[b - 1]).dot(added);
    product_[c] = added.dot(value_);
  }

  void sum_up() {
    for (Whole t = 0; t < table_.terms.cols(); ++t)
      if (table_.plain[t] && std::find(fitted_.begin(), fitted_.end(), t) == fitted_.end())
        plain_.push_back(t);
    const Whole k = gram_.cols(), rest = static_cast<Whole>(plain_.size());
    const Whole known = 1 + static_cast<Whole>(table_.always.size());
    all_ = {0.0, 0.0, MatrixXd::Zero(k, k), VectorXd::Zero(k), VectorXd::Zero(rest)};
    for (std::size_t f = 0; f < kFolds; ++f) {
      const Whole first = table_.begin[f], count = table_.count(f);
      ProductSums sums{static_cast<double>(count), value_.segment(first, count).squaredNorm(), MatrixXd(k, k),
                       VectorXd(k), VectorXd(rest)};
      sums.columns.topLeftCorner(known, known) = table_.of_always[f];
      sums.output[0] = value_.segment(first, count).sum();
      for (Whole a = 1; a < k; ++a) {
        const auto here = table_.terms.col(fitted_[a - 1]).segment(first, count);
        sums.output[a] = here.dot(value_.segment(first, count));
        if (a < known) continue;
        sums.columns(a, 0) = sums.columns(0, a) = here.sum();
        for (Whole b = 1; b <= a; ++b)
          sums.columns(a, b) = sums.columns(b, a) =
              here.dot(table_.terms.col(fitted_[b - 1]).segment(first, count));
      }
      for (Whole t = 0; t < rest; ++t)
        sums.left[t] = table_.terms.col(plain_[t]).segment(first, count).dot(left_.segment(first, count));
      all_.points += sums.points;
      all_.square += sums.square;
      all_.columns += sums.columns;
      all_.output += sums.output;
      all_.left += sums.left;
      folds_.push_back(std::move(sums));
    }
    spread_ = inverse_diagonal(upper_factor(all_.columns));
  }

  VectorXd shares_of(const ProductSums& sums) const {
    VectorXd out = VectorXd::Zero(table_.terms.cols());
    const double mean = sums.output[0] / sums.points;
    const double variance = (sums.square - sums.points * mean * mean) / (sums.points - 1.0);
    const MatrixXd factor = upper_factor(sums.columns);
    if (!(variance > 0.0) || factor.size() == 0) return out;
    const VectorXd coefficient = solved_with(factor, sums.output);
    const double free = sums.points - static_cast<double>(coefficient.size());
    const double noise = std::max(0.0, sums.square - coefficient.dot(sums.output)) / free;
    for (Whole c = 1; c < coefficient.size(); ++c)
      out[fitted_[c - 1]] =
          (coefficient[c] * coefficient[c] - noise * spread_[c] * all_.points / sums.points) / variance;
    for (Whole t = 0; t < sums.left.size(); ++t) {
      const double here = sums.left[t] / free;
      out[plain_[t]] = (here * here - noise / free) / variance;
    }
    return out;
  }

  const TermTable& table_;
  bool varies_ = false;
  VectorXd value_, left_;      // of the output, its mean taken off; what the fit leaves of it
  std::vector<Whole> fitted_;  // terms
  std::vector<Whole> plain_;   // the others that count
  MatrixXd gram_;              // products of 1 and the fitted terms
  VectorXd product_;           // of these with the output
  ProductSums all_;
  std::vector<ProductSums> folds_;
  VectorXd spread_;
};

VectorXd set_sums(const VectorXd& terms, const std::vector<std::vector<int>>& sets) {
  VectorXd out = VectorXd::Zero(static_cast<Whole>(sets.size()));
  for (std::size_t s = 0; s < sets.size(); ++s)
    for (const int input : sets[s]) out[static_cast<Whole>(s)] += terms.segment(kTerms * input, kTerms).sum();
  return out;
}

std::vector<Share> shares_of_output(const TermTable& table, const std::vector<double>& output,
                                    const std::vector<std::vector<int>>& sets) {
  OutputFit fit(table, output);
  const VectorXd whole = set_sums(fit.shares(kFolds), sets);
  std::vector<VectorXd> without;
  VectorXd mean = VectorXd::Zero(whole.size()), squares = mean;
  for (std::size_t f = 0; f < kFolds; ++f) {
    without.push_back(set_sums(fit.shares(f), sets));
    mean += without.back() / static_cast<double>(kFolds);
  }
  for (const VectorXd& each : without) squares += (each - mean).cwiseAbs2();
  const VectorXd error = (squares * ((kFolds - 1.0) / kFolds)).cwiseSqrt();
  std::vector<Share> out;
  for (Whole s = 0; s < whole.size(); ++s) out.push_back({whole[s], error[s]});
  return out;
}

void check_shares_fit(const SampleMatrix& points, const std::vector<bool>& cyclic,
                      const std::vector<std::vector<int>>& sets,
                      const std::vector<std::vector<double>>& outputs) {
  if (static_cast<Whole>(cyclic.size()) != points.cols())
    refuse("shares: of each input it must be said whether it closes upon itself");
  for (const std::vector<int>& set : sets)
    for (const int input : set)
      if (input < 0 || input >= points.cols()) refuse("shares: input ", input, " does not exist");
  bool finite = numerics::all_finite(points.data(), static_cast<std::size_t>(points.size()));
  for (const std::vector<double>& output : outputs) {
    if (static_cast<Whole>(output.size()) != points.rows())
      refuse("shares: one output for each row of inputs is needed");
    finite = finite && numerics::all_finite(output.data(), output.size());
  }
  if (!finite) refuse("shares: every input and output must be finite");
}

}  // namespace

std::vector<std::vector<Share>> variance_shares(const SampleMatrix& points, const std::vector<bool>& cyclic,
                                                const std::vector<std::vector<int>>& sets,
                                                const std::vector<std::vector<double>>& outputs) {
  check_shares_fit(points, cyclic, sets, outputs);
  const Whole inputs = points.cols();
  const bool few = points.rows() < 2 * static_cast<Whole>(kFolds) || points.rows() < kPointsPerInput * inputs;
  if (inputs == 0 || few || outputs.empty()) return {};
  const TermTable table = term_table(points, cyclic);
  std::vector<std::vector<Share>> out(outputs.size());
  for_each_task(static_cast<long>(outputs.size()),
                [&](long o) { out[o] = shares_of_output(table, outputs[o], sets); });
  return out;
}

}  // namespace tuft::uncertainty
