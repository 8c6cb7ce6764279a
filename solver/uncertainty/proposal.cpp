#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "solver/numerics/checks.hpp"
#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/weights.hpp"

namespace tuft::uncertainty {
namespace {

void check(const SampleMatrix& scores, const Weights& weights, const ProposalRule& rule) {
  if (static_cast<std::size_t>(scores.rows()) != weights.value.size() || scores.cols() < 1)
    refuse("proposal: one row of scores for each weight is needed");
  if (!numerics::all_finite(scores.data(), static_cast<std::size_t>(scores.size())))
    refuse("proposal: every score must be finite");
  if (!(weights.effective >= 2.0)) refuse("proposal: fewer than two effective points are left to fit to");
  if (!(rule.prior_share > 0.0 && rule.prior_share < 1.0))
    refuse("proposal: the share of the prior must be > 0 and < 1");
  numerics::require_not_negative(rule.significance, "significance");
}

/// Columns whose weighted mean or variance stand out of the noise of as many points as are effective, rising.
std::vector<int> moved(const SampleMatrix& scores, const Eigen::VectorXd& weight, const Eigen::VectorXd& mean,
                       double effective, double significance) {
  std::vector<std::pair<double, int>> found;
  for (Eigen::Index j = 0; j < scores.cols(); ++j) {
    const double variance = weight.dot((scores.col(j).array() - mean[j]).square().matrix());
    // Standard errors under the prior: 1/sqrt(n) of the mean, sqrt(2/n) of the variance.
    const double by =
        std::sqrt(effective) * std::max(std::abs(mean[j]), std::abs(variance - 1.0) / std::sqrt(2.0));
    if (by > significance) found.emplace_back(-by, static_cast<int>(j));
  }
  std::sort(found.begin(), found.end());
  const std::size_t most = std::max<std::size_t>(1, static_cast<std::size_t>(effective / 3.0));
  if (found.size() > most) found.resize(most);
  std::vector<int> out;
  out.reserve(found.size());
  for (const auto& each : found) out.push_back(each.second);
  std::sort(out.begin(), out.end());
  return out;
}

/// Weighted covariance of the followed columns, widened as their number nears that of effective points: a fit
/// too narrow loses the tails, one too wide only time.
Eigen::MatrixXd covariance(const SampleMatrix& scores, const Eigen::VectorXd& weight,
                           const Eigen::VectorXd& mean, const std::vector<int>& followed, double effective) {
  const Eigen::Index k = static_cast<Eigen::Index>(followed.size());
  Eigen::MatrixXd centred(scores.rows(), k);
  for (Eigen::Index c = 0; c < k; ++c) {
    const int j = followed[c];
    centred.col(c) = scores.col(j).array() - mean[j];
  }
  // Entry by entry: a product of whole matrices is blocked by the number of threads, and its last digits with
  // it.
  Eigen::MatrixXd out(k, k);
  for (Eigen::Index a = 0; a < k; ++a) {
    const Eigen::VectorXd weighted = centred.col(a).cwiseProduct(weight);
    for (Eigen::Index b = 0; b <= a; ++b) out(a, b) = out(b, a) = weighted.dot(centred.col(b));
  }
  out *= effective / (effective - 1.0) * (1.0 + static_cast<double>(k) / effective);
  // A sample that lies on a plane has no width across it.
  out.diagonal().array() += 1e-9;
  return out;
}

}  // namespace

Proposal::Proposal(const SampleMatrix& scores, const Weights& weights, const ProposalRule& rule)
    : inputs_(static_cast<int>(scores.cols())), prior_share_(rule.prior_share) {
  check(scores, weights, rule);
  const Eigen::Map<const Eigen::VectorXd> weight(weights.value.data(), scores.rows());
  const Eigen::VectorXd mean = scores.transpose() * weight;
  followed_ = moved(scores, weight, mean, weights.effective, rule.significance);
  const Eigen::Index k = static_cast<Eigen::Index>(followed_.size());
  mean_.resize(k);
  for (Eigen::Index c = 0; c < k; ++c) mean_[c] = mean[followed_[c]];
  if (k == 0) return;
  factor_ = covariance(scores, weight, mean, followed_, weights.effective).llt().matrixL();
  log_scale_ = factor_.diagonal().array().log().sum();
}

void Proposal::draw(const double* u, double* z) const {
  for (int j = 0; j < inputs_; ++j) z[j] = normal_quantile(u[j]);
  if (u[inputs_] < prior_share_) return;
  const Eigen::Index k = mean_.size();
  Eigen::VectorXd free(k);
  for (Eigen::Index c = 0; c < k; ++c) free[c] = z[followed_[c]];
  const Eigen::VectorXd placed = mean_ + factor_ * free;
  for (Eigen::Index c = 0; c < k; ++c) z[followed_[c]] = placed[c];
}

double Proposal::log_weight(const double* z) const {
  const Eigen::Index k = mean_.size();
  if (k == 0) return 0.0;
  Eigen::VectorXd point(k);
  for (Eigen::Index c = 0; c < k; ++c) point[c] = z[followed_[c]];
  // Inputs that are not followed have the same density in both and drop out, as does (2 pi)^(k/2).
  const Eigen::VectorXd free = factor_.triangularView<Eigen::Lower>().solve(point - mean_);
  const double gauss_over_prior = -0.5 * free.squaredNorm() - log_scale_ + 0.5 * point.squaredNorm();
  // log(a + (1 - a) e^g), safe for a large g.
  const double large = std::max(gauss_over_prior, 0.0);
  return -(large + std::log(prior_share_ * std::exp(-large) +
                            (1.0 - prior_share_) * std::exp(gauss_over_prior - large)));
}

}  // namespace tuft::uncertainty
