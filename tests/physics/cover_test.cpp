// Every kind of cover: losses fall with the open ratio, without a jump, down to the bare opening.
#include "solver/physics/cover.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <string>

#include "solver/numerics/constants.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft::physics;
using tuft::numerics::kPi;

namespace {

const Opening face{0.070, 0.048};

struct Kind {
  std::string name;
  double thickness;
  std::function<FaceLaw(double)> law;  ///< by open ratio
};

Kind kind(const char* name, double thickness, const std::function<FaceLaw(double)>& alone) {
  return {name, thickness, [=](double f) { return cover_in_wall(alone(f), face, thickness); }};
}

std::vector<Kind> kinds() {
  return {kind("perforated, thin", 0.3e-3, [](double f) { return perforated_sheet(f, 1.6e-3, 0.3e-3); }),
          kind("perforated, as thick as its holes", 1.2e-3,
               [](double f) { return perforated_sheet(f, 1.2e-3, 1.2e-3); }),
          kind("perforated, thick", 4e-3, [](double f) { return perforated_sheet(f, 1.0e-3, 4e-3); }),
          kind("mesh", 1e-3, [](double f) { return mesh_screen(f, 0.8e-3); }),
          kind("louvre", 3e-3, [](double f) { return louvre_blades(f, 3e-3, 3e-3); }),
          kind("slots", 1.5e-3, [](double f) { return slot_sheet(f, 1.5e-3, 1.5e-3); })};
}

}  // namespace

TEST_CASE("losses of a cover fall monotonically with the open ratio") {
  for (const Kind& kind : kinds()) {
    INFO(kind.name);
    FaceLaw before = kind.law(0.005);
    for (int i = 6; i <= 1000; ++i) {
      const FaceLaw now = kind.law(i / 1000.0);
      INFO("open ratio " << i / 1000.0);
      REQUIRE(now.viscous < before.viscous);
      REQUIRE(now.inertial < before.inertial);
      before = now;
    }
  }
}

namespace {

/// Largest relative change of either coefficient over one of `steps` equal steps of the open ratio, 0.05
/// to 1.
double largest_change(const Kind& kind, int steps) {
  double worst = 0.0;
  FaceLaw before = kind.law(0.05);
  for (int i = 1; i <= steps; ++i) {
    const FaceLaw now = kind.law(std::min(1.0, 0.05 + 0.95 * i / steps));
    worst = std::max(worst, std::fabs(before.viscous / now.viscous - 1.0));
    worst = std::max(worst, std::fabs(before.inertial / now.inertial - 1.0));
    before = now;
  }
  return worst;
}

}  // namespace

// Where there is no jump, ten times finer steps change ten times less; across a jump they change as much.
TEST_CASE("losses of a cover change without a jump") {
  for (const Kind& kind : kinds()) {
    INFO(kind.name);
    CHECK(largest_change(kind, 100000) < 0.12 * largest_change(kind, 10000));
  }
}

TEST_CASE("a cover that covers nothing is the bare opening") {
  for (const Kind& kind : kinds()) {
    INFO(kind.name);
    const FaceLaw bare = sharp_rectangle(face, kind.thickness);
    CHECK(kind.law(1.0).viscous == Approx(bare.viscous).epsilon(1e-12));
    CHECK(kind.law(1.0).inertial == Approx(bare.inertial).epsilon(1e-12));
    CHECK(kind.law(1.0 - 1e-6).inertial == Approx(bare.inertial).epsilon(1e-4));
  }
}

TEST_CASE("a dense cover adds entry and exit of the face, and no contraction") {
  const FaceLaw dense = cover_in_wall(perforated_sheet(0.2, 1.6e-3, 0.0), face, 0.0);
  CHECK(2.0 * dense.inertial == Approx(52.0 + 0.49 + 1.0).epsilon(1e-4));
}

TEST_CASE("no cover loses less than the bare opening") {
  const FaceLaw bare = sharp_rectangle(face, 0.0);
  for (double k = 0.0; k < 20.0; k += 0.01) {
    const FaceLaw law = cover_in_wall({0.0, 0.5 * k}, face, 0.0);
    REQUIRE(law.inertial >= bare.inertial);
  }
}

TEST_CASE("slow flow through holes, slots and foam has its viscous limit") {
  // One hole far from its neighbours: Sampson over the open ratio.
  const double f = 1e-4, d = 1e-3;
  CHECK(perforated_sheet(f, d, 0.0).viscous == Approx(6.0 * kPi / (d * f)).epsilon(1e-4));
  CHECK(slot_sheet(f, d, 0.0).viscous == Approx(sharp_slot(d, 0.0).viscous / f).epsilon(1e-4));
  // Foam: dp = t (mu w / k + C rho w^2).
  CHECK(foam_layer(1e-9, 500.0, 3e-3).viscous == Approx(3e-3 / 1e-9));
  CHECK(foam_layer(1e-9, 500.0, 3e-3).inertial == Approx(3e-3 * 500.0));
}

TEST_CASE("foam of no thickness is the bare opening; more foam loses more") {
  const FaceLaw bare = sharp_rectangle(face, 0.0);
  CHECK(cover_in_wall(foam_layer(1e-9, 500.0, 0.0), face, 0.0).inertial == Approx(bare.inertial));
  FaceLaw before = bare;
  for (double t = 1e-4; t < 0.01; t += 1e-4) {
    const FaceLaw now = cover_in_wall(foam_layer(1e-9, 500.0, t), face, 0.0);
    REQUIRE(now.viscous > before.viscous);
    REQUIRE(now.inertial > before.inertial);
    before = now;
  }
}

TEST_CASE("a given loss is taken as given") {
  CHECK(given_loss(7.5, face).inertial == 3.75);
  CHECK(given_loss(7.5, face).viscous == sharp_rectangle(face, 0.0).viscous);
}

TEST_CASE("covers and cloth that cannot be are refused") {
  CHECK_THROWS_AS(perforated_sheet(0.0, 1e-3, 1e-3), std::invalid_argument);
  CHECK_THROWS_AS(perforated_sheet(1.1, 1e-3, 1e-3), std::invalid_argument);
  CHECK_THROWS_AS(mesh_screen(0.5, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(slot_sheet(0.5, -1e-3, 1e-3), std::invalid_argument);
  CHECK_THROWS_AS(louvre_blades(0.5, 0.0, 1e-3), std::invalid_argument);
  CHECK_THROWS_AS(foam_layer(0.0, 0.0, 1e-3), std::invalid_argument);
  CHECK_THROWS_AS(given_loss(0.0, face), std::invalid_argument);
  CHECK_THROWS_AS(fabric(0.0), std::invalid_argument);
}
