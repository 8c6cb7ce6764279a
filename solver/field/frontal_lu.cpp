#include "solver/field/frontal_lu.hpp"

#include <omp.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

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

/// A part of one of the stores.
template <class T>
struct Span {
  T* first;
  T* last;
  T* begin() const { return first; }
  T* end() const { return last; }
};

}  // namespace

template <class Scalar>
struct FrontalLu<Scalar>::Impl {
  /// One front. What is its own in the stores below begins where its numbers say and ends where the next
  /// front's begins: what a pass reads lies together, in the order in which it reads it.
  struct Node {
    int own = 0, border = 0;
    std::size_t children = 0, unknowns = 0, entries = 0, runs = 0, workspace = 0, lower = 0, upper = 0;
  };
  const FrontKernels<Scalar>& kernels = best_kernels<Scalar>();
  std::vector<Node> nodes;  ///< and one beyond the last
  std::size_t n = 0;        ///< unknowns
  std::vector<int> children;
  std::vector<int> unknowns;  ///< where each is found in a right-hand side
  std::vector<Placement> entries;
  std::vector<Run> runs;                  ///< from a front into its parent
  std::unique_ptr<Scalar[]> lower;        ///< factors, front by front upwards
  std::unique_ptr<Scalar[]> upper;        ///< the same, front by front downwards
  std::vector<int> rows;                  ///< of each own place: the row that interchanges brought there
  mutable std::vector<Scalar> workspace;  ///< of each front, one for every right-hand side

  /// Only while factoring: what each front leaves for its parent, border x border by columns; pivots
  /// replaced; and the front each thread works on, kept from one to the next.
  struct Factoring {
    const std::vector<double>& values;
    std::vector<std::vector<Scalar>> updates, fronts;
    std::vector<int> replaced;
  };

  const Node& node(int f) const { return nodes[static_cast<std::size_t>(f)]; }
  int root() const { return static_cast<int>(nodes.size()) - 2; }
  template <class T>
  Span<const T> part(const std::vector<T>& store, std::size_t Node::*begin, int f) const {
    return {store.data() + node(f).*begin, store.data() + node(f + 1).*begin};
  }
  Span<const int> children_of(int f) const { return part(children, &Node::children, f); }
  /// Workspaces of a front: what arrives at its own rows, what is found there, its border.
  Scalar* arrived(int f, int columns, int column) const {
    const Node& at = node(f);
    return workspace.data() + at.workspace * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column * workspace_size(at.own, at.border));
  }
  Scalar* border(int f, int columns, int column) const {
    return arrived(f, columns, column) + 2 * padded_rows(node(f).own);
  }

  void lay_out(const SparsePattern& pattern, const std::vector<Front>& fronts) {
    n = static_cast<std::size_t>(pattern.n());
    Node next;
    for (const Front& front : fronts) {
      next.own = static_cast<int>(front.own.size());
      next.border = static_cast<int>(front.border.size());
      nodes.push_back(next);
      children.insert(children.end(), front.children.begin(), front.children.end());
      unknowns.insert(unknowns.end(), front.own.begin(), front.own.end());
      next.children = children.size();
      next.unknowns = unknowns.size();
      next.workspace += static_cast<std::size_t>(workspace_size(next.own, next.border));
      next.lower += lower_size(next.own, next.border);
    }
    nodes.push_back(next);
    std::size_t below = 0;
    for (auto at = nodes.rbegin() + 1; at != nodes.rend(); ++at) {
      at->upper = below;
      below += upper_size(at->own, at->border);
    }
    nodes.back().upper = below;
    rows.resize(unknowns.size());
    lower.reset(new Scalar[nodes.back().lower]);
    upper.reset(new Scalar[nodes.back().upper]);
    place_entries(pattern, fronts);
  }

  /// Every entry goes to the front that eliminates the earlier of its two unknowns.
  void place_entries(const SparsePattern& pattern, const std::vector<Front>& fronts) {
    std::vector<int> front_of(n), local(n, -1);
    for (int f = 0; f <= root(); ++f)
      for (const int d : fronts[static_cast<std::size_t>(f)].own) front_of[static_cast<std::size_t>(d)] = f;
    const auto for_all = [&](const auto& body) {
      for (int r = 0; r < pattern.n(); ++r)
        for (int k = pattern.row_start[static_cast<std::size_t>(r)];
             k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
          const int c = pattern.column[static_cast<std::size_t>(k)];
          body(std::min(front_of[static_cast<std::size_t>(r)], front_of[static_cast<std::size_t>(c)]),
               Placement{k, r, c});
        }
    };
    std::vector<std::size_t> count(nodes.size(), 0);
    for_all([&](int f, const Placement&) { ++count[static_cast<std::size_t>(f)]; });
    for (std::size_t f = 1; f < nodes.size(); ++f) nodes[f].entries = nodes[f - 1].entries + count[f - 1];
    entries.resize(pattern.column.size());
    std::vector<std::size_t> next(nodes.size());
    for (std::size_t f = 0; f < nodes.size(); ++f) next[f] = nodes[f].entries;
    for_all([&](int f, const Placement& entry) { entries[next[static_cast<std::size_t>(f)]++] = entry; });

    std::vector<std::vector<Run>> to_parent(nodes.size());
    for (int f = 0; f <= root(); ++f) {
      const Front& front = fronts[static_cast<std::size_t>(f)];
      int place = 0;
      for (const int d : front.own) local[static_cast<std::size_t>(d)] = place++;
      for (const int d : front.border) local[static_cast<std::size_t>(d)] = place++;
      for (std::size_t k = nodes[static_cast<std::size_t>(f)].entries; k < node(f + 1).entries; ++k) {
        entries[k].row = local[static_cast<std::size_t>(entries[k].row)];
        entries[k].column = local[static_cast<std::size_t>(entries[k].column)];
      }
      for (const int child : front.children)
        to_parent[static_cast<std::size_t>(child)] =
            runs_of(fronts[static_cast<std::size_t>(child)].border, local, node(f).own);
    }
    for (std::size_t f = 0; f < nodes.size(); ++f) {
      nodes[f].runs = runs.size();
      runs.insert(runs.end(), to_parent[f].begin(), to_parent[f].end());
    }
  }

  /// Pieces of a border that lie in one piece in the parent, too, and there on one side of its `own`.
  static std::vector<Run> runs_of(const std::vector<int>& border, const std::vector<int>& local, int own) {
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

  void assemble(int f, Factoring* work, Scalar* front) const {
    const int all = node(f).own + node(f).border;
    const auto stride = static_cast<std::size_t>(front_stride(all));
    std::fill_n(front, stride * static_cast<std::size_t>(all) + kPanelRows, Scalar(0));
    for (const Placement& e : part(entries, &Node::entries, f))
      front[static_cast<std::size_t>(e.column) * stride + static_cast<std::size_t>(e.row)] +=
          static_cast<Scalar>(work->values[static_cast<std::size_t>(e.value)]);
    for (const int child : children_of(f)) {
      std::vector<Scalar>& update = work->updates[static_cast<std::size_t>(child)];
      const Span<const Run> to_here = part(runs, &Node::runs, child);
      const Scalar* from = update.data();
      for (const Run& columns : to_here)
        for (int c = 0; c < columns.length; ++c, from += node(child).border)
          for (const Run& run : to_here) {
            Scalar* to = front + static_cast<std::size_t>(columns.to + c) * stride + run.to;
            for (int r = 0; r < run.length; ++r) to[r] += from[run.from + r];
          }
      std::vector<Scalar>().swap(update);
    }
  }

  void factor_front(int f, Factoring* work) {
    const int p = node(f).own, b = node(f).border;
    const auto stride = static_cast<std::size_t>(front_stride(p + b));
    std::vector<Scalar>& store = work->fronts[static_cast<std::size_t>(omp_get_thread_num())];
    store.resize(std::max(store.size(), stride * static_cast<std::size_t>(p + b) + kPanelRows));
    Scalar* front = store.data();
    assemble(f, work, front);
    std::vector<int> swaps(static_cast<std::size_t>(p));
    work->replaced[static_cast<std::size_t>(f)] =
        kernels.factor(front, p, b, least_pivot(front, p, stride), swaps.data());
    kernels.pack(front, p, b, &lower[node(f).lower], &upper[node(f).upper]);
    int* order = rows.data() + node(f).unknowns;
    for (int k = 0; k < p; ++k) order[k] = k;
    for (int k = 0; k < p; ++k) std::swap(order[k], order[swaps[static_cast<std::size_t>(k)]]);
    std::vector<Scalar>& update = work->updates[static_cast<std::size_t>(f)];
    update.reserve(static_cast<std::size_t>(b) * static_cast<std::size_t>(b));
    for (int c = p; c < p + b; ++c) {
      const Scalar* column = front + static_cast<std::size_t>(c) * stride + p;
      update.insert(update.end(), column, column + b);
    }
  }

  /// What counts as a pivot that has vanished, beside the entries of the own block.
  static Scalar least_pivot(const Scalar* front, int own, std::size_t stride) {
    Scalar largest = std::numeric_limits<Scalar>::min();
    for (int c = 0; c < own; ++c)
      for (int r = 0; r < own; ++r)
        largest = std::max(
            largest, std::abs(front[static_cast<std::size_t>(c) * stride + static_cast<std::size_t>(r)]));
    return largest * (sizeof(Scalar) == sizeof(float) ? Scalar(1e-7) : Scalar(1e-14));
  }

  void factor_tree(int f, Factoring* work) {
    const bool split = node(f).own + node(f).border > 100;
    for (const int child : children_of(f)) {
#pragma omp task if (split) default(shared) firstprivate(child)
      factor_tree(child, work);
    }
#pragma omp taskwait
    factor_front(f, work);
  }

  using RightSides = std::vector<double*>;

  void forward(int f, const RightSides& x) const {
    const int columns = static_cast<int>(x.size());
    const int p = node(f).own, b = node(f).border;
    const bool split = p + b > 200;
    for (const int child : children_of(f)) {
#pragma omp task if (split) default(shared) firstprivate(child)
      forward(child, x);
    }
#pragma omp taskwait
    for (int m = 0; m < columns; ++m) {
      Scalar* own = arrived(f, columns, m);
      Scalar* beyond = border(f, columns, m) - p;
      const double* right = x[static_cast<std::size_t>(m)];
      Scalar* to = own;
      for (const int d : part(unknowns, &Node::unknowns, f)) *to++ = static_cast<Scalar>(right[d]);
      std::fill_n(beyond + p, padded_rows(b), Scalar(0));
      for (const int child : children_of(f)) {
        const Scalar* from = border(child, columns, m);
        for (const Run& run : part(runs, &Node::runs, child)) {
          Scalar* sum = (run.to < p ? own : beyond) + run.to;
          for (int k = 0; k < run.length; ++k) sum[k] += from[run.from + k];
        }
      }
    }
    kernels.forward(&lower[node(f).lower], rows.data() + node(f).unknowns, p, b, arrived(f, columns, 0),
                    columns);
  }

  /// The border of f is filled in by its parent.
  void backward(int f, const RightSides& x) const {
    const int columns = static_cast<int>(x.size());
    const int p = node(f).own, b = node(f).border;
    kernels.backward(&upper[node(f).upper], p, b, arrived(f, columns, 0), columns);
    for (int m = 0; m < columns; ++m) {
      const Scalar* found = arrived(f, columns, m) + padded_rows(p);
      const Scalar* beyond = border(f, columns, m) - p;
      double* out = x[static_cast<std::size_t>(m)];
      const Scalar* next = found;
      for (const int d : part(unknowns, &Node::unknowns, f)) out[d] = static_cast<double>(*next++);
      for (const int child : children_of(f)) {
        Scalar* to = border(child, columns, m);
        for (const Run& run : part(runs, &Node::runs, child)) {
          const Scalar* from = (run.to < p ? found : beyond) + run.to;
          for (int k = 0; k < run.length; ++k) to[run.from + k] = from[k];
        }
      }
    }
    const bool split = p + b > 200;
    const Span<const int> below = children_of(f);
    for (const int* at = below.last; at != below.first; --at) {  // as the factors lie
      const int child = at[-1];
#pragma omp task if (split) default(shared) firstprivate(child)
      backward(child, x);
    }
#pragma omp taskwait
  }
};

template <class Scalar>
FrontalLu<Scalar>::FrontalLu(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, int nx,
                             int ny)
    : impl_(new Impl) {
  impl_->lay_out(pattern, dissect(pattern, places, nx, ny));
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
  const auto n_nodes = impl.nodes.size();
  typename Impl::Factoring work{
      values, std::vector<std::vector<Scalar>>(n_nodes),
      std::vector<std::vector<Scalar>>(static_cast<std::size_t>(omp_get_max_threads())),
      std::vector<int>(n_nodes, 0)};
#pragma omp parallel if (n_nodes > 500)
#pragma omp single
  impl.factor_tree(impl.root(), &work);
  return std::accumulate(work.replaced.begin(), work.replaced.end(), 0);
}

template <class Scalar>
void FrontalLu<Scalar>::set_numbers(const std::vector<int>& numbers) {
  for (int& d : impl_->unknowns) d = numbers[static_cast<std::size_t>(d)];
}

template <class Scalar>
void FrontalLu<Scalar>::solve(std::vector<double>* x, int columns) const {
  std::vector<double*> right_sides;
  for (int m = 0; m < columns; ++m) right_sides.push_back(x->data() + static_cast<std::size_t>(m) * impl_->n);
  solve(right_sides);
}

template <class Scalar>
void FrontalLu<Scalar>::solve(const std::vector<double*>& right_sides) const {
  const Impl& impl = *impl_;
  const std::size_t needed = impl.nodes.back().workspace * right_sides.size();
  if (impl.workspace.size() < needed) impl.workspace.resize(needed);
#pragma omp parallel if (impl.nodes.size() > 2000)
#pragma omp single
  {
    impl.forward(impl.root(), right_sides);
    impl.backward(impl.root(), right_sides);
  }
}

template <class Scalar>
std::size_t FrontalLu<Scalar>::factor_size() const {
  return impl_->nodes.back().lower + impl_->nodes.back().upper;
}

template class FrontalLu<float>;
template class FrontalLu<double>;

}  // namespace tuft::field
