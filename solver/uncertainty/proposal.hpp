// Where to look next when observations leave too few points of the sample with weight.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/uncertainty/rows.hpp"
#include "solver/uncertainty/weights.hpp"

namespace tuft::doubt {

/// How a proposal is fitted. Both numbers are judgements.
struct ProposalRule {
  double prior_share = 0.1;   ///< of the new points, drawn from the prior as before; bounds every weight
  double significance = 3.0;  ///< standard errors by which an input must have moved to be followed
};

/// A distribution fitted to a weighted sample, in the space of independent normal scores where the prior is
/// standard normal (D14): a mixture of the prior and a Gaussian. Inputs about which the observations say
/// nothing that stands out of the noise keep their prior, so that many idle inputs cost no weight; of the
/// others at most a third as many as there are effective points are followed, those that moved most. Weights
/// of its points are bounded by 1 / prior_share.
///
/// Some hundred effective points are needed to see what moved: where fewer are left, bring the likelihood in
/// by steps with tempering().
class Proposal {
 public:
  /// Row i of `scores` are the independent normal scores of point i.
  /// Throws std::invalid_argument if there is not one weight for each row, a score is not finite, fewer than
  /// two effective points are left (temper the likelihood first), or not 0 < prior_share < 1 and
  /// significance >= 0.
  Proposal(const Rows& scores, const Weights& weights, const ProposalRule& rule = {});

  int inputs() const { return inputs_; }

  /// Inputs the Gaussian follows; the others keep the prior.
  const std::vector<int>& followed() const { return followed_; }

  /// Turns inputs() + 1 coordinates in (0, 1), such as a point of a Sobol' sequence, into scores of a new
  /// point; the last one chooses the part of the mixture.
  void draw(const double* u, double* z) const;

  /// Log of prior over proposal density at a point, to be added to its log-likelihood.
  double log_weight(const double* z) const;

 private:
  int inputs_ = 0;
  double prior_share_ = 0.0;
  std::vector<int> followed_;
  Eigen::VectorXd mean_;    ///< of the followed inputs
  Eigen::MatrixXd factor_;  ///< Cholesky factor of their covariance
  double log_scale_ = 0.0;  ///< log of its determinant
};

}  // namespace tuft::doubt
