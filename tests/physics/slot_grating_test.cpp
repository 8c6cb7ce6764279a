// The creeping flow through a grating of slots, against a numerical solution of its potential problem.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/numerics/constants.hpp"
#include "solver/physics/cover.hpp"

using namespace tuft::physics;

namespace {

using tuft::numerics::kPi;

/// Uniform field of gradient 1 above a plane with strips of potential 0 (webs) and free slots of open ratio
/// f, pitch 1, on a half-pitch grid of n cells a side: how far the potential exceeds z far away. Successive
/// over-relaxation; the slot takes cells 0 .. f n of the lowest row (value in cell centres, wall at half a
/// cell).
double excess_potential(double f, int n) {
  const double h = 0.5 / n;
  const int rows = 3 * n;  // one and a half pitches: the periodic part has died to e^(-3 pi)
  std::vector<double> g(static_cast<std::size_t>(n * rows));
  const auto at = [&g, n](int i, int j) -> double& { return g[static_cast<std::size_t>(j * n + i)]; };
  for (int j = 0; j < rows; ++j) {
    for (int i = 0; i < n; ++i) at(i, j) = (j + 0.5) * h;
  }
  const double omega = 2.0 / (1.0 + std::sin(0.5 * kPi / rows));  // one end free: twice the wavelength
  for (int sweep = 0; sweep < 20 * rows; ++sweep) {
    for (int j = 0; j < rows; ++j) {
      for (int i = 0; i < n; ++i) {
        double sum = 0.0, weight = 0.0;
        const auto take = [&sum, &weight](double value) { sum += value, weight += 1.0; };
        if (i > 0) take(at(i - 1, j));
        if (i + 1 < n) take(at(i + 1, j));
        if (j + 1 < rows) take(at(i, j + 1));
        if (j + 1 == rows) sum += h;  // gradient 1 enters from above
        if (j > 0) take(at(i, j - 1));
        if (j == 0 && i >= f * n) weight += 2.0;  // web: potential 0, half a cell below
        at(i, j) += omega * (sum / weight - at(i, j));
      }
    }
  }
  double mean = 0.0;
  for (int i = 0; i < n; ++i) mean += at(i, rows - 1) / n;
  return mean - (rows - 0.5) * h;
}

}  // namespace

// Derived in slot_comb.cpp: dp = 4 pi mu w/(L (-ln cos(pi f/2))), that is excess = (L/pi)(-ln cos(pi f/2))
// and dp = 4 mu w / excess. The grid's answer is first order at the edges of the webs; extrapolated from two.
TEST_CASE("creep through a slot grating meets the numerical solution") {
  for (const double f : {0.25, 0.5, 0.75}) {
    const double numerical = 2.0 * excess_potential(f, 64) - excess_potential(f, 32);
    const double slot = f;  // pitch 1
    CHECK(slot_grating_creep(f, slot) == Approx(4.0 / numerical).epsilon(1e-3));
  }
}

TEST_CASE("creep through a slot grating falls to zero as the webs go") {
  double before = slot_grating_creep(0.01, 1e-3);
  for (double f = 0.02; f < 1.0; f += 0.01) {
    const double now = slot_grating_creep(f, 1e-3);
    REQUIRE(now < before);
    before = now;
  }
  CHECK(slot_grating_creep(1.0, 1e-3) == 0.0);
}
