// How the cells' size matters: the fractions' uncertainty, and what sharper convection is worth.
#include <cstdio>

#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

Recirculation largest_of(const SectionResult& r) {
  Recirculation most;
  for (const Recirculation& e : r.recirculation)
    if (e.in_plane > most.in_plane) most = e;
  return most;
}

}  // namespace

TEST_CASE("a fraction's doubt tells how far smaller cells move it", "[tracer][grid]") {
  const geometry::Case c = case_named("slim-notebook");
  const int k = condition_named(c, "lid-closed");
  const SectionBoundaryData given = given_by(study::predict(c, k));
  std::printf("drawn again in the plane, slim-notebook lid-closed, by cell size\n");
  for (const bool closure : {false, true}) {
    Recirculation found[3];
    const double cells[3] = {2.8e-3, 2e-3, 1.4e-3};
    for (int n = 0; n < 3; ++n) {
      SectionOptions options;
      options.finest = cells[n];
      options.closure = closure;
      const SectionResult r = solve_section(c, c.conditions[static_cast<std::size_t>(k)], given, options);
      INFO(r.message << "; cells " << cells[n]);
      REQUIRE(r.usable());
      found[n] = largest_of(r);
      REQUIRE(found[n].uncertain);
      std::printf("  %-10s %.1f mm  %.4f, doubt %.4f\n", closure ? "closure" : "none", 1e3 * cells[n],
                  found[n].in_plane, found[n].by_cells);
    }
    // Half the cells each way lie within what the larger ones doubted.
    CHECK(std::abs(found[2].in_plane - found[0].in_plane) <= found[0].by_cells);
    CHECK(found[2].by_cells > 0.0);
  }
}

TEST_CASE("sharper convection is found in a section on every grid, and its flow settles with the cells",
          "[jet][limited]") {
  // A slow slot's jet, at the room's temperature: speed on its axis ten heights out, by cells.
  geometry::Case c = box({0.2, 0.05, 0.1});
  c.device.vents = {vent("slot", Face::rear, {0.1, 0.05, 0.05}, 0.1, 0.016)};
  SectionBoundaryData given;
  given.vents = {{0.0, 1e-4, 0.0}};  // 0.05 m/s, Reynolds number 55
  std::printf("speed 0.1 m before a slow slot over the slot's, and processor steps, by cell size\n");
  double change[2][2];
  for (const bool limited : {false, true}) {
    double kept[3];
    const double cells[3] = {8e-3, 4e-3, 2e-3};
    for (int n = 0; n < 3; ++n) {
      SectionOptions options;
      options.finest = cells[n];
      options.growth = 0.02 * cells[n] / 2e-3;
      options.uncertainty = false;
      options.margin = 0.2;
      if (limited) options.scheme = flow2d::Convection::limited;
      const SectionResult r = solve_section(c, c.conditions[0], given, options);
      INFO(r.message << "; cells " << cells[n]);
      REQUIRE(r.end == SectionEnd::steady);
      REQUIRE(r.first_order != limited);
      // Speed on the axis, linear between the faces before and behind the place.
      int j = 0, i = 0;
      while (r.y[static_cast<std::size_t>(j) + 1] < 0.0501) ++j;
      while (r.x[static_cast<std::size_t>(i) + 1] < 0.15) ++i;
      const double a = r.x[static_cast<std::size_t>(i)], b = r.x[static_cast<std::size_t>(i) + 1];
      const double share = (0.15 - a) / (b - a);
      const auto axis_speed = [&](int row) {
        return (1.0 - share) * r.u_face(i, row) + share * r.u_face(i + 1, row);
      };
      // The axis is a line of the grid: the mean of the cells beside it.
      kept[n] = 0.5 * (axis_speed(j) + axis_speed(j - 1)) / r.vents[0].speed;
      std::printf("  %-7s %.0f mm  %.5f  %d x %d, %d steps, %d iterations\n", limited ? "limited" : "upwind",
                  1e3 * cells[n], kept[n], r.u.nx(), r.u.ny(), r.steps, r.linear_iterations);
    }
    change[limited][0] = std::abs(kept[1] - kept[0]);
    change[limited][1] = std::abs(kept[2] - kept[1]);
    std::printf("  observed order %.2f\n", std::log2(change[limited][0] / change[limited][1]));
  }
  for (const auto& of_scheme : change) CHECK(of_scheme[1] < 0.5 * of_scheme[0]);
}
