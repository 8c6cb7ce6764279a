#include "solver/field/frontal_lu.hpp"

#define EIGEN_DONT_PARALLELIZE  // fronts are shared among threads here; inside one, sums keep one order
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/field/dissection.hpp"

namespace tuft::field {
namespace {

/// Entry `value` of the pattern goes to row, column of a front.
struct Placement {
  int value, row, column;
};

}  // namespace

template <class Scalar>
struct FrontalLu<Scalar>::Impl {
  using Matrix = Eigen::Matrix<Scalar, Eigen::Dynamic, Eigen::Dynamic>;

  struct Node {
    Front front;
    std::vector<Placement> entries;
    std::vector<int> to_parent;  ///< border index -> index in the parent's front
    Matrix pivots;               ///< L and U of the own block
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> rows;
    Matrix upper;                ///< own x border
    Matrix lower;                ///< border x own
    Matrix update;               ///< border x border, handed to the parent
    mutable Matrix own, border;  ///< a column each right-hand side
    int replaced = 0;
    int n_own() const { return static_cast<int>(front.own.size()); }
    int n_border() const { return static_cast<int>(front.border.size()); }
  };
  std::vector<Node> nodes;
  std::size_t n = 0;  ///< unknowns

  /// Where unknown `list[k]` of right-hand side m lies.
  std::size_t at(const std::vector<int>& list, int k, int m) const {
    return static_cast<std::size_t>(m) * n + static_cast<std::size_t>(list[static_cast<std::size_t>(k)]);
  }

  void place_entries(const SparsePattern& pattern) {
    n = static_cast<std::size_t>(pattern.n());
    std::vector<int> front_of(n), local(n, -1);
    for (std::size_t f = 0; f < nodes.size(); ++f)
      for (int d : nodes[f].front.own) front_of[static_cast<std::size_t>(d)] = static_cast<int>(f);
    // Entries by the front that eliminates the earlier of their two unknowns.
    struct Entry {
      int value, row, column;
    };
    std::vector<std::vector<Entry>> by_front(nodes.size());
    for (int r = 0; r < pattern.n(); ++r)
      for (int k = pattern.row_start[static_cast<std::size_t>(r)];
           k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
        const int c = pattern.column[static_cast<std::size_t>(k)];
        const int f = std::min(front_of[static_cast<std::size_t>(r)], front_of[static_cast<std::size_t>(c)]);
        by_front[static_cast<std::size_t>(f)].push_back({k, r, c});
      }
    for (std::size_t f = 0; f < nodes.size(); ++f) {
      Node& node = nodes[f];
      int next = 0;
      for (int d : node.front.own) local[static_cast<std::size_t>(d)] = next++;
      for (int d : node.front.border) local[static_cast<std::size_t>(d)] = next++;
      for (const Entry& e : by_front[f])
        node.entries.push_back(
            {e.value, local[static_cast<std::size_t>(e.row)], local[static_cast<std::size_t>(e.column)]});
      for (int child : node.front.children)
        for (int d : nodes[static_cast<std::size_t>(child)].front.border)
          nodes[static_cast<std::size_t>(child)].to_parent.push_back(local[static_cast<std::size_t>(d)]);
    }
  }

  void factor_node(Node& node, const std::vector<double>& values) {
    const int p = node.n_own(), b = node.n_border();
    Matrix front = Matrix::Zero(p + b, p + b);
    for (const Placement& e : node.entries)
      front(e.row, e.column) += static_cast<Scalar>(values[static_cast<std::size_t>(e.value)]);
    for (int child : node.front.children) {
      Node& below = nodes[static_cast<std::size_t>(child)];
      const auto& to = below.to_parent;
      for (int c = 0; c < below.n_border(); ++c)
        for (int r = 0; r < below.n_border(); ++r)
          front(to[static_cast<std::size_t>(r)], to[static_cast<std::size_t>(c)]) += below.update(r, c);
      below.update.resize(0, 0);
    }
    node.pivots = front.topLeftCorner(p, p);
    node.replaced = 0;
    if (p > 0) {
      Eigen::PartialPivLU<Eigen::Ref<Matrix>> lu(node.pivots);
      node.rows = lu.permutationP();
      mend_pivots(&node);
    }
    node.upper = front.topRightCorner(p, b);
    node.lower = front.bottomLeftCorner(b, p);
    node.update = front.bottomRightCorner(b, b);
    if (p == 0 || b == 0) return;
    node.upper = (node.rows * node.upper).eval();
    node.pivots.template triangularView<Eigen::UnitLower>().solveInPlace(node.upper);
    node.pivots.template triangularView<Eigen::Upper>().template solveInPlace<Eigen::OnTheRight>(node.lower);
    node.update.noalias() -= node.lower * node.upper;
  }

  void mend_pivots(Node* node) const {
    const Scalar largest = node->pivots.diagonal().cwiseAbs().maxCoeff();
    const Scalar least = std::max(largest, std::numeric_limits<Scalar>::min()) *
                         (sizeof(Scalar) == sizeof(float) ? Scalar(1e-7) : Scalar(1e-14));
    for (int k = 0; k < node->n_own(); ++k) {
      Scalar& pivot = node->pivots(k, k);
      if (std::abs(pivot) > least) continue;
      pivot = pivot < 0 ? -least : least;
      ++node->replaced;
    }
  }

  void factor_tree(int f, const std::vector<double>& values) {
    Node& node = nodes[static_cast<std::size_t>(f)];
    const bool split = node.front.own.size() + node.front.border.size() > 100;
    for (int child : node.front.children) {
#pragma omp task if (split) default(shared) firstprivate(child)
      factor_tree(child, values);
    }
#pragma omp taskwait
    factor_node(node, values);
  }

  /// x holds `columns` right-hand sides of n entries.
  void forward(int f, const std::vector<double>& x, int columns) const {
    const Node& node = nodes[static_cast<std::size_t>(f)];
    const bool split = node.n_own() + node.n_border() > 200;
    for (int child : node.front.children) {
#pragma omp task if (split) default(shared) firstprivate(child)
      forward(child, x, columns);
    }
#pragma omp taskwait
    const int p = node.n_own();
    node.own.resize(p, columns);
    node.border.setZero(node.n_border(), columns);
    for (int m = 0; m < columns; ++m)
      for (int k = 0; k < p; ++k) node.own(k, m) = static_cast<Scalar>(x[at(node.front.own, k, m)]);
    for (int child : node.front.children) {
      const Node& below = nodes[static_cast<std::size_t>(child)];
      for (int k = 0; k < below.n_border(); ++k) {
        const int to = below.to_parent[static_cast<std::size_t>(k)];
        if (to < p)
          node.own.row(to) += below.border.row(k);
        else
          node.border.row(to - p) += below.border.row(k);
      }
    }
    if (p == 0) return;
    node.own = (node.rows * node.own).eval();
    if (columns == 1) {
      auto own = node.own.col(0);  // Eigen's way for vectors is the quicker one
      node.pivots.template triangularView<Eigen::UnitLower>().solveInPlace(own);
    } else {
      node.pivots.template triangularView<Eigen::UnitLower>().solveInPlace(node.own);
    }
    if (node.n_border() > 0) node.border.noalias() -= node.lower * node.own;
  }

  void backward(int f, std::vector<double>* x, int columns) const {
    const Node& node = nodes[static_cast<std::size_t>(f)];
    const int p = node.n_own();
    for (int m = 0; m < columns; ++m)
      for (int k = 0; k < node.n_border(); ++k)
        node.border(k, m) = static_cast<Scalar>((*x)[at(node.front.border, k, m)]);
    if (p > 0) {
      if (node.n_border() > 0) node.own.noalias() -= node.upper * node.border;
      if (columns == 1) {
        auto own = node.own.col(0);
        node.pivots.template triangularView<Eigen::Upper>().solveInPlace(own);
      } else {
        node.pivots.template triangularView<Eigen::Upper>().solveInPlace(node.own);
      }
      for (int m = 0; m < columns; ++m)
        for (int k = 0; k < p; ++k) (*x)[at(node.front.own, k, m)] = static_cast<double>(node.own(k, m));
    }
    const bool split = p + node.n_border() > 200;
    for (int child : node.front.children) {
#pragma omp task if (split) default(shared) firstprivate(child)
      backward(child, x, columns);
    }
#pragma omp taskwait
  }
};

template <class Scalar>
FrontalLu<Scalar>::FrontalLu(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, int nx,
                             int ny)
    : impl_(new Impl) {
  for (Front& front : dissect(pattern, places, nx, ny)) {
    impl_->nodes.emplace_back();
    impl_->nodes.back().front = std::move(front);
  }
  impl_->place_entries(pattern);
}

template <class Scalar>
FrontalLu<Scalar>::~FrontalLu() = default;
template <class Scalar>
FrontalLu<Scalar>::FrontalLu(FrontalLu&&) noexcept = default;
template <class Scalar>
FrontalLu<Scalar>& FrontalLu<Scalar>::operator=(FrontalLu&&) noexcept = default;

template <class Scalar>
int FrontalLu<Scalar>::factor(const std::vector<double>& values) {
  Impl& impl = *impl_;
  const int root = static_cast<int>(impl.nodes.size()) - 1;
#pragma omp parallel if (root > 500)
#pragma omp single
  impl.factor_tree(root, values);
  int replaced = 0;
  for (const auto& node : impl.nodes) replaced += node.replaced;
  return replaced;
}

template <class Scalar>
void FrontalLu<Scalar>::solve(std::vector<double>* x, int columns) const {
  const Impl& impl = *impl_;
  const int root = static_cast<int>(impl.nodes.size()) - 1;
#pragma omp parallel if (root > 2000)
#pragma omp single
  {
    impl.forward(root, *x, columns);
    impl.backward(root, x, columns);
  }
}

template <class Scalar>
std::size_t FrontalLu<Scalar>::factor_size() const {
  std::size_t sum = 0;
  for (const auto& node : impl_->nodes)
    sum += static_cast<std::size_t>(node.pivots.size() + node.upper.size() + node.lower.size());
  return sum;
}

template class FrontalLu<float>;
template class FrontalLu<double>;

}  // namespace tuft::field
