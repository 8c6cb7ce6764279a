// A heated square cavity turned about: angle 0 is heated from below, 90 from the side, 180 from above.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

constexpr double kDegree = 0.017453292519943295;
constexpr int kCells = 32;

struct Turned {
  double nusselt = 0.0;
  double turning =
      0.0;  ///< sum of v over the hot half of the middle row: its sign is the way the air turns round
  State state;
};

/// Steady state at an angle, from a start or from nothing; `mirrored` turns the cavity the other way round.
Turned at(double angle, double rayleigh, const State* start, bool mirrored = false) {
  Problem p = heated_cavity(kCells, rayleigh, 0.0, (angle - 90.0) * kDegree);
  if (mirrored) p.gravity[1] = -p.gravity[1];
  Turned out;
  Solved s = solved(p, with_time(), start);
  INFO("angle " << angle << ": " << s.found.message);
  REQUIRE(s.found.steady());
  out.state = std::move(s.state);
  out.nusselt = s.found.newton.audit.heat_in;
  for (int i = 0; i < kCells / 2; ++i) out.turning += out.state.v()(i, kCells / 2);
  return out;
}

}  // namespace

TEST_CASE("a tilted cavity's heat follows the angle smoothly, the same in the mirror", "[published]") {
  const double rayleigh = 1e4;
  const Turned upright = at(90.0, rayleigh, nullptr);
  // de Vahl Davis 1983, as in test_heated_cavity; one grid here.
  CHECK(upright.nusselt == Approx(2.243).epsilon(0.02));
  std::vector<double> nusselt(13, 0.0);
  nusselt[6] = upright.nusselt;
  Turned up = upright, down = upright;
  for (int k = 1; k <= 6; ++k) {
    up = at(90.0 + 15.0 * k, rayleigh, &up.state);
    down = at(90.0 - 15.0 * k, rayleigh, &down.state);
    nusselt[static_cast<std::size_t>(6 + k)] = up.nusselt;
    nusselt[static_cast<std::size_t>(6 - k)] = down.nusselt;
  }
  std::printf("tilted cavity, Ra 1e4, 15 degree steps from below to above:");
  for (double n : nusselt) std::printf(" %.3f", n);
  std::printf("\n");
  // Heated from above: no motion (derived).
  CHECK(nusselt[12] == Approx(1.0).epsilon(1e-6));
  // From below: 2.158 (Ouertatani et al. 2008, from memory).
  CHECK(nusselt[0] == Approx(2.158).epsilon(0.02));
  // Largest with the hot wall turned below the side by 30 to 45 degrees (Ozoe, Sayama & Churchill 1974, from
  // memory: near 50 to 60 degrees); falls all the way from there to above.
  std::size_t largest = 0;
  for (std::size_t k = 1; k < nusselt.size(); ++k)
    if (nusselt[k] > nusselt[largest]) largest = k;
  CHECK(15.0 * static_cast<double>(largest) >= 45.0);
  CHECK(15.0 * static_cast<double>(largest) <= 75.0);
  for (std::size_t k = largest; k + 1 < nusselt.size(); ++k) CHECK(nusselt[k + 1] < nusselt[k]);
  // Smooth: no jump between neighbours, and second differences far below the range.
  for (std::size_t k = 1; k + 1 < nusselt.size(); ++k)
    CHECK(std::abs(nusselt[k + 1] - 2.0 * nusselt[k] + nusselt[k - 1]) < 0.25);
  for (const double angle : {30.0, 120.0}) {
    const Turned one = at(angle, rayleigh, nullptr), other = at(angle, rayleigh, nullptr, true);
    CHECK(other.nusselt == Approx(one.nusselt).epsilon(1e-7));
    CHECK(other.turning == Approx(-one.turning).epsilon(1e-6));
  }
}

TEST_CASE("near heated from below a tilted cavity has two states, and both are found",
          "[published][memory:1]") {
  const double rayleigh = 1e4;
  // Led from the side through "from below" and past it, the air keeps turning the way it did: there it turns
  // against the tilt. The state that turns with it is the mirror image of the one at the same tilt the other
  // way.
  Turned with = at(90.0, rayleigh, nullptr);
  for (double angle = 75.0; angle >= 5.0; angle -= 15.0) with = at(angle, rayleigh, &with.state);
  with = at(10.0, rayleigh, &with.state);
  Turned against = at(0.0, rayleigh, &with.state);
  against = at(-10.0, rayleigh, &against.state);
  CHECK(against.turning * with.turning > 0.0);
  Turned mirror = at(-90.0, rayleigh, nullptr);
  for (double angle = -75.0; angle <= -5.0; angle += 15.0) mirror = at(angle, rayleigh, &mirror.state);
  mirror = at(-10.0, rayleigh, &mirror.state);
  CHECK(mirror.turning * with.turning < 0.0);
  CHECK(mirror.nusselt == Approx(with.nusselt).epsilon(1e-6));
  CHECK(against.nusselt < with.nusselt);
  CHECK(against.nusselt > 1.5);
  std::printf("tilt 10 degrees from heated from below, Ra 1e4: Nu %.4f with the tilt, %.4f against it\n",
              with.nusselt, against.nusselt);
}
