#include "solver/physics/face_law.hpp"

#include <catch2/catch.hpp>

using namespace tuft::physics;

TEST_CASE("a law restated on a larger face gives the same pressure drop at the same flow") {
  const FaceLaw small{1000.0, 1.3};
  const FaceLaw face = on_face(small, 0.25);
  const double w = 2.0;  // on the face; 8 m/s in the hole
  const double mu = 1.8e-5, rho = 1.2;
  CHECK(face.viscous * mu * w + face.inertial * rho * w * w ==
        Approx(small.viscous * mu * 8.0 + small.inertial * rho * 64.0));
}

TEST_CASE("losses in series add") {
  const FaceLaw both = in_series({10.0, 1.0}, {5.0, 0.5});
  CHECK(both.viscous == 15.0);
  CHECK(both.inertial == 1.5);
}
