// Bayes by reweighting: observations give the points of a sample more or less weight.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/rows.hpp"

namespace tuft::doubt {

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
std::vector<double> combined(const Rows& log_likelihood, int without = -1);

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

}  // namespace tuft::doubt
