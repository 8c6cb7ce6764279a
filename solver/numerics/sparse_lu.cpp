#include "solver/numerics/sparse_lu.hpp"

#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/numerics/dense.hpp"

namespace tuft::numerics {

using Matrix = Eigen::SparseMatrix<double>;

struct SparseLu::Factors {
  Matrix matrix;
  Eigen::SparseLU<Matrix, Eigen::COLAMDOrdering<int>> lu;
  bool is_full = false;  // `dense` holds the factors
  DenseLu dense;
};

namespace {

// Share of entries that are not nought from which on a matrix is factored as a full one: there sparse factors
// of networks, which fill in, take longer (by measurement on boxes of many vents).
constexpr double kFull = 0.2;

bool same_pattern(const Matrix& a, const Matrix& b) {
  if (a.rows() != b.rows() || a.nonZeros() != b.nonZeros()) return false;
  return std::equal(a.outerIndexPtr(), a.outerIndexPtr() + a.outerSize() + 1, b.outerIndexPtr()) &&
         std::equal(a.innerIndexPtr(), a.innerIndexPtr() + a.nonZeros(), b.innerIndexPtr());
}

// Eigen's own reader of lists of entries.
struct Triplet {
  const Entry* entry;
  int row() const { return entry->row; }
  int col() const { return entry->column; }
  double value() const { return entry->value; }
};

struct TripletIterator {
  const Entry* entry;
  bool operator!=(const TripletIterator& other) const { return entry != other.entry; }
  TripletIterator& operator++() {
    ++entry;
    return *this;
  }
  Triplet operator*() const { return {entry}; }
  struct Arrow {
    Triplet triplet;
    const Triplet* operator->() const { return &triplet; }
  };
  Arrow operator->() const { return {{entry}}; }
};

}  // namespace

SparseLu::SparseLu() = default;
SparseLu::SparseLu(SparseLu&&) noexcept = default;
SparseLu& SparseLu::operator=(SparseLu&&) noexcept = default;
SparseLu::~SparseLu() = default;

bool SparseLu::compute(int size, const std::vector<Entry>& entries) {
  for (const Entry& entry : entries)
    if (!std::isfinite(entry.value)) return false;
  Matrix matrix(size, size);
  matrix.setFromTriplets(TripletIterator{entries.data()}, TripletIterator{entries.data() + entries.size()});
  const bool known = factors_ && same_pattern(factors_->matrix, matrix);
  if (!known) {
    factors_ = std::make_unique<Factors>();
    factors_->is_full = static_cast<double>(matrix.nonZeros()) > kFull * size * static_cast<double>(size);
    if (!factors_->is_full) factors_->lu.analyzePattern(matrix);
  }
  factors_->matrix = std::move(matrix);
  if (factors_->is_full) {
    factors_->dense.compute(Eigen::MatrixXd(factors_->matrix));
    return true;
  }
  factors_->lu.factorize(factors_->matrix);
  return factors_->lu.info() == Eigen::Success;
}

Eigen::VectorXd SparseLu::solve(const Eigen::Ref<const Eigen::VectorXd>& b) const {
  return factors_->is_full ? factors_->dense.solve(b) : Eigen::VectorXd(factors_->lu.solve(b));
}

}  // namespace tuft::numerics
