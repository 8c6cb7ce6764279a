// Heat whose place is given: network and field are given it there, and agree about what it does.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"
#include "tests/support/open_box.hpp"

using namespace tuft;

namespace {

constexpr double kPower = 6.0;

// The open box on end, 0.3 m high, with a board on the wall opposite the openings.
geometry::Case box_with_board() {
  geometry::Case c = test::open_box(0.3, 90.0);
  geometry::Source board;
  board.name = "board";
  board.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  board.is_placed = true;
  board.centre = {0.0, 0.15, 0.5};
  board.size = {0.0, 0.3, 1.0};
  c.device.sources = {board};
  geometry::SourcePower power;
  power.source = 0;
  power.power = kPower;
  c.loads[0].powers = {power};
  return c;
}

}  // namespace

TEST_CASE("heat with a place goes into the layers there, once") {
  const geometry::Case c = box_with_board();
  const study::ConditionResult network = study::predict(c, 0);
  REQUIRE(network.report.converged);
  const flow2d::LayerBoundaryData given = study::layer_boundary_data(network);
  CHECK(given.zones[0] == Approx(0.0).margin(1e-9));
  REQUIRE(given.spots.size() == 1);
  CHECK(given.spots[0].power == Approx(kPower));
  CHECK(given.spots[0].height == Approx(0.3));
  for (const network::ZoneAir air : {network::ZoneAir::mixed, network::ZoneAir::layered}) {
    network::Network net = network::assemble(c, c.conditions[0], air);
    CHECK(flow2d::set_given(c.device, given, &net) == Approx(kPower));
  }
}

TEST_CASE(
    "heat with a place: the field of a case has the flows of the field's table, the network lies near them") {
  const geometry::Case c = box_with_board();
  const study::ConditionResult network = study::predict(c, 0);
  flow2d::PlanOptions options;
  options.stable = false;
  const flow2d::PlanResult field =
      flow2d::solve_plan(c, c.conditions[0], study::layer_boundary_data(network), options);
  REQUIRE(field.converged());
  for (const test::OpenBoxRow& row : test::open_box_heated_wall_by_field()) {
    if (row.height != 0.30 || row.power != kPower || row.angle != 90.0) continue;
    for (std::size_t v = 0; v < 2; ++v) {
      CHECK(1e3 * field.vents[v].inflow == Approx(row.in[v]).epsilon(0.05));  // its cells are twice as large
      CHECK(1e3 * network.vents[v].inflow == Approx(row.in[v]).epsilon(0.25));
    }
  }
}
