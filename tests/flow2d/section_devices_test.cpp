// The devices of cases/, as their sections.
#include <set>

#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

TEST_CASE("the devices' sections are found and balance", "[balance]") {
  // By pose and support; the others differ in load.
  const std::set<std::string> shown{
      "lying", "on-wall", "hung",       "docked",      "asleep-flat", "upright", "fan-failed-upright",
      "use",   "on-bed",  "lid-closed", "bench-forced"};
  for (const char* name : {"fanless-router", "handheld-console", "mini-desktop", "slim-notebook"}) {
    const geometry::Case c = case_named(name);
    for (std::size_t k = 0; k < c.conditions.size(); ++k) {
      if (shown.count(c.conditions[k].name) == 0) continue;
      const study::ConditionResult network = study::predict(c, static_cast<int>(k));
      SectionOptions options;
      options.uncertainty = false;
      const SectionBoundaryData given = given_by(network);
      const SectionResult r = solve_section(c, c.conditions[k], given, options);
      INFO(name << ", " << c.conditions[k].name << ": " << r.message);
      CHECK(r.end == SectionEnd::steady);
      CHECK(r.mass <= 1e-10);
      CHECK(r.energy <= 1e-7);
      CHECK(r.tracer < 1e-9);
      for (std::size_t v = 0; v < r.vents.size(); ++v) {
        if (r.vents[v].cut != VentCut::cut && r.vents[v].cut != VentCut::narrow) continue;
        const Vec3 axis = Vec3::Unit(r.plane.normal);
        const geometry::Vent& vent = c.device.vents[v];
        Vec3 first, second;
        geometry::face_axes(vent.face, first, second);
        const double across =
            std::abs(axis.dot(first)) * vent.width + std::abs(axis.dot(second)) * vent.height;
        CHECK(r.vents[v].outflow - r.vents[v].inflow ==
              Approx((given.vents[v].outflow - given.vents[v].inflow) / across).margin(1e-12).epsilon(1e-9));
      }
      for (const Recirculation& e : r.recirculation) {
        CHECK(e.in_plane >= 0.0);
        CHECK(e.in_plane <= 1.0);
        CHECK(e.facing <= 1.0);
      }
    }
  }
}

TEST_CASE("every accepted section of every condition balances", "[balance]") {
  int steady = 0, all = 0;
  for (const char* name : {"fanless-router", "handheld-console", "mini-desktop", "slim-notebook"}) {
    const geometry::Case c = case_named(name);
    for (std::size_t k = 0; k < c.conditions.size(); ++k) {
      const study::ConditionResult network = study::predict(c, static_cast<int>(k));
      if (!network.report.converged) continue;
      SectionOptions options;
      options.finest = 2e-3;
      options.uncertainty = false;
      options.march_steps = 0;  // a mean is no state that balances
      const SectionBoundaryData given = given_by(network);
      const SectionResult r = solve_section(c, c.conditions[k], given, options);
      INFO(name << ", " << c.conditions[k].name << ": " << r.message);
      ++all;
      if (r.end != SectionEnd::steady) continue;
      ++steady;
      CHECK(r.mass <= 1e-10);
      CHECK(r.energy <= 1e-7);
      CHECK(r.tracer < 1e-9);
    }
  }
  CHECK(all == 31);
  CHECK(steady >= 28);
}
