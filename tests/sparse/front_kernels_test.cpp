#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <utility>
#include <vector>

#include "solver/sparse/front_kernels.hpp"

using namespace tuft::sparse;

namespace {

double noise(unsigned* seed) {
  *seed = *seed * 1664525u + 1013904223u;
  return *seed / 4294967296.0 - 0.5;
}

/// A square matrix by columns, in plain loops and double.
struct Dense {
  int n;
  std::vector<double> values;
  double& at(int r, int c) { return values[static_cast<std::size_t>(c * n + r)]; }
  double at(int r, int c) const { return values[static_cast<std::size_t>(c * n + r)]; }
};

/// Entries as float holds them, so that both precisions start from one matrix.
Dense random_dense(int n, unsigned seed) {
  Dense a{n, std::vector<double>(static_cast<std::size_t>(n * n))};
  for (double& v : a.values) v = static_cast<float>(noise(&seed));
  return a;
}

/// Gauss-Jordan on the first `own` columns, rows interchanged among the first `own`, of `a` and as many rows
/// of x: leaves the solution of the own block for the border's columns above, the Schur complement below, and
/// the same of x.
void eliminate(Dense* a, int own, std::vector<double>* x) {
  for (int k = 0; k < own; ++k) {
    int best = k;
    for (int r = k + 1; r < own; ++r)
      if (std::abs(a->at(r, k)) > std::abs(a->at(best, k))) best = r;
    for (int c = 0; c < a->n; ++c) std::swap(a->at(k, c), a->at(best, c));
    std::swap((*x)[static_cast<std::size_t>(k)], (*x)[static_cast<std::size_t>(best)]);
    const double pivot = a->at(k, k);
    for (int c = 0; c < a->n; ++c) a->at(k, c) /= pivot;
    (*x)[static_cast<std::size_t>(k)] /= pivot;
    for (int r = 0; r < a->n; ++r) {
      const double factor = a->at(r, k);
      if (r == k || factor == 0.0) continue;
      for (int c = 0; c < a->n; ++c) a->at(r, c) -= factor * a->at(k, c);
      (*x)[static_cast<std::size_t>(r)] -= factor * (*x)[static_cast<std::size_t>(k)];
    }
  }
}

template <class Scalar>
std::vector<Scalar> as_front(const Dense& a) {
  const auto stride = static_cast<std::size_t>(front_stride(a.n));
  std::vector<Scalar> front(stride * static_cast<std::size_t>(a.n) + kPanelRows, Scalar(0));
  for (int c = 0; c < a.n; ++c)
    for (int r = 0; r < a.n; ++r)
      front[static_cast<std::size_t>(c) * stride + static_cast<std::size_t>(r)] =
          static_cast<Scalar>(a.at(r, c));
  return front;
}

struct Worst {
  double schur = 0.0, forward = 0.0, backward = 0.0;
  double all() const { return std::max({schur, forward, backward}); }
};

/// Errors of one front against the plain loops, each relative to the largest right value.
template <class Scalar>
Worst errors(const FrontKernels<Scalar>& kernels, int own, int border, int columns) {
  const int n = own + border;
  const Dense a = random_dense(n, static_cast<unsigned>(100 * own + border + 1));
  std::vector<Scalar> front = as_front<Scalar>(a);
  std::vector<int> swaps(static_cast<std::size_t>(own)), rows(static_cast<std::size_t>(own));
  CHECK(kernels.factor(front.data(), own, border, Scalar(1e-12), swaps.data()) == 0);
  for (int k = 0; k < own; ++k) rows[static_cast<std::size_t>(k)] = k;
  for (int k = 0; k < own; ++k) {
    const int from = swaps[static_cast<std::size_t>(k)];
    CHECK(from >= k);
    REQUIRE(from < own);
    std::swap(rows[static_cast<std::size_t>(k)], rows[static_cast<std::size_t>(from)]);
  }
  std::vector<Scalar> lower(lower_size(own, border)), upper(upper_size(own, border));
  kernels.pack(front.data(), own, border, lower.data(), upper.data());

  const auto size = static_cast<std::size_t>(workspace_size(own, border));
  const int at_border = 2 * padded_rows(own);
  std::vector<Scalar> work(size * static_cast<std::size_t>(columns), Scalar(0));
  std::vector<std::vector<double>> right;
  unsigned seed = 9;
  for (int m = 0; m < columns; ++m) {
    Scalar* w = work.data() + static_cast<std::size_t>(m) * size;
    right.emplace_back();
    for (int k = 0; k < n; ++k) right.back().push_back(static_cast<float>(noise(&seed)));
    for (int k = 0; k < n; ++k)
      w[k < own ? k : at_border + k - own] = static_cast<Scalar>(right.back()[static_cast<std::size_t>(k)]);
  }
  kernels.forward(lower.data(), rows.data(), own, border, work.data(), columns);

  Worst worst;
  for (int m = 0; m < columns; ++m) {
    Scalar* w = work.data() + static_cast<std::size_t>(m) * size;
    Dense left = a;
    std::vector<double>& x = right[static_cast<std::size_t>(m)];
    eliminate(&left, own, &x);
    double largest = 1.0;
    for (int r = 0; r < n; ++r) largest = std::max(largest, std::abs(x[static_cast<std::size_t>(r)]));
    for (int k = 0; k < border; ++k) {
      const double found = static_cast<double>(w[at_border + k]);
      worst.forward =
          std::max(worst.forward, std::abs(found - x[static_cast<std::size_t>(own + k)]) / largest);
      // The border's solution, as if it were this: it has to be taken off the own rows.
      w[at_border + k] = static_cast<Scalar>(0.25 * (k % 3) - 0.25);
    }
    double schur = 1.0;
    for (int c = own; c < n; ++c)
      for (int r = 0; r < n; ++r) schur = std::max(schur, std::abs(left.at(r, c)));
    for (int c = own; c < n && m == 0; ++c)
      for (int r = own; r < n; ++r) {
        const auto at = static_cast<std::size_t>(c * front_stride(n) + r);
        worst.schur = std::max(worst.schur, std::abs(static_cast<double>(front[at]) - left.at(r, c)) / schur);
      }
    for (int r = 0; r < own; ++r)
      for (int k = 0; k < border; ++k)
        x[static_cast<std::size_t>(r)] -= left.at(r, own + k) * (0.25 * (k % 3) - 0.25);
    for (int r = 0; r < own; ++r) largest = std::max(largest, std::abs(x[static_cast<std::size_t>(r)]));
    right[static_cast<std::size_t>(m)].push_back(largest);
  }
  kernels.backward(upper.data(), own, border, work.data(), columns);
  for (int m = 0; m < columns; ++m)
    for (int r = 0; r < own; ++r) {
      const std::vector<double>& x = right[static_cast<std::size_t>(m)];
      const double found = static_cast<double>(
          work[static_cast<std::size_t>(m) * size + static_cast<std::size_t>(padded_rows(own) + r)]);
      worst.backward = std::max(worst.backward, std::abs(found - x[static_cast<std::size_t>(r)]) / x.back());
    }
  return worst;
}

template <class Scalar>
std::vector<const FrontKernels<Scalar>*> builds() {
  std::vector<const FrontKernels<Scalar>*> out{&baseline_kernels<Scalar>()};
  if (wide_kernels<Scalar>()) out.push_back(wide_kernels<Scalar>());
  return out;
}

}  // namespace

// Derived: exact elimination of the same matrix in plain loops of double. Round-off of elimination without
// scaling grows with the condition of a random matrix, some n^2, hence the factor.
TEMPLATE_TEST_CASE("kernels of fronts agree with plain loops whatever the sizes", "[exact]", float, double) {
  const double unit = sizeof(TestType) == sizeof(float) ? 6e-8 : 1.1e-16;
  for (const auto* kernels : builds<TestType>())
    for (const int own : {0, 1, 2, 3, 7, 8, 9, 12, 15, 16, 17, 24, 29, 41})
      for (const int border : {0, 1, 5, 8, 13, 33})
        for (const int columns : {1, 6}) {
          INFO(own << " own, " << border << " border, " << columns << " right-hand sides");
          CHECK(errors(*kernels, own, border, columns).all() < unit * 3000.0);
        }
}

TEMPLATE_TEST_CASE("kernels of fronts agree with plain loops on a large front", "[exact]", float, double) {
  const double unit = sizeof(TestType) == sizeof(float) ? 6e-8 : 1.1e-16;
  for (const auto* kernels : builds<TestType>())
    CHECK(errors(*kernels, 275, 21, 1).all() < unit * 30000.0);  // more products than a packed tile holds
}

TEMPLATE_TEST_CASE("a pivot that vanishes is replaced and counted, one that is only displaced is not",
                   "[exact]", float, double) {
  for (const auto* kernels : builds<TestType>()) {
    Dense a{11, std::vector<double>(121, 0.0)};
    for (int k = 0; k < 9; ++k) a.at(k, (k + 4) % 9) = 2.0 + k;  // nothing on the diagonal
    a.at(9, 9) = a.at(10, 10) = 1.0;
    std::vector<int> swaps(9);
    std::vector<TestType> front = as_front<TestType>(a);
    CHECK(kernels->factor(front.data(), 9, 2, TestType(1e-6), swaps.data()) == 0);
    a = random_dense(11, 3);
    for (int r = 0; r < 9; ++r) a.at(r, 8) = a.at(r, 2);  // one column twice
    front = as_front<TestType>(a);
    CHECK(kernels->factor(front.data(), 9, 2, TestType(1e-6), swaps.data()) == 1);
    const auto last = static_cast<std::size_t>(8 * front_stride(11) + 8);
    CHECK(std::abs(front[last]) == TestType(1e-6));
    front.assign(front.size(), TestType(0));
    CHECK(kernels->factor(front.data(), 9, 2, TestType(1e-6), swaps.data()) == 9);
  }
}

TEST_CASE("what kernels write stays within the front, its padding and the sizes they promise", "[exact]") {
  for (const auto* kernels : builds<float>())
    for (const int own : {3, 8, 13})
      for (const int border : {0, 6, 11}) {
        const int n = own + border;
        std::vector<float> front = as_front<float>(random_dense(n, 5));
        const std::size_t size = front.size(), n_lower = lower_size(own, border),
                          n_upper = upper_size(own, border);
        front.resize(size + 16, 7.0f);
        std::vector<float> lower(n_lower + 16, 7.0f), upper(n_upper + 16, 7.0f);
        std::vector<int> swaps(static_cast<std::size_t>(own));
        kernels->factor(front.data(), own, border, 1e-12f, swaps.data());
        kernels->pack(front.data(), own, border, lower.data(), upper.data());
        for (int k = 0; k < 16; ++k) {
          CHECK(front[size + static_cast<std::size_t>(k)] == 7.0f);
          CHECK(lower[n_lower + static_cast<std::size_t>(k)] == 7.0f);
          CHECK(upper[n_upper + static_cast<std::size_t>(k)] == 7.0f);
        }
        for (int c = 0; c < n; ++c)
          for (int r = n; r < front_stride(n); ++r)
            CHECK(front[static_cast<std::size_t>(c * front_stride(n) + r)] == 0.0f);
      }
}
