#include "solver/uncertainty/indices.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "tests/uncertainty/functions.hpp"

using namespace tuft::uncertainty;
using namespace tuft::test;

namespace {

template <class Function>
std::vector<double> run(const SaltelliDesign& plan, const Function& f) {
  std::vector<double> u(static_cast<std::size_t>(plan.inputs())), output;
  for (std::size_t k = 0; k < plan.runs(); ++k) {
    plan.point(k, u.data());
    output.push_back(f(u.data()));
  }
  return output;
}

void check_against(const Indices& found, const KnownIndices& known, double margin) {
  CHECK(found.mean == Approx(known.mean).margin(margin));
  CHECK(found.variance == Approx(known.variance).epsilon(margin));
  for (std::size_t i = 0; i < known.first.size(); ++i) {
    INFO("input " << i);
    CHECK(found.group[i].first == Approx(known.first[i]).margin(margin));
    CHECK(found.group[i].total == Approx(known.total[i]).margin(margin));
  }
}

}  // namespace

TEST_CASE("the closed forms of the test functions are those that are published") {
  // Ishigami: variances 13.8446, of x1 4.34589, of x2 6.125, of x1 with x3 3.3737, as transcribed from Sudret
  // (2008) in the documentation of a library. G: 0.716 0.179 0.024 0.007, as transcribed in others.
  const KnownIndices i = ishigami_indices();
  CHECK(i.variance == Approx(13.8446).margin(5e-5));
  CHECK(i.first[0] * i.variance == Approx(4.34589).margin(5e-6));
  CHECK(i.first[1] * i.variance == Approx(6.125).epsilon(1e-14));
  CHECK(i.total[2] * i.variance == Approx(3.3737).margin(5e-5));
  const KnownIndices g = g_indices();
  const double published[4] = {0.716, 0.179, 0.024, 0.007};
  for (std::size_t k = 0; k < 4; ++k) CHECK(g.first[k] == Approx(published[k]).margin(5e-4));
}

TEST_CASE("Sobol' indices of the Ishigami function") {
  const SaltelliDesign plan(3, 8192, 1);
  check_against(estimate_indices(plan, run(plan, ishigami)), ishigami_indices(), 4e-3);
}

TEST_CASE("Sobol' indices of the G function") {
  const SaltelliDesign plan(8, 8192, 1);
  check_against(estimate_indices(plan, run(plan, g_function)), g_indices(), 4e-3);
}

TEST_CASE("bootstrap intervals of indices hold the truth at least as often as they say") {
  // 40 studies of 6 indices: at 95 % at least 0.95 less three standard errors of 240 counts.
  const KnownIndices known = ishigami_indices();
  int right = 0;
  double width = 0.0;
  for (std::uint64_t s = 0; s < 40; ++s) {
    const SaltelliDesign plan(3, 512, s);
    const Indices found = estimate_indices(plan, run(plan, ishigami));
    for (std::size_t i = 0; i < 3; ++i) {
      const Index& each = found.group[i];
      right += each.first_interval.low <= known.first[i] && known.first[i] <= each.first_interval.high;
      right += each.total_interval.low <= known.total[i] && known.total[i] <= each.total_interval.high;
      width = std::max(width, each.first_interval.high - each.first_interval.low);
    }
  }
  CHECK(right / 240.0 > 0.95 - 3.0 * std::sqrt(0.95 * 0.05 / 240.0));
  CHECK(width < 0.4);  // intervals that hold everything would be of no use
}

TEST_CASE("a group's indices are those of its inputs together") {
  // Ishigami, x1 with x3: everything but x2's own part, and nothing beyond it (derived).
  const KnownIndices known = ishigami_indices();
  const SaltelliDesign plan(3, 16384, 5, {{0, 2}, {1}});
  const Indices found = estimate_indices(plan, run(plan, ishigami));
  CHECK(plan.runs() == 16384u * 4u);
  CHECK(found.group[0].first == Approx(1.0 - known.first[1]).margin(2e-3));
  CHECK(found.group[0].total == Approx(1.0 - known.first[1]).margin(2e-3));
  CHECK(found.group[1].total == Approx(known.first[1]).margin(2e-3));
}

TEST_CASE("an input that does nothing has no index, and a constant hangs on nothing") {
  const SaltelliDesign plan(3, 4096, 2);
  const Indices linear =
      estimate_indices(plan, run(plan, [](const double* u) { return 1e6 + u[0] + 2.0 * u[1]; }));
  CHECK(linear.group[2].first == 0.0);
  CHECK(linear.group[2].total == 0.0);
  CHECK(linear.group[1].total == Approx(0.8).margin(3e-4));
  const Indices constant = estimate_indices(plan, run(plan, [](const double*) { return 0.1; }));
  CHECK(constant.variance == 0.0);
  CHECK(constant.mean == 0.1);
  CHECK(constant.group[0].first == 0.0);
}

TEST_CASE("the plan takes a group's columns from the second sample and all else from the first") {
  const SaltelliDesign plan(3, 4, 8);
  std::vector<double> a(3), b(3), mixed(3);
  for (std::size_t i = 0; i < 4; ++i) {
    plan.point(i, a.data());
    plan.point(4 + i, b.data());
    for (std::size_t g = 0; g < 3; ++g) {
      plan.point((2 + g) * 4 + i, mixed.data());
      for (std::size_t j = 0; j < 3; ++j) CHECK(mixed[j] == (j == g ? b[j] : a[j]));
    }
    CHECK(a[0] != b[0]);
  }
}

TEST_CASE("plans and outputs that make no sense are refused") {
  CHECK_THROWS_WITH(SaltelliDesign(0, 4, 0), "sensitivity: 0 inputs: must be 1 to 240");
  CHECK_THROWS_WITH(SaltelliDesign(241, 4, 0), "sensitivity: 241 inputs: must be 1 to 240");
  CHECK_THROWS_WITH(SaltelliDesign(2, 6, 0), "sensitivity: 6 points: must be a power of two, 2 or more");
  CHECK_THROWS_WITH(SaltelliDesign(2, 4, 0, {{}}), "sensitivity: a group of inputs is empty");
  CHECK_THROWS_WITH(SaltelliDesign(2, 4, 0, {{0}, {0}}), "sensitivity: input 0 stands in two groups");
  CHECK_THROWS_WITH(SaltelliDesign(2, 4, 0, {{2}}), "sensitivity: input 2 does not exist");
  const SaltelliDesign plan(1, 2, 0);
  double u = 0.0;
  CHECK_THROWS_WITH(plan.point(6, &u), "sensitivity: the plan has no such run");
  CHECK_THROWS_WITH(estimate_indices(plan, {1.0}),
                    "sensitivity: one output for each run of the plan is needed");
  CHECK_THROWS_WITH(estimate_indices(plan, std::vector<double>(6, std::nan(""))),
                    "sensitivity: every output must be finite");
  CHECK_THROWS_WITH(estimate_indices(plan, std::vector<double>(6, 1.0), {1, 0.9, 0}),
                    "sensitivity: at least two bootstrap draws are needed");
  CHECK_THROWS_WITH(estimate_indices(plan, std::vector<double>(6, 1.0), {10, 1.0, 0}),
                    "sensitivity: the level of intervals must be > 0 and < 1");
}
