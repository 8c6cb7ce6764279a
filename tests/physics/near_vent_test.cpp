// Air before vents: one way, both ways at once, several together.
#include "solver/physics/near_vent.hpp"

#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

using namespace tuft::physics;
using Eigen::Vector3d;

namespace {

VentFlow grille(double out, double in) {
  VentFlow vent;
  vent.face = {0.02, 0.08, 0.5};
  vent.out = out;
  vent.in = in;
  vent.out_temperature = 313.15;
  vent.gravity = {0.0, -9.80665, 0.0};  // the vent stands, y up
  return vent;
}

}  // namespace

TEST_CASE("near a vent: an intake alone is the sink, an exhaust alone the jet") {
  const VentFlow in = grille(0.0, 1e-3);
  const NearVent draws(in);
  const Vector3d point(0.005, 0.01, 0.02);
  CHECK((draws.at(point).velocity - sink_velocity(in.face, 1e-3, point)).norm() < 1e-15);
  CHECK(draws.at(point).temperature == in.room_temperature);
  CHECK(draws.jet() == nullptr);

  const NearVent blows(grille(1e-3, 0.0));
  REQUIRE(blows.jet() != nullptr);
  CHECK(blows.at({0, 0, 0.02}).velocity.z() > 0.5);
  CHECK(blows.at({0, 0, 0.001}).temperature == Approx(313.15).epsilon(1e-3));
  CHECK(blows.at({0, 0, -0.02}).velocity.norm() == 0.0);
  const NearVent idle(grille(0.0, 0.0));
  CHECK(idle.at(point).velocity.norm() == 0.0);
}

TEST_CASE("near a vent: how a tall opening is shared") {
  // Derived (I9): flows go as heights^(3/2). Equal flows halve it; 8 : 1 gives heights of 4 : 1.
  CHECK(split_of(grille(1e-3, 1e-3)).out_share == Approx(0.5));
  const Split split = split_of(grille(8e-4, 1e-4));
  CHECK(split.layered);
  CHECK(split.out_share == Approx(0.8));
  CHECK_FALSE(split.across_width);
  CHECK(split.out_at_positive);  // warm air leaves above
  VentFlow cold = grille(8e-4, 1e-4);
  cold.out_temperature = 283.15;
  CHECK_FALSE(split_of(cold).out_at_positive);
  VentFlow turned = grille(8e-4, 1e-4);
  turned.gravity = {9.80665, 0.0, 0.0};  // lying on its side: x down
  CHECK(split_of(turned).across_width);
  CHECK_FALSE(split_of(turned).out_at_positive);
  VentFlow facing_up = grille(8e-4, 1e-4);
  facing_up.gravity = {0.0, 0.0, -9.80665};
  CHECK_FALSE(split_of(facing_up).layered);
  CHECK_FALSE(split_of(grille(1e-3, 0.0)).layered);
}

TEST_CASE("near a vent: a tall opening blows above and draws below") {
  const NearVent vent(grille(5e-4, 5e-4));
  CHECK(vent.at({0.0, 0.025, 0.01}).velocity.z() > 0.1);
  CHECK(vent.at({0.0, -0.025, 0.01}).velocity.z() < -0.1);
  CHECK(vent.at({0.0, 0.025, 0.005}).temperature > 303.0);
  // The mirror image of the pose: gravity the other way.
  VentFlow over = grille(5e-4, 5e-4);
  over.gravity = {0.0, 9.80665, 0.0};
  const NearVent mirrored(over);
  const Vector3d a = vent.at({0.003, 0.025, 0.01}).velocity, b = mirrored.at({0.003, -0.025, 0.01}).velocity;
  CHECK(a.z() == Approx(b.z()).epsilon(1e-12));
  CHECK(a.y() == Approx(-b.y()).epsilon(1e-9).margin(1e-12));
}

TEST_CASE("near several vents: draughts add, streams add their momentum") {
  const NearVent draws(grille(0.0, 1e-3));
  const Vector3d apart(0.1, 0.0, 0.0), point(0.05, 0.0, 0.03);
  const AirAt both = air_from({{draws, Vector3d::Zero()}, {draws, apart}}, point);
  const Vector3d one = draws.at(point).velocity, other = draws.at(point - apart).velocity;
  CHECK((both.velocity - one - other).norm() < 1e-14);
  CHECK(both.velocity.x() == Approx(0.0).margin(1e-14));

  // Two equal streams in one place: sqrt2 of one (momentum), not 2.
  VentFlow out = grille(1e-3, 0.0);
  out.gravity = Vector3d::Zero();
  const NearVent blows(out);
  const Vector3d before(0.0, 0.0, 0.05);
  const AirAt twice = air_from({{blows, Vector3d::Zero()}, {blows, Vector3d::Zero()}}, before);
  CHECK(twice.velocity.z() == Approx(std::sqrt(2.0) * blows.at(before).velocity.z()).epsilon(1e-12));
}

TEST_CASE("near several vents: a turned frame turns the air with it") {
  const NearVent vent(grille(4e-4, 6e-4));
  const Eigen::Matrix3d axes =
      Eigen::AngleAxisd(0.7, Vector3d(1.0, 2.0, -0.5).normalized()).toRotationMatrix();
  const Vector3d centre(0.3, -0.1, 0.2), local(0.01, 0.02, 0.03);
  const AirAt air = air_from({{vent, centre, axes}}, centre + axes * local);
  CHECK((air.velocity - axes * vent.at(local).velocity).norm() < 1e-12);
  CHECK(air.temperature == Approx(vent.at(local).temperature).epsilon(1e-12));
  CHECK(air_from({{vent, centre, axes}}, centre - 0.01 * axes.col(2)).velocity.norm() == 0.0);
  CHECK(air_from({}, centre).velocity.norm() == 0.0);
}

TEST_CASE("near a vent: wrong input is refused") {
  CHECK_THROWS_AS(NearVent(grille(-1e-3, 0.0)), std::invalid_argument);
  VentFlow flat = grille(1e-3, 0.0);
  flat.face.height = 0.0;
  CHECK_THROWS_AS(NearVent(flat), std::invalid_argument);
  const NearVent vent(grille(1e-3, 0.0));
  CHECK_THROWS_AS(vent.at({0.0, 0.0, std::nan("")}), std::invalid_argument);
  CHECK_THROWS_AS(air_from({{vent, Vector3d::Zero(), 2.0 * Eigen::Matrix3d::Identity()}}, Vector3d::Zero()),
                  std::invalid_argument);
}
