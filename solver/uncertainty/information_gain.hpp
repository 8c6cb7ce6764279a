// Which measurement would take most uncertainty away, before any is made.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/weights.hpp"

namespace tuft::uncertainty {

/// The uncertainty of a claim of probability p: its entropy -p log2 p - (1 - p) log2(1 - p) [bit], 1 at p =
/// 1/2. Throws std::invalid_argument unless 0 <= p <= 1.
double entropy_of(double p);

/// A measurement that could be made: what each point of the sample would show the instrument.
struct Candidate {
  ErrorModel error;
  std::vector<double> shown;
};

/// How the worth is reckoned. The numbers are judgements.
struct InformationGainRule {
  int readings = 256;      ///< imagined readings of an instrument that shows a number
  int most_points = 4096;  ///< points of the sample used; more are thinned by systematic resampling
  std::uint64_t seed = 1;
};

/// Expected drop of uncertainty by one measurement (D15).
struct InformationGain {
  int candidate = 0;          ///< number in the list given
  std::vector<double> gain;   ///< of each claim; may fall a little below 0
  std::vector<double> error;  ///< its standard error from the imagined readings; 0 if they can be listed
  double total = 0.0;         ///< sum of the drops
  /// How far the total of a measurement that tells nothing lies from 0 by the sample's noise alone: one
  /// standard deviation.
  double noise = 0.0;

  /// True if the total stands out of the noise, by two standard deviations.
  bool stands_out() const { return total > 2.0 * noise; }
};

/// Preposterior analysis on a sample that is there: readings are imagined from the points' own weights, and
/// the sample is reweighted by each. A point that gave a reading takes no part in judging it, or a sample
/// with few points would find every measurement decisive. The few points that are left after a reading differ
/// by chance, which looks like knowledge: what it would feign of a measurement that tells nothing is taken
/// off, in proportion to the uncertainty that is left. `claims[c][i]` is 1 if claim c is true for point i, 0
/// if not, or a share between.
///
/// Returned by falling total; equal ones in the order given. Readings are shared among threads.
/// Throws std::invalid_argument if numbers of points differ, a model is not valid, a value not finite, an
/// event outside 0 .. 1, readings < 2 or most_points < 2.
std::vector<InformationGain> rank_information_gain(const std::vector<Candidate>& candidates,
                                                   const std::vector<std::vector<double>>& claims,
                                                   const Weights& weights,
                                                   const InformationGainRule& rule = {});

}  // namespace tuft::uncertainty
