// Without gravity a hot jet goes straight, and both its halves are the same.
#include <cstdio>

#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// A hot slot in the middle of a square box's rear, cut across z, so that gravity has no part in the plane.
SectionResult hot_jet(const geometry::Case& c) {
  SectionBoundaryData given;
  given.vents = {{0.0, 4e-5, 360.0}};
  SectionOptions options;
  options.finest = 2e-3;
  options.plane = Plane{2, 0.05};
  options.newton.residual_tolerance = 1e-13;
  return solve_section(c, c.conditions[0], given, options);
}

}  // namespace

TEST_CASE("a hot jet without gravity is straight and its own mirror image", "[jet][exact]") {
  geometry::Case c = box({0.1, 0.1, 0.1});
  c.device.vents = {vent("slot", Face::rear, {0.05, 0.1, 0.05}, 0.02, 0.06)};
  const SectionResult r = hot_jet(c);
  INFO(r.message);
  REQUIRE(r.end == SectionEnd::steady);
  CHECK(r.gravity[0] == 0.0);
  CHECK(r.gravity[1] == 0.0);
  const int nx = r.u.nx(), ny = r.u.ny();
  const double fastest = largest(r.v_face);
  CHECK(fastest > 0.02);
  double skew = 0.0, tilt = 0.0, heat = 0.0;
  for (int i = 0; i <= nx; ++i)  // the grid itself
    skew = std::max(skew,
                    std::abs(r.x[static_cast<std::size_t>(i)] + r.x[static_cast<std::size_t>(nx - i)] - 0.1));
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      tilt = std::max(tilt, std::abs(r.v_face(i, j) - r.v_face(nx - 1 - i, j)));
      tilt = std::max(tilt, std::abs(r.u_face(i, j) + r.u_face(nx - i, j)));
      heat = std::max(heat, std::abs(r.temperature(i, j) - r.temperature(nx - 1 - i, j)));
    }
  std::printf("grid skew %.1e m, velocity %.1e of the fastest, temperature %.1e K\n", skew, tilt / fastest,
              heat);
  CHECK(skew < 1e-14);
  CHECK(tilt < 1e-10 * fastest);
  CHECK(heat < 1e-9);
}
