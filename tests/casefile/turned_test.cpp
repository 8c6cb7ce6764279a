// Vents turned in their face: where they lie, what holds them, what they overlap.
#include <catch2/catch.hpp>

#include <cmath>

#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using Catch::Matchers::Contains;
using tuft::casefile::test::first_error;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;

namespace {

constexpr double kHalfTurn = 3.14159265358979323846;

Vent turned_vent(const std::string& keys) {
  const ReadResult result = read(small_case("  v: {" + keys + "}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  return result.file.content.device.vents[2];
}

std::string warnings_of(const std::string& keys) {
  std::string all;
  for (const Diagnostic& one : read(small_case(keys)).warnings) all += one.message + "\n";
  return all;
}

}  // namespace

TEST_CASE("a vent is turned counter-clockwise as its face is looked at from outside") {
  // The side that ran along the face's first axis, looked at with the outward normal towards the eye: turned
  // by a positive angle it goes towards normal x axis. Derived.
  for (const Face face : {Face::base, Face::top, Face::left, Face::right, Face::front, Face::rear}) {
    Vent vent;
    vent.face = face;
    vent.turned = kHalfTurn / 6.0;
    Vec3 first, second, a, b;
    face_axes(face, first, second);
    side_axes(vent, a, b);
    const Vec3 n = face_normal(face);
    const Vec3 across(n.y() * first.z() - n.z() * first.y(), n.z() * first.x() - n.x() * first.z(),
                      n.x() * first.y() - n.y() * first.x());
    INFO(face_word(face));
    CHECK((a - (std::cos(vent.turned) * first + std::sin(vent.turned) * across)).norm() < 1e-15);
    CHECK(std::abs(a.dot(b)) < 1e-15);
    CHECK(b.norm() == Approx(1.0));
    CHECK(b.dot(second) == Approx(std::cos(vent.turned)));
  }
}

TEST_CASE("a turned vent keeps its sides; its extents are those of what holds it") {
  const Vent vent = turned_vent("face: base, centre: [100 mm, 50 mm], size: [40 mm, 10 mm], turned: 30 deg");
  CHECK(vent.width == Approx(0.04));
  CHECK(vent.height == Approx(0.01));
  CHECK(vent.turned == Approx(kHalfTurn / 6.0));
  const Eigen::Vector2d extents = extents_on_face(vent);
  CHECK(extents.x() == Approx(0.04 * std::sqrt(0.75) + 0.01 * 0.5));
  CHECK(extents.y() == Approx(0.04 * 0.5 + 0.01 * std::sqrt(0.75)));
}

TEST_CASE("distances to edges of a turned vent are those of its outermost corners") {
  const Vent vent =
      turned_vent("face: base, from-left: 12 mm, from-front: 8 mm, size: [40 mm, 10 mm], turned: 90 deg");
  CHECK((vent.centre - Vec3(0.012 + 0.005, 0.008 + 0.02, 0.0)).norm() < 1e-12);
}

TEST_CASE("a turned vent must lie on its face with all its corners") {
  const std::string error = first_error(
      small_case("  v: {face: front, centre: [100 mm, 10 mm], size: [40 mm, 10 mm], turned: 45 deg}\n"));
  // (40 + 10) / sqrt 2 mm each way, on a face 20 mm high.
  CHECK_THAT(error, Contains("is 35.36 mm wide along z, larger than the front face (20 mm)"));
}

TEST_CASE("what two turned vents have in common is the area of the polygon that both cover") {
  const std::string one = "  a: {face: base, centre: [100 mm, 50 mm], size: [20 mm, 20 mm], cover: open}\n";
  // A square of side s and the same one turned by 45 degrees share a regular octagon, 2 (sqrt 2 - 1) s^2.
  // Derived.
  CHECK_THAT(
      warnings_of(one + "  b: {face: base, centre: [100 mm, 50 mm], size: [20 mm, 20 mm], cover: open, "
                        "turned: 45 deg}\n"),
      Contains("overlaps the vent 'a' by 331.4 mm2"));
  // Corner to side 30 mm apart: half diagonal 14.1 mm and half side 10 mm leave them apart.
  CHECK_THAT(
      warnings_of(one + "  b: {face: base, centre: [130 mm, 50 mm], size: [20 mm, 20 mm], cover: open, "
                        "turned: 45 deg}\n"),
      !Contains("overlaps"));
  // Two slots side by side along their length, both turned: the rectangles that hold them overlap, they do
  // not.
  CHECK_THAT(
      warnings_of(
          "  a: {face: base, centre: [90 mm, 50 mm], size: [40 mm, 4 mm], cover: open, turned: 45 deg}\n"
          "  b: {face: base, centre: [100 mm, 50 mm], size: [40 mm, 4 mm], cover: open, turned: 45 deg}\n"),
      !Contains("overlaps"));
}
