// Near-vent air read off a section: from fields written down by hand.
#include "solver/experiment/look.hpp"

#include <algorithm>
#include <cmath>

#include "tests/experiment/support.hpp"

using namespace tuft;
using namespace tuft::test;
using experiment::Vec3;

namespace {

/// A field across an axis on cells that widen to one side, all air, u, v and T straight in both coordinates.
flow2d::SectionResult straight_field(int normal, std::size_t vents) {
  flow2d::SectionResult field;
  field.end = flow2d::SectionEnd::steady;
  field.plane = {normal, 0.1};
  for (int i = 0; i <= 90; ++i) field.x.push_back(-0.25 + 0.006 * i + 1e-5 * i * i);
  for (int j = 0; j <= 80; ++j) field.y.push_back(-0.2 + 0.005 * j + 2e-5 * j * j);
  const int nx = 90, ny = 80;
  field.part = flow2d::Array2T<int>(nx, ny, static_cast<int>(flow2d::Part::air));
  field.u = field.v = field.temperature = flow2d::Array2(nx, ny);
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) {
      const double x = 0.5 * (field.x[i] + field.x[i + 1]), y = 0.5 * (field.y[j] + field.y[j + 1]);
      field.u(i, j) = -0.3 + 2.0 * x - y;
      field.v(i, j) = 0.1 + 0.5 * x + 3.0 * y;
      field.temperature(i, j) = 300.0 + 10.0 * x;
    }
  }
  field.vents.resize(vents);
  return field;
}

geometry::Vent side_vent() {
  geometry::Vent vent;
  vent.name = "side";
  vent.face = geometry::Face::left;
  vent.centre = {0.0, 0.1, 0.025};
  vent.width = 0.06;
  vent.height = 0.02;
  return vent;
}

const Vec3 kFlat(0.0, 0.0, -9.80665);

}  // namespace

TEST_CASE("section air: a straight field is read off exactly, in the device's frame, across any axis") {
  for (const int normal : {0, 1, 2}) {
    const auto field = straight_field(normal, 1);
    const experiment::SectionAir air(field);
    for (const Vec3& place : {Vec3(-0.02, 0.031, 0.013), Vec3(0.11, -0.07, 0.05)}) {
      const double x = place[field.plane.first()], y = place[field.plane.second()];
      const auto there = air.at(place);
      REQUIRE(there);
      CHECK(there->velocity[field.plane.first()] == Approx(-0.3 + 2.0 * x - y));
      CHECK(there->velocity[field.plane.second()] == Approx(0.1 + 0.5 * x + 3.0 * y));
      CHECK(there->velocity[normal] == 0.0);
      CHECK(there->temperature == Approx(300.0 + 10.0 * x));
      // It is the same all along the axis it is across.
      Vec3 aside = place;
      aside[normal] += 0.04;
      CHECK(air.velocity(aside) == there->velocity);
    }
    CHECK_FALSE(air.at(Vec3(9.0, 9.0, 9.0)));
    CHECK(air.velocity(Vec3(9.0, 9.0, 9.0)).norm() == 0.0);
  }
}

TEST_CASE("section air: cells of what stands in the way count for nothing") {
  auto field = straight_field(1, 1);
  field.u.fill(-0.4);
  // A wall from x = -0.05 on to the left, with nonsense in it.
  for (int j = 0; j < field.part.ny(); ++j) {
    for (int i = 0; i < field.part.nx(); ++i) {
      if (field.x[static_cast<std::size_t>(i + 1)] > -0.05) continue;
      field.part(i, j) = static_cast<int>(flow2d::Part::support);
      field.u(i, j) = 99.0;
    }
  }
  const experiment::SectionAir air(field);
  CHECK_FALSE(air.at(Vec3(-0.08, 0.1, 0.025)));
  for (double x = -0.044; x < 0.0; x += 0.001) {
    INFO(x);
    CHECK(air.velocity(Vec3(x, 0.1, 0.025)).x() == Approx(-0.4));
  }
  field.vents[0].cut = flow2d::VentCut::cut;
  const auto points = experiment::air_in_section(air, side_vent(), 0, kFlat, {0.005, 0.02, 0.08});
  REQUIRE(points.size() == 2);  // 80 mm off lies in the wall
  CHECK(points[1].distance == 0.02);
  CHECK(points[1].outwards == Approx(0.4));
}

TEST_CASE("section air: only what the plane cuts, and what hangs in it") {
  auto field = straight_field(1, 1);
  const experiment::SectionAir air(field);
  CHECK(experiment::air_in_section(air, side_vent(), 0, kFlat, {0.02}).empty());
  for (const auto cut : {flow2d::VentCut::shut, flow2d::VentCut::narrow, flow2d::VentCut::missed}) {
    field.vents[0].cut = cut;
    CHECK_FALSE(air.cuts(0));
  }
  field.vents[0].cut = flow2d::VentCut::cut;
  CHECK(air.cuts(0));
  CHECK_FALSE(air.cuts(1));
  const auto points = experiment::air_in_section(air, side_vent(), 0, kFlat, {0.02});
  REQUIRE(points.size() == 1);
  const double u = -0.3 + 2.0 * -0.02 - 0.025, v = 0.1 + 0.5 * -0.02 + 3.0 * 0.025;
  CHECK(points[0].outwards == Approx(-u));
  CHECK(points[0].upwards == Approx(v));
  CHECK(points[0].speed == Approx(std::hypot(u, v)));
  physics::Hanging hanging;  // down z, facing x
  CHECK(air.holds(hanging));
  field.plane.normal = 2;
  CHECK_FALSE(air.holds(hanging));
}

TEST_CASE("bench with a section: strips before what it cuts lean by it, all else by the laws") {
  const auto file = case_of("slim-notebook");
  experiment::Question question;
  question.bench = condition_named(file.content, "use");
  question.use = condition_named(file.content, "use-idle");
  const int outlet = vent_named(file.content, "side-outlet");
  std::optional<experiment::Unsolved> unsolved;
  const experiment::Report by_law = experiment::judge_bench(file.content, question, unsolved);
  const geometry::Vent& vent = file.content.device.vents[static_cast<std::size_t>(outlet)];
  // An even 0.2 m/s straight out, whatever the laws say.
  auto field = straight_field(1, file.content.device.vents.size());
  field.x.back() = 9.0;
  field.y.back() = 9.0;
  field.plane.at = vent.centre.y();
  field.u.fill(0.2 * geometry::face_normal(vent.face).x());
  field.v.fill(0.0);
  field.vents[static_cast<std::size_t>(outlet)].cut = flow2d::VentCut::cut;
  question.section = &field;
  const experiment::Report report = experiment::judge_bench(file.content, question, unsolved);
  REQUIRE_FALSE(unsolved);
  REQUIRE(report.section);
  CHECK_FALSE(by_law.section);
  REQUIRE(std::abs(geometry::face_normal(vent.face).x()) == 1.0);
  for (std::size_t v = 0; v < report.vents.size(); ++v) {
    const experiment::VentSummary &view = report.vents[v], &before = by_law.vents[v];
    INFO(report.content.device.vents[static_cast<std::size_t>(view.vent)].name);
    const bool is_cut = view.vent == outlet;
    CHECK(view.air_in_section.empty() != is_cut);
    CHECK(view.air.size() == before.air.size());
    for (const experiment::AirPoint& point : view.air_in_section) CHECK(point.outwards == Approx(0.2));
    REQUIRE(view.tell_tales.size() == before.tell_tales.size());
    for (std::size_t t = 0; t < view.tell_tales.size(); ++t) {
      const experiment::TellTaleView& one = view.tell_tales[t];
      CHECK_FALSE(before.tell_tales[t].by_section);
      if (!one.usable) continue;
      CHECK(one.by_law == before.tell_tales[t].speed);
      CHECK(one.by_section == is_cut);
      if (is_cut)
        CHECK(one.speed == Approx(0.2));
      else
        CHECK(one.speed == one.by_law);
    }
  }
}
