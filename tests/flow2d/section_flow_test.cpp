// What passes the vents: given flows arrive whole, laws hold, jets decay, bytes do not depend on threads.
#include <omp.h>

#include <cstring>

#include "solver/network/vent_law.hpp"
#include "solver/physics/air.hpp"
#include "solver/physics/face_law.hpp"
#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

SectionBoundaryData blowing(double outflow, double inflow, double temperature) {
  SectionBoundaryData given;
  given.vents = {{0.0, outflow, temperature}, {inflow, 0.0, temperature}};
  return given;
}

bool same_bytes(const flow2d::Array2& a, const flow2d::Array2& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

}  // namespace

TEST_CASE("given flows arrive whole, mass and heat balance", "[balance]") {
  const geometry::Case c = slotted_box();
  const SectionResult r = solve_section(c, c.conditions[0], blowing(5e-4, 3e-4, 320.0));
  INFO(r.message);
  REQUIRE(r.end == SectionEnd::steady);
  CHECK(r.mass <= 1e-10);
  CHECK(r.energy <= 1e-7);
  CHECK(r.vents[0].cut == VentCut::cut);
  CHECK(r.vents[1].cut == VentCut::cut);
  CHECK(r.vents[0].outflow == Approx(5e-4 / 0.1).epsilon(1e-12));
  CHECK(r.vents[0].inflow == 0.0);
  CHECK(r.vents[1].inflow == Approx(3e-4 / 0.08).epsilon(1e-12));
  CHECK(r.vents[0].length == Approx(0.008));
  CHECK(r.vents[1].length == Approx(0.03));
  const double warm = r.ambient_density * r.ambient_temperature / 320.0;
  CHECK(r.vents[0].speed ==
        Approx(5e-3 / (warm * 0.008)).epsilon(1e-4));  // some heat leaves the mouth by conduction
  for (double t : r.temperature.values()) {
    CHECK(t > r.ambient_temperature - 1e-6);
    CHECK(t < 320.0 + 1e-6);
  }
}

TEST_CASE("one thread and two give the same bytes", "[threads]") {
  const geometry::Case c = slotted_box();
  const int before = omp_get_max_threads();
  omp_set_num_threads(1);
  const SectionResult one = solve_section(c, c.conditions[0], blowing(5e-4, 3e-4, 320.0));
  omp_set_num_threads(2);
  const SectionResult two = solve_section(c, c.conditions[0], blowing(5e-4, 3e-4, 320.0));
  omp_set_num_threads(before);
  CHECK(same_bytes(one.u_face, two.u_face));
  CHECK(same_bytes(one.v_face, two.v_face));
  CHECK(same_bytes(one.pressure, two.pressure));
  CHECK(same_bytes(one.temperature, two.temperature));
  REQUIRE(one.tracers.size() == two.tracers.size());
  for (std::size_t k = 0; k < one.tracers.size(); ++k)
    CHECK(same_bytes(one.tracers[k].share, two.tracers[k].share));
}

TEST_CASE("a slot's jet with the closure keeps to what handbooks say of slots", "[jet][closure][outside:1]") {
  geometry::Case c = box({0.2, 0.05, 0.2});
  c.device.vents = {vent("slot", Face::rear, {0.1, 0.05, 0.1}, 0.1, 0.01)};
  SectionBoundaryData given;
  given.vents = {{0.0, 4e-3, 0.0}};  // at the room's temperature: no lift
  SectionOptions options;
  options.closure = true;
  options.margin = 0.35;
  const SectionResult r = solve_section(c, c.conditions[0], given, options);
  INFO(r.message);
  REQUIRE(r.end == SectionEnd::steady);
  int j = 0;
  while (r.y[static_cast<std::size_t>(j) + 1] < 0.1001) ++j;
  for (const double distance : {0.12, 0.16, 0.2}) {  // 12 to 20 heights
    int i = 0;
    while (r.x[static_cast<std::size_t>(i) + 1] < 0.05 + distance) ++i;
    const double kept = r.u(i, j) / r.vents[0].speed;
    // u/u0 = sqrt(K h/x), K 3.9 to 6.0 for slots (ASHRAE Handbook - Fundamentals, ch. 20, eq. 3 and table 1,
    // as transcribed publicly).
    const double at = 0.5 * (r.x[static_cast<std::size_t>(i)] + r.x[static_cast<std::size_t>(i) + 1]) - 0.05;
    INFO("K = " << kept * kept * at / 0.01 << " at " << at);
    CHECK(kept * kept * at / 0.01 > 3.9);
    CHECK(kept * kept * at / 0.01 < 6.0);
  }
}

TEST_CASE("a warm skin makes a plume", "[skin]") {
  geometry::Case c = box({0.2, 0.1, 0.02});
  geometry::Skin skin;
  skin.face = Face::top;
  skin.centre = {0.1, 0.05, 0.02};
  skin.width = 0.1;
  skin.height = 0.06;
  c.device.skins = {skin};
  SectionBoundaryData given;
  given.skins = {*c.room.temperature + 25.0};
  const SectionResult r = solve_section(c, c.conditions[0], given);
  INFO(r.message);
  REQUIRE(r.end == SectionEnd::steady);
  CHECK(r.energy <= 1e-7);
  const int top = r.v_face.ny() - 1;
  double up = 0.0, most = 0.0, at = 0.0;
  for (int i = 0; i < r.v_face.nx(); ++i) {
    up += std::max(0.0, r.v_face(i, top));
    if (r.v_face(i, top) > most) {
      most = r.v_face(i, top);
      at = 0.5 * (r.x[static_cast<std::size_t>(i)] + r.x[static_cast<std::size_t>(i) + 1]);
    }
  }
  CHECK(up > 0.0);
  CHECK(most > 0.1);                       // some tenths of a metre a second over a hand-warm patch
  CHECK(at == Approx(0.05).margin(5e-3));  // straight above it
}
