// Numbers that aren't known exactly: each one's distribution, and how they are correlated.
#pragma once

#include <limits>
#include <string>
#include <vector>

namespace tuft::uncertainty {

enum class Shape {
  fixed,        ///< always `nominal`
  normal,       ///< low..high is the central 95 % interval, nominal its middle
  uniform,      ///< anywhere in low..high, equally likely
  log_uniform,  ///< the logarithm is uniform; low > 0
  triangular,   ///< low..high with the mode at nominal
  steps         ///< as likely between any two neighbours of `steps`, from low to high
};

/// A distribution (D5) cut off at the physical bounds `floor` and `ceiling`: what lies beyond them is left
/// out and the rest scaled up to 1, so that no probability heaps up at a bound. low <= nominal <= high.
struct Distribution {
  Shape shape = Shape::fixed;
  double nominal = 0.0;
  double low = 0.0;
  double high = 0.0;
  double floor = -std::numeric_limits<double>::infinity();
  double ceiling = std::numeric_limits<double>::infinity();
  std::vector<double> steps = {};  ///< of Shape::steps: two or more, rising
};

/// Throws std::invalid_argument "<what>: ..." if a number is not finite, low <= nominal <= high is broken, a
/// shape's own condition is broken, the nominal value lies outside the bounds, or the bounds leave less than
/// half of the probability: a spread that has little to do with what is physical is a mistake.
void require_valid(const Distribution& distribution, const char* what);

/// Probability of the uncut shape that lies beyond the bounds; the caller may want to tell the person.
double cut_away(const Distribution& distribution);

/// The value below which a part `u` of the cut distribution lies, within the bounds. 0 < u < 1.
/// @pre require_valid passes.
double quantile(const Distribution& distribution, double u);

/// The part of the cut distribution that lies below x, 0 .. 1: the inverse of quantile() where that rises.
/// @pre require_valid passes.
double cumulative(const Distribution& distribution, double x);

/// Two inputs and the correlation of their normal scores, -1 < value < 1. For positive normal spreads that is
/// their correlation; for others it is close to their rank correlation, which is 6/pi asin(value/2).
struct CorrelatedPair {
  int first = 0;
  int second = 0;
  double value = 0.0;
};

/// Inputs that are known together only (D26): equally likely rows of places, each of the `parts` parts of
/// equal probability of an input's distribution, counted from 0.
struct JointPlaces {
  std::vector<int> inputs;               ///< one a column
  std::vector<std::vector<int>> places;  ///< [row][column]
  int parts = 1;
};

/// A Gaussian copula (D6): ties inputs together and leaves each one's own distribution as it is. Inputs
/// without a pair pass through to the last bit. Inputs of a joint list are tied by that instead, and take
/// from it also how their places are distributed.
class Correlation {
 public:
  /// `inputs` independent inputs. Throws std::invalid_argument if negative.
  explicit Correlation(int inputs);

  /// Throws std::invalid_argument if an input does not exist, a pair is given twice, a value is not within
  /// -1 .. 1 (ends left out), or the matrix is not positive definite; then the text names the smallest set of
  /// entries found that can't hold together, by `names` if one is given for each input.
  Correlation(int inputs, const std::vector<CorrelatedPair>& pairs,
              const std::vector<std::string>& names = {});

  /// The same with a list of what is known together; pairs of its inputs are left out. Throws
  /// std::invalid_argument also if an input of it does not exist or is given twice, there is no row, a row
  /// has another length or a place is not within 0 .. parts - 1.
  Correlation(int inputs, const std::vector<CorrelatedPair>& pairs, const std::vector<std::string>& names,
              JointPlaces joint);

  int inputs() const { return inputs_; }

  /// Turns independent normal scores into correlated ones, in place.
  void tie_scores(double* z) const;

  /// The same for coordinates in (0, 1): each stays uniform.
  void tie(double* u) const;

  /// Sets of inputs that are correlated, each rising, in the order of their first input; an independent input
  /// is a set of its own. Sensitivity to a set as a whole is well defined, to a part of it is not.
  const std::vector<std::vector<int>>& groups() const { return groups_; }

 private:
  /// One row of the Cholesky factor: its non-zero entries, the diagonal last.
  struct Row {
    int input = 0;
    std::vector<int> column;
    std::vector<double> factor;
  };
  void factorise(const std::vector<CorrelatedPair>& pairs, const std::vector<std::string>& names);
  void tie_rows(double* z) const;
  void place_joint(double* u) const;

  int inputs_ = 0;
  std::vector<Row> rows_;  ///< of the correlated inputs alone, rising
  JointPlaces joint_;
  std::vector<std::vector<int>> groups_;
};

}  // namespace tuft::uncertainty
