#include "solver/physics/openings.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "solver/physics/face_law.hpp"

using namespace tuft::physics;

TEST_CASE("a passage without length is a hole in a wall") {
  const FaceLaw hole = sharp_rectangle({0.03, 0.01}, 0.0);
  const FaceLaw duct = passage({0.03, 0.01, 0.0, 0.0});
  CHECK(duct.viscous == hole.viscous);
  CHECK(duct.inertial == Approx(hole.inertial));
}

TEST_CASE("a long passage has entry, development, exit and turns") {
  const FaceLaw duct = passage({0.08, 0.004, 0.5, 2.0});
  const double k = flush_entry_loss + exit_loss + development_loss(0.05) + 2.0 * right_angle_loss;
  CHECK(2.0 * duct.inertial == Approx(k).epsilon(1e-4));
  const double friction = duct_friction(0.08, 0.004, 0.5);
  CHECK(duct.viscous == Approx(friction + sharp_rectangle({0.08, 0.004}, 0.0).viscous));
  CHECK(duct.viscous == Approx(friction).epsilon(0.02));
}

TEST_CASE("two passages side by side carry what one of twice the count would; the sides may be swapped") {
  const FaceLaw one = passage({0.08, 0.004, 0.1, 1.0});
  const FaceLaw turned = passage({0.004, 0.08, 0.1, 1.0});
  CHECK(one.viscous == turned.viscous);
  CHECK(one.inertial == turned.inertial);
}

TEST_CASE("a longer, flatter or more crooked passage loses more when the flow is slow") {
  const double base = passage({0.05, 0.005, 0.1, 0.0}).viscous;
  CHECK(passage({0.05, 0.005, 0.2, 0.0}).viscous > base);
  CHECK(passage({0.05, 0.003, 0.1, 0.0}).viscous > base);
  CHECK(passage({0.05, 0.005, 0.1, 1.0}).inertial > passage({0.05, 0.005, 0.1, 0.0}).inertial);
}

TEST_CASE("passages that cannot be are refused") {
  CHECK_THROWS_AS(passage({0.0, 0.005, 0.1, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(passage({0.05, 0.005, -0.1, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(passage({0.05, 0.005, 0.1, -1.0}), std::invalid_argument);
}
