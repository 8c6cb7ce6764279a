// The maps of a solved field.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/figure/xml.hpp"
#include "tests/io/field_runs.hpp"
#include "tests/io/sample.hpp"
#include "tools/io/field_figures.hpp"

using namespace tuft;
using namespace tuft::io;
using namespace tuft::test;
using geometry::Role;

namespace {

constexpr geometry::ShownUnit kDegrees = geometry::temperature_unit(geometry::UnitSystem::metric);

std::vector<FlowLine> map_lines(const FieldRun& field) {
  return flow_lines(field.run.content.device, field.plan, field.cell);
}

}  // namespace

TEST_CASE("maps have the vents where the case has them, with the field's roles") {
  const FieldRun& field = rooms();
  const figure::FieldMap map = layer_map(field, 0, MapQuantity::temperature, map_lines(field));
  REQUIRE(map.vents.size() == 4);
  const auto same = [](const figure::Place& place, double x, double y) {
    return std::abs(place.x - x) < 1e-12 && std::abs(place.y - y) < 1e-12;
  };
  CHECK((same(map.vents[0].from, 0.02, 0.0) && same(map.vents[0].to, 0.08, 0.0)));
  CHECK((same(map.vents[1].from, 0.0, 0.055) && same(map.vents[1].to, 0.0, 0.105)));
  CHECK((same(map.vents[2].from, 0.03, 0.085) && same(map.vents[2].to, 0.09, 0.135)));
  CHECK((same(map.vents[3].from, 0.24, 0.06) && same(map.vents[3].to, 0.24, 0.1)));
  CHECK(map.vents[2].is_area);
  CHECK(map.vents[0].vent_state.role == Role::intake);
  CHECK(map.vents[3].vent_state.role == Role::exhaust);
  REQUIRE(map.gravity);
  CHECK(map.gravity->towards == Approx(-1.0));  // flat: away from who looks down on it
  CHECK(map.values.size() == 24 * 16);
  CHECK(map.values[0] == Approx(field.plan.layers[0].temperature[0] - 273.15));
  REQUIRE(map.parts.size() == 1);
  // It blows through the right wall: seen from its edge.
  CHECK(map.parts[0].kind == figure::MapPart::Kind::fan);
}

TEST_CASE("a map of one value all over is known for it, and what is measurable is none") {
  figure::FieldMap map = layer_map(rooms(), 0, MapQuantity::temperature, map_lines(rooms()));
  CHECK_FALSE(is_uniform(map, MapQuantity::temperature, kDegrees));
  const std::size_t air =
      static_cast<std::size_t>(std::find(map.solid.begin(), map.solid.end(), false) - map.solid.begin());
  std::fill(map.values.begin(), map.values.end(), 21.0);
  map.values[air] = 21.04;
  CHECK(is_uniform(map, MapQuantity::temperature, kDegrees));
  map.values[air] = 21.1;
  CHECK_FALSE(is_uniform(map, MapQuantity::temperature, kDegrees));
}

TEST_CASE("the drawings of a field have no text on text, and show vents to scale") {
  const FieldRun& field = rooms();
  for (const MapQuantity quantity : {MapQuantity::temperature, MapQuantity::speed}) {
    const std::string svg = figure::field_map(layer_map(field, 0, quantity, map_lines(field)));
    for (const std::string& fault : tuft::test::text_faults(svg)) FAIL_CHECK(fault);
    const tuft::test::Element root = tuft::test::parsed(svg);
    const auto vents = tuft::test::having(tuft::test::all(root, "rect"), "data-vent", "grille");
    REQUIRE(vents.size() == 1);
    const figure::Box grille = tuft::test::box_of(vents[0]);
    const figure::Box map =
        tuft::test::box_of(tuft::test::having(tuft::test::all(root, "image"), "data-part", "field").at(0));
    const double scale = map.width() / 0.24;
    CHECK(grille.left == Approx(map.left + 0.03 * scale).margin(0.02));
    CHECK(grille.top == Approx(map.bottom - 0.135 * scale).margin(0.02));
    CHECK(grille.width() == Approx(0.06 * scale).margin(0.02));
  }
}
