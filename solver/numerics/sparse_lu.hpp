// LU factors of large sparse matrices. The templates behind them take seconds to compile, so that they are
// compiled here alone.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <vector>

namespace tuft::numerics {

/// From this many rows on a network's matrices, with a handful of entries a row, are factored sparse. A
/// judgement: for the few dozen rows of a usual device dense factors cost less, and they stay the ones used
/// there.
constexpr int kSparseFrom = 150;

/// One entry of a matrix; entries of the same place add up.
struct Entry {
  int row = 0, column = 0;
  double value = 0.0;
};

/// LU factors of a square sparse matrix with partial pivoting by columns (Eigen's supernodal SparseLU,
/// columns in the COLAMD order); dense factors where more than a fifth of the entries are not nought. The
/// order is kept while the pattern of entries stays the same.
class SparseLu {
 public:
  SparseLu();
  SparseLu(SparseLu&&) noexcept;
  SparseLu& operator=(SparseLu&&) noexcept;
  ~SparseLu();

  /// @return false where the matrix holds a value that is no number or its sparse factors find it singular;
  /// then there is nothing to solve with. Dense factors of a singular matrix give solutions that are not
  /// finite.
  bool compute(int size, const std::vector<Entry>& entries);

  /// x of A x = b, after a `compute` that succeeded.
  Eigen::VectorXd solve(const Eigen::Ref<const Eigen::VectorXd>& b) const;

 private:
  struct Factors;
  std::unique_ptr<Factors> factors_;
};

}  // namespace tuft::numerics
