// Inputs that are not independent: two fans of one batch are weak or strong together.
#pragma once

#include <string>
#include <vector>

namespace tuft::doubt {

/// Two inputs and the correlation of their normal scores, -1 < value < 1. For positive normal spreads that is
/// their correlation; for others it is close to their rank correlation, which is 6/pi asin(value/2).
struct CorrelatedPair {
  int first = 0;
  int second = 0;
  double value = 0.0;
};

/// A Gaussian copula (D6): ties inputs together and leaves each one's own distribution as it is. Inputs
/// without a pair pass through to the last bit.
class Correlation {
 public:
  /// `inputs` independent inputs. Throws std::invalid_argument if negative.
  explicit Correlation(int inputs);

  /// Throws std::invalid_argument if an input does not exist, a pair is given twice, a value is not within
  /// -1 .. 1 (ends left out), or the matrix is not positive definite; then the text names the smallest set of
  /// entries found that can't hold together, by `names` if one is given for each input.
  Correlation(int inputs, const std::vector<CorrelatedPair>& pairs,
              const std::vector<std::string>& names = {});

  int inputs() const { return inputs_; }

  /// Turns independent normal scores into correlated ones, in place.
  void tie_scores(double* z) const;

  /// The same for coordinates in (0, 1): each stays uniform.
  void tie(double* u) const;

  /// Sets of inputs that hang together, each rising, in the order of their first input; an independent input
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

  int inputs_ = 0;
  std::vector<Row> rows_;  ///< of the correlated inputs alone, rising
  std::vector<std::vector<int>> groups_;
};

}  // namespace tuft::doubt
