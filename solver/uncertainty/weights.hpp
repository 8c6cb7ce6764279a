// Weighted samples: in a few numbers, reweighted by observations (Bayes), and where to look next when these
// leave too few points with weight.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <vector>

#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {

/// Mean and standard deviation of a weighted sample (D7).
struct Moments {
  double mean = 0.0;
  double deviation = 0.0;  ///< of the variable, not of the mean; 0 if the weight lies on one point
};

/// `weight` need not sum to 1; empty: all equal. Throws std::invalid_argument if the sample is empty, sizes
/// differ, a number is not finite, a weight is negative or all are 0.
Moments moments(const std::vector<double>& value, const std::vector<double>& weight = {});

/// The values below which the parts `part` (each within 0 .. 1) of the weight lie (D7). Ends are the smallest
/// and the largest value of positive weight. Throws as moments(), or if a part is outside 0 .. 1.
std::vector<double> quantiles(const std::vector<double>& value, const std::vector<double>& part,
                              const std::vector<double>& weight = {});

/// The central interval that holds `level` of the weight. Throws as quantiles(), or unless 0 < level < 1.
Interval central_interval(const std::vector<double>& value, double level,
                          const std::vector<double>& weight = {});

/// Weights of a sample's points (D12).
struct Weights {
  std::vector<double> value;  ///< they sum to 1
  double effective = 0.0;     ///< effective number of points, 1 / sum of squares
};

/// From log-likelihoods of equally weighted points (or, for points of a Proposal, with its log_weight added).
/// Minus infinity is a weight of 0. Throws std::invalid_argument if there is none, one is NaN or plus
/// infinity, or none is finite: then no point can have given what was observed.
Weights normalise(const std::vector<double>& log_weight);

/// Sum of each row of log-likelihoods (one row a point, one column an observation), column `without` left
/// out; -1: none. Throws std::invalid_argument if there is no such column.
std::vector<double> combined(const SampleMatrix& log_likelihood, int without = -1);

/// Systematic resampling: `count` numbers of points, rising; a point of weight w comes floor or ceil of
/// count w times. The points are put in an order of chance first, by `seed`: a comb drawn over a Sobol'
/// sequence as it stands would take every fourth point, say, and these lie in one corner. Throws
/// std::invalid_argument if count < 1.
std::vector<int> resample(const Weights& weights, int count, std::uint64_t seed);

/// The comb alone, over points that stand in an order that means something: teeth at (k + start)/count of the
/// summed weight. `start` in [0, 1); weights >= 0, with sum 1.
/// Throws std::invalid_argument if count < 1 or start is outside.
std::vector<int> systematic(const std::vector<double>& weight, int count, double start);

/// Largest exponent in 0 .. 1 on the likelihood that leaves at least `effective` points; for a sharp
/// likelihood, to be brought in by steps with a Proposal between them. `base`: log-weights that are there
/// anyway, empty for none. 0 if even those leave fewer.
double tempering(const std::vector<double>& log_likelihood, double effective,
                 const std::vector<double>& base = {});

/// How an observation lies among those the weighted sample foresees.
struct PredictiveTail {
  double below = 0.5;      ///< probability of a smaller reading, half of the equal ones counted
  double two_sided = 1.0;  ///< twice the smaller of the two tails: small if the model can't explain it
};

/// Posterior predictive check of one observation (D13). `shown[i]` is what point i shows the instrument. With
/// weights that know the observation it is mild; with weights of combined(.., without it) it is strict.
/// Throws std::invalid_argument as log_likelihood() does, or if the numbers differ.
PredictiveTail predictive_tail(const Weights& weights, const ErrorModel& model, double reading,
                               const std::vector<double>& shown);

/// Probability that an observation is a toss-up (the model's lapse) and not what was seen (D13), among points
/// that do not know it; 0 for instruments without a lapse. Throws as predictive_tail() does.
double lapse_probability(const Weights& weights, const ErrorModel& model, double reading,
                         const std::vector<double>& shown);

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
  Proposal(const SampleMatrix& scores, const Weights& weights, const ProposalRule& rule = {});

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

}  // namespace tuft::uncertainty
