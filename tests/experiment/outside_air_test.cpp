// The air around a device is that of its vents and its warm skin, in any pose.
#include "solver/experiment/outside_air.hpp"

#include <Eigen/LU>
#include <cmath>

#include "solver/experiment/tell_tales.hpp"
#include "solver/physics/near_vent.hpp"
#include "tests/experiment/support.hpp"

using namespace tuft;
using namespace tuft::test;
using experiment::Vec3;

namespace {

/// A box with one vent on a side and one patch of skin on top, lying flat, written down by hand.
struct Box {
  geometry::Case content;
  study::ConditionResult result;

  Box() {
    content.device.size = {0.3, 0.2, 0.05};
    geometry::Vent vent;
    vent.name = "side";
    vent.face = geometry::Face::left;
    vent.centre = {0.0, 0.1, 0.025};
    vent.width = 0.06;
    vent.height = 0.02;
    content.device.vents = {vent};
    geometry::Skin skin;
    skin.name = "lid";
    skin.face = geometry::Face::top;
    skin.centre = {0.15, 0.1, 0.05};
    skin.width = skin.height = 0.1;
    skin.emissivity = 0.9;
    content.device.skins = {skin};
    content.poses.push_back(geometry::Pose{});
    content.conditions.push_back({});
    result.report.converged = true;
    result.ambient_temperature = 294.15;
    result.ambient_density = 1.19;
    study::VentResult flows;
    flows.temperature_in = flows.temperature_out = 294.15;
    result.vents = {flows};
    study::SkinResult warm;
    warm.temperature = 294.15;
    result.skins = {warm};
  }
};

}  // namespace

TEST_CASE("outside air: an intake is the potential sink, towards the device in its own frame") {
  Box box;
  box.result.vents[0].inflow = 1e-3;
  const experiment::OutsideAir air(box.content, box.result);
  for (const double distance : {0.005, 0.02, 0.1}) {
    const Vec3 velocity = air.at(Vec3(-distance, 0.1, 0.025)).velocity;
    const double exact =
        physics::sink_velocity({0.06, 0.02, 1.0}, 1e-3 / air.density(), {0.0, 0.0, distance}).z();
    CHECK(velocity.x() == Approx(-exact).epsilon(1e-9));
    CHECK(std::abs(velocity.y()) < 1e-12);
  }
}

TEST_CASE("outside air: an outlet blows away from the device, and neighbours add") {
  Box box;
  box.result.vents[0].outflow = 1e-3;
  const double alone =
      experiment::OutsideAir(box.content, box.result).at(Vec3(-0.02, 0.1, 0.025)).velocity.x();
  CHECK(alone < -0.5);
  // A second one beside it draws: what it adds is its own potential field.
  geometry::Vent other = box.content.device.vents[0];
  other.name = "other";
  other.centre.y() = 0.17;
  box.content.device.vents.push_back(other);
  study::VentResult flows;
  flows.temperature_in = flows.temperature_out = 294.15;
  flows.inflow = 1e-3;
  box.result.vents.push_back(flows);
  const experiment::OutsideAir air(box.content, box.result);
  const Vec3 both = air.at(Vec3(-0.02, 0.1, 0.025)).velocity;
  const Vec3 drawn = physics::sink_velocity({0.06, 0.02, 1.0}, 1e-3 / air.density(), {0.07, 0.0, 0.02});
  CHECK(both.x() == Approx(alone - drawn.z()).margin(1e-9));
  CHECK(std::abs(both.y()) == Approx(drawn.head<2>().norm()).margin(1e-9));
}

TEST_CASE(
    "outside air: warm skin that faces up sends a plume up, standing skin a layer, facing down nothing") {
  Box box;
  box.result.skins[0].temperature = 314.15;
  box.result.skins[0].heat_out = 3.0;
  const Vec3 above(0.15, 0.1, 0.15), beside(0.15, 0.1, 0.055);
  CHECK(experiment::OutsideAir(box.content, box.result).at(above).velocity.z() > 0.05);
  // What is radiated does not rise: with nothing but radiation there is no plume. sigma eps A (T^4 - T0^4),
  // derived.
  box.result.skins[0].heat_out = 5.670374419e-8 * 0.9 * 0.01 * (std::pow(314.15, 4) - std::pow(294.15, 4));
  CHECK(experiment::OutsideAir(box.content, box.result).at(above).velocity.norm() < 1e-6);
  box.result.skins[0].heat_out = 3.0;
  box.content.poses[0] = geometry::named_pose("upside-down");
  CHECK(experiment::OutsideAir(box.content, box.result).at(above).velocity.norm() < 1e-12);
  // On its right edge +x points down, so the air along the lid climbs towards -x.
  box.content.poses[0] = geometry::named_pose("on-right-edge");
  const Vec3 climbing = experiment::OutsideAir(box.content, box.result).at(beside).velocity;
  CHECK(climbing.x() < -0.02);
  CHECK(std::abs(climbing.y()) < 1e-12);
}

TEST_CASE("outside air: what is pressed shut or hidden makes the face smaller, the speed there is kept") {
  Box box;
  study::VentResult flows = box.result.vents[0];
  flows.covered = 0.5;
  const physics::Face face = experiment::open_face(box.content.device.vents[0], flows);
  CHECK(face.area() == Approx(0.5 * 0.06 * 0.02));
  for (const auto face_of :
       {geometry::Face::base, geometry::Face::top, geometry::Face::left, geometry::Face::right,
        geometry::Face::front, geometry::Face::rear, geometry::Face::hinge}) {
    const Eigen::Matrix3d axes = experiment::vent_axes(face_of);
    CHECK((axes.transpose() * axes).isIdentity(1e-12));
    CHECK(axes.determinant() == Approx(1.0));
    CHECK((axes.col(2) - geometry::face_normal(face_of)).norm() < 1e-12);
  }
}

TEST_CASE("placing: upper and lower part, hanging and level") {
  Box box;
  const geometry::Vent& vent = box.content.device.vents[0];
  const Vec3 flat(0.0, 0.0, -9.80665);
  // 20 mm high: a quarter in from the edge is 7.5 mm from the middle.
  CHECK(experiment::place_before(vent, flat, 0.02, experiment::Part::upper).z() == Approx(0.025 + 0.0075));
  CHECK(experiment::place_before(vent, flat, 0.02, experiment::Part::lower).z() == Approx(0.025 - 0.0075));
  CHECK(experiment::place_before(vent, flat, 0.02, experiment::Part::middle).x() == Approx(-0.02));
  CHECK(experiment::mounting_of(geometry::Face::left, flat).attitude == experiment::Attitude::hanging);
  CHECK(experiment::mounting_of(geometry::Face::base, flat).attitude == experiment::Attitude::level);
  CHECK(experiment::mounting_of(geometry::Face::base, flat).up == Approx(-1.0));
  // Faced towards the vent's air: away from the device, level, across the strip.
  const experiment::OutsideAir air(box.content, box.result);
  const auto hanging = experiment::hang(*experiment::find_tell_tale("tissue-60"), geometry::Face::left, air,
                                        experiment::place_before(vent, flat, 0.02, experiment::Part::middle));
  CHECK(hanging.facing.x() == Approx(-1.0));
  CHECK(hanging.direction.z() == Approx(-1.0));
  CHECK(hanging.place.z() == Approx(0.025 + 0.7 * 0.060));
}
