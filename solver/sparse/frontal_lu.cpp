#include "solver/sparse/frontal_lu.hpp"

#include <omp.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "solver/sparse/dissection.hpp"
#include "solver/sparse/front_kernels_body.hpp"

namespace tuft::sparse {

#if defined(TUFT_WIDE_KERNELS)
// In front_kernels_wide.cpp.
const FrontKernels<float>& wide_kernels_of(float);
const FrontKernels<double>& wide_kernels_of(double);
#endif

template <class Scalar>
const FrontKernels<Scalar>& baseline_kernels() {
  return kKernels<Scalar>;
}

template <class Scalar>
const FrontKernels<Scalar>* wide_kernels() {
#if defined(TUFT_WIDE_KERNELS)
  static const bool runs = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
  return runs ? &wide_kernels_of(Scalar(0)) : nullptr;
#else
  return nullptr;
#endif
}

template <class Scalar>
struct FrontalLu<Scalar>::Impl : FrontalLayout {
  Impl(const SparsePattern& pattern, const std::vector<Front>& fronts)
      : FrontalLayout(pattern, fronts),
        lower(new Scalar[total().lower]),
        upper(new Scalar[total().upper]),
        rows(unknowns.size()) {}

  const FrontKernels<Scalar>& kernels =
      wide_kernels<Scalar>() ? *wide_kernels<Scalar>() : baseline_kernels<Scalar>();
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

  /// Workspaces of a front: what arrives at its own rows, what is found there, its border.
  Scalar* arrived(int f, int columns, int column) const {
    const Node& at = node(f);
    return workspace.data() + at.workspace * columns + column * workspace_size(at.own, at.border);
  }
  Scalar* border(int f, int columns, int column) const {
    return arrived(f, columns, column) + 2 * padded_rows(node(f).own);
  }

  void assemble(int f, Factoring* work, Scalar* front) const {
    const int all = node(f).own + node(f).border;
    const std::size_t stride = front_stride(all);
    std::fill_n(front, stride * all + kPanelRows, Scalar(0));
    for (const Placement& e : entries_of(f))
      front[e.column * stride + e.row] += static_cast<Scalar>(work->values[e.value]);
    for (const int child : children_of(f)) {
      std::vector<Scalar>& update = work->updates[child];
      const Span<const Run> to_here = runs_of(child);
      const Scalar* from = update.data();
      for (const Run& columns : to_here)
        for (int c = 0; c < columns.length; ++c, from += node(child).border)
          for (const Run& run : to_here) {
            Scalar* to = front + (columns.to + c) * stride + run.to;
            for (int r = 0; r < run.length; ++r) to[r] += from[run.from + r];
          }
      std::vector<Scalar>().swap(update);
    }
  }

  void factor_front(int f, Factoring* work) {
    const int p = node(f).own, b = node(f).border;
    const std::size_t stride = front_stride(p + b);
    std::vector<Scalar>& store = work->fronts[omp_get_thread_num()];
    store.resize(std::max(store.size(), stride * (p + b) + kPanelRows));
    Scalar* front = store.data();
    assemble(f, work, front);
    std::vector<int> swaps(p);
    work->replaced[f] = kernels.factor(front, p, b, least_pivot(front, p, stride), swaps.data());
    kernels.pack(front, p, b, lower.get() + node(f).lower, upper.get() + node(f).upper);
    int* order = rows.data() + node(f).unknowns;
    for (int k = 0; k < p; ++k) order[k] = k;
    for (int k = 0; k < p; ++k) std::swap(order[k], order[swaps[k]]);
    std::vector<Scalar>& update = work->updates[f];
    update.reserve(static_cast<std::size_t>(b) * b);
    for (int c = p; c < p + b; ++c) {
      const Scalar* column = front + c * stride + p;
      update.insert(update.end(), column, column + b);
    }
  }

  /// What counts as a pivot that has vanished, beside the entries of the own block.
  static Scalar least_pivot(const Scalar* front, int own, std::size_t stride) {
    Scalar largest = std::numeric_limits<Scalar>::min();
    for (int c = 0; c < own; ++c)
      for (int r = 0; r < own; ++r) largest = std::max(largest, std::abs(front[c * stride + r]));
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
      const double* right = x[m];
      Scalar* to = own;
      for (const int d : unknowns_of(f)) *to++ = static_cast<Scalar>(right[d]);
      std::fill_n(beyond + p, padded_rows(b), Scalar(0));
      for (const int child : children_of(f)) {
        const Scalar* from = border(child, columns, m);
        for (const Run& run : runs_of(child)) {
          Scalar* sum = (run.to < p ? own : beyond) + run.to;
          for (int k = 0; k < run.length; ++k) sum[k] += from[run.from + k];
        }
      }
    }
    kernels.forward(lower.get() + node(f).lower, rows.data() + node(f).unknowns, p, b, arrived(f, columns, 0),
                    columns);
  }

  /// The border of f is filled in by its parent.
  void backward(int f, const RightSides& x) const {
    const int columns = static_cast<int>(x.size());
    const int p = node(f).own, b = node(f).border;
    kernels.backward(upper.get() + node(f).upper, p, b, arrived(f, columns, 0), columns);
    for (int m = 0; m < columns; ++m) {
      const Scalar* found = arrived(f, columns, m) + padded_rows(p);
      const Scalar* beyond = border(f, columns, m) - p;
      double* out = x[m];
      const Scalar* next = found;
      for (const int d : unknowns_of(f)) out[d] = static_cast<double>(*next++);
      for (const int child : children_of(f)) {
        Scalar* to = border(child, columns, m);
        for (const Run& run : runs_of(child)) {
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
    : impl_(new Impl(pattern, dissect(pattern, places, nx, ny))) {}

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
  typename Impl::Factoring work{values, std::vector<std::vector<Scalar>>(n_nodes),
                                std::vector<std::vector<Scalar>>(omp_get_max_threads()),
                                std::vector<int>(n_nodes, 0)};
#pragma omp parallel if (n_nodes > 500)
#pragma omp single
  impl.factor_tree(impl.root(), &work);
  return std::accumulate(work.replaced.begin(), work.replaced.end(), 0);
}

template <class Scalar>
void FrontalLu<Scalar>::set_numbers(const std::vector<int>& numbers) {
  for (int& d : impl_->unknowns) d = numbers[d];
}

template <class Scalar>
void FrontalLu<Scalar>::solve(std::vector<double>* x, int columns) const {
  std::vector<double*> right_sides;
  for (int m = 0; m < columns; ++m) right_sides.push_back(x->data() + m * impl_->n);
  solve(right_sides);
}

template <class Scalar>
void FrontalLu<Scalar>::solve(const std::vector<double*>& right_sides) const {
  const Impl& impl = *impl_;
  const std::size_t needed = impl.total().workspace * right_sides.size();
  if (impl.workspace.size() < needed) impl.workspace.resize(needed);
#pragma omp parallel if (impl.nodes.size() > 2000)
#pragma omp single
  {
    impl.forward(impl.root(), right_sides);
    impl.backward(impl.root(), right_sides);
  }
}

template const FrontKernels<float>& baseline_kernels();
template const FrontKernels<double>& baseline_kernels();
template const FrontKernels<float>* wide_kernels();
template const FrontKernels<double>* wide_kernels();
template class FrontalLu<float>;
template class FrontalLu<double>;

}  // namespace tuft::sparse
