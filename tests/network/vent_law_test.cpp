// Which ends of its stream a vent pays for, by what lies behind it.
#include "solver/network/vent_law.hpp"

#include <catch2/catch.hpp>

#include "solver/physics/cover.hpp"
#include "solver/physics/face_law.hpp"
#include "tests/network/chassis.hpp"

using namespace tuft;
using geometry::PlaceKind;

namespace {

geometry::Vent grille_before(PlaceKind behind) {
  geometry::Vent vent = testing::test_chassis().device.vents[testing::kGrille];
  vent.behind.kind = behind;
  return vent;
}

}  // namespace

TEST_CASE(
    "right at a fan a vent costs its cover alone, behind fins also the exit, before a zone the whole wall") {
  const geometry::Vent grille = grille_before(PlaceKind::zone);
  const double cover =
      physics::perforated_sheet(*grille.cover.open_ratio, *grille.cover.hole, *grille.cover.thickness)
          .inertial;
  const auto inertial = [](PlaceKind behind) { return network::vent_law(grille_before(behind)).inertial; };
  CHECK(inertial(PlaceKind::fan_inlet) == Approx(cover));
  CHECK(inertial(PlaceKind::fan_outlet) == Approx(cover));
  CHECK(inertial(PlaceKind::fins) == Approx(cover + 0.5 * physics::exit_loss));
  CHECK(inertial(PlaceKind::zone) >= cover + 0.5 * (physics::exit_loss + physics::flush_entry_loss));
}

TEST_CASE("a vent without a cover right at a fan still resists when nearly nothing flows") {
  geometry::Vent bare = grille_before(PlaceKind::fan_inlet);
  bare.cover = geometry::Cover{};
  CHECK(network::vent_law(bare).viscous > 0.0);
}

TEST_CASE("a loss coefficient that was given is taken as it is, whatever lies behind") {
  for (PlaceKind behind : {PlaceKind::zone, PlaceKind::fins, PlaceKind::fan_inlet}) {
    geometry::Vent vent = grille_before(behind);
    vent.cover.loss_given = true;
    vent.cover.loss = 7.0;
    CHECK(network::vent_law(vent).inertial == Approx(3.5));
  }
}

TEST_CASE("tape takes area away, all of it shuts the vent") {
  geometry::Vent vent = grille_before(PlaceKind::zone);
  vent.blocked = 0.25;
  CHECK(network::vent_area(vent) == Approx(0.75 * vent.width * vent.height));
  vent.blocked = 1.0;
  CHECK(network::vent_area(vent) == 0.0);
}
