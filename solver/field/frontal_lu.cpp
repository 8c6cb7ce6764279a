#include "solver/field/frontal_lu.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/field/dissection.hpp"
#include "solver/field/front_kernels.hpp"

namespace tuft::field {
namespace {

/// Entry `value` of the pattern goes to row, column of a front.
struct Placement {
  int value, row, column;
};

/// Border entries from..from+length of a front lie at to..to+length of its parent's.
struct Run {
  int from, to, length;
};

}  // namespace

template <class Scalar>
struct FrontalLu<Scalar>::Impl {
  struct Node {
    Front front;
    std::vector<Placement> entries;
    std::vector<Run> to_parent;
    std::vector<Scalar> update;  ///< border x border by columns, handed to the parent
    std::size_t lower = 0, upper = 0, rows = 0, workspace = 0;  ///< where its part of each store begins
    int replaced = 0;
    int n_own() const { return static_cast<int>(front.own.size()); }
    int n_border() const { return static_cast<int>(front.border.size()); }
  };
  const FrontKernels<Scalar>& kernels = best_kernels<Scalar>();
  std::vector<Node> nodes;
  std::size_t n = 0;  ///< unknowns

  // Factors of all fronts in the order of the passes, so that memory is read from one end to the other.
  std::vector<Scalar> lower;  ///< front by front upwards
  std::vector<Scalar> upper;  ///< front by front downwards
  std::vector<int> rows;      ///< of each own place: the row that interchanges brought there
  std::size_t workspace_total = 0;
  mutable std::vector<Scalar> workspace;  ///< of each front, one for every right-hand side

  const Node& node(int f) const { return nodes[static_cast<std::size_t>(f)]; }
  Node& node(int f) { return nodes[static_cast<std::size_t>(f)]; }
  Scalar* workspace_of(const Node& node, int columns, int column) const {
    return workspace.data() + node.workspace * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column) *
               static_cast<std::size_t>(workspace_size(node.n_own(), node.n_border()));
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
      Node& above = nodes[f];
      int next = 0;
      for (int d : above.front.own) local[static_cast<std::size_t>(d)] = next++;
      for (int d : above.front.border) local[static_cast<std::size_t>(d)] = next++;
      for (const Entry& e : by_front[f])
        above.entries.push_back(
            {e.value, local[static_cast<std::size_t>(e.row)], local[static_cast<std::size_t>(e.column)]});
      for (int child : above.front.children)
        node(child).to_parent = runs(node(child).front.border, local, above.n_own());
    }
  }

  /// Pieces of a border that lie in one piece in the parent, too, and there on one side of its `own`.
  static std::vector<Run> runs(const std::vector<int>& border, const std::vector<int>& local, int own) {
    std::vector<Run> out;
    for (std::size_t k = 0; k < border.size(); ++k) {
      const int to = local[static_cast<std::size_t>(border[k])];
      if (!out.empty() && out.back().to + out.back().length == to && to != own)
        ++out.back().length;
      else
        out.push_back({static_cast<int>(k), to, 1});
    }
    return out;
  }

  void lay_out() {
    std::size_t n_lower = 0, n_upper = 0, n_rows = 0;
    for (Node& node : nodes) {
      node.lower = n_lower;
      node.rows = n_rows;
      node.workspace = workspace_total;
      n_lower += lower_size(node.n_own(), node.n_border());
      n_rows += node.front.own.size();
      workspace_total += static_cast<std::size_t>(workspace_size(node.n_own(), node.n_border()));
    }
    for (auto node = nodes.rbegin(); node != nodes.rend(); ++node) {
      node->upper = n_upper;
      n_upper += upper_size(node->n_own(), node->n_border());
    }
    lower.resize(n_lower);
    upper.resize(n_upper);
    rows.resize(n_rows);
  }

  std::vector<Scalar> assemble(const Node& above, const std::vector<double>& values) {
    const int all = above.n_own() + above.n_border();
    const auto stride = static_cast<std::size_t>(front_stride(all));
    std::vector<Scalar> front(stride * static_cast<std::size_t>(all) + kPanelRows, Scalar(0));
    const auto column = [&](int c) { return front.data() + static_cast<std::size_t>(c) * stride; };
    for (const Placement& e : above.entries)
      column(e.column)[e.row] += static_cast<Scalar>(values[static_cast<std::size_t>(e.value)]);
    for (int child : above.front.children) {
      Node& below = node(child);
      const Scalar* from = below.update.data();
      for (const Run& columns : below.to_parent)
        for (int c = 0; c < columns.length; ++c, from += below.n_border())
          for (const Run& run : below.to_parent) {
            Scalar* to = column(columns.to + c) + run.to;
            for (int r = 0; r < run.length; ++r) to[r] += from[run.from + r];
          }
      std::vector<Scalar>().swap(below.update);
    }
    return front;
  }

  void factor_node(Node& node, const std::vector<double>& values) {
    const int p = node.n_own(), b = node.n_border();
    std::vector<Scalar> front = assemble(node, values);
    const auto stride = static_cast<std::size_t>(front_stride(p + b));
    std::vector<int> swaps(static_cast<std::size_t>(p));
    node.replaced = kernels.factor(front.data(), p, b, least_pivot(front, p, stride), swaps.data());
    kernels.pack(front.data(), p, b, lower.data() + node.lower, upper.data() + node.upper);
    int* order = rows.data() + node.rows;
    for (int k = 0; k < p; ++k) order[k] = k;
    for (int k = 0; k < p; ++k) std::swap(order[k], order[swaps[static_cast<std::size_t>(k)]]);
    node.update.resize(static_cast<std::size_t>(b) * static_cast<std::size_t>(b));
    for (int c = 0; c < b; ++c)
      std::copy_n(front.data() + static_cast<std::size_t>(p + c) * stride + p, b,
                  node.update.data() + static_cast<std::size_t>(c) * static_cast<std::size_t>(b));
  }

  /// What counts as a pivot that has vanished, beside the entries of the own block.
  static Scalar least_pivot(const std::vector<Scalar>& front, int own, std::size_t stride) {
    Scalar largest = std::numeric_limits<Scalar>::min();
    for (int c = 0; c < own; ++c)
      for (int r = 0; r < own; ++r)
        largest = std::max(
            largest, std::abs(front[static_cast<std::size_t>(c) * stride + static_cast<std::size_t>(r)]));
    return largest * (sizeof(Scalar) == sizeof(float) ? Scalar(1e-7) : Scalar(1e-14));
  }

  void factor_tree(int f, const std::vector<double>& values) {
    const bool split = node(f).n_own() + node(f).n_border() > 100;
    for (int child : node(f).front.children) {
#pragma omp task if (split) default(shared) firstprivate(child)
      factor_tree(child, values);
    }
#pragma omp taskwait
    factor_node(node(f), values);
  }

  /// x holds `columns` right-hand sides of n entries.
  void forward(int f, const std::vector<double>& x, int columns) const {
    const Node& above = node(f);
    const int p = above.n_own(), b = above.n_border();
    const bool split = p + b > 200;
    for (int child : above.front.children) {
#pragma omp task if (split) default(shared) firstprivate(child)
      forward(child, x, columns);
    }
#pragma omp taskwait
    for (int m = 0; m < columns; ++m) {
      Scalar* arrived = workspace_of(above, columns, m);
      Scalar* border = arrived + 2 * padded_rows(p);
      const double* right = x.data() + static_cast<std::size_t>(m) * n;
      for (int k = 0; k < p; ++k)
        arrived[k] = static_cast<Scalar>(right[above.front.own[static_cast<std::size_t>(k)]]);
      std::fill_n(border, padded_rows(b), Scalar(0));
      for (int child : above.front.children) {
        const Node& below = node(child);
        const Scalar* from = workspace_of(below, columns, m) + 2 * padded_rows(below.n_own());
        for (const Run& run : below.to_parent) {
          Scalar* to = run.to < p ? arrived + run.to : border + (run.to - p);
          for (int k = 0; k < run.length; ++k) to[k] += from[run.from + k];
        }
      }
    }
    kernels.forward(lower.data() + above.lower, rows.data() + above.rows, p, b,
                    workspace_of(above, columns, 0), columns);
  }

  /// The borders of f are filled in by its parent.
  void backward(int f, std::vector<double>* x, int columns) const {
    const Node& above = node(f);
    const int p = above.n_own(), b = above.n_border();
    kernels.backward(upper.data() + above.upper, p, b, workspace_of(above, columns, 0), columns);
    for (int m = 0; m < columns; ++m) {
      const Scalar* found = workspace_of(above, columns, m) + padded_rows(p);
      const Scalar* border = found + padded_rows(p);
      double* out = x->data() + static_cast<std::size_t>(m) * n;
      for (int k = 0; k < p; ++k)
        out[above.front.own[static_cast<std::size_t>(k)]] = static_cast<double>(found[k]);
      for (int child : above.front.children) {
        const Node& below = node(child);
        Scalar* to = workspace_of(below, columns, m) + 2 * padded_rows(below.n_own());
        for (const Run& run : below.to_parent)
          std::copy_n(run.to < p ? found + run.to : border + (run.to - p), run.length, to + run.from);
      }
    }
    const bool split = p + b > 200;
    for (int child : above.front.children) {
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
  impl_->lay_out();
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
  impl.workspace.resize(
      std::max(impl.workspace.size(), impl.workspace_total * static_cast<std::size_t>(columns)));
#pragma omp parallel if (root > 2000)
#pragma omp single
  {
    impl.forward(root, *x, columns);
    impl.backward(root, x, columns);
  }
}

template <class Scalar>
std::size_t FrontalLu<Scalar>::factor_size() const {
  return impl_->lower.size() + impl_->upper.size();
}

template class FrontalLu<float>;
template class FrontalLu<double>;

}  // namespace tuft::field
