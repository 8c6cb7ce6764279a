// The field's answer for the open box, which the network is held against: rows of its table computed again.
#include <catch2/catch.hpp>

#include "solver/flow2d/layer_solve.hpp"
#include "tests/support/open_box.hpp"

using namespace tuft;
using namespace tuft::flow2d;

namespace {

// Every digit of the table: half of the last of three decimals, and what is left of the residual.
void check_row(const tuft::test::OpenBoxRow& row) {
  const geometry::Case c = tuft::test::open_box(row.height, row.angle);
  LayerBoundaryData given;
  given.zones = {row.power};
  PlanOptions options;
  options.cell = 1e-3;
  options.stable = false;  // the steady state, also where the air swings about it
  const PlanResult field = solve_plan(c, c.conditions[0], given, options);
  INFO(row.height << " m, " << row.power << " W/m, " << row.angle << " deg: " << field.message);
  REQUIRE(field.converged());
  for (std::size_t v = 0; v < 3; ++v) {
    CHECK(1e3 * field.vents[v].inflow == Approx(row.in[v]).margin(1e-3));
    CHECK(1e3 * field.vents[v].outflow == Approx(row.out[v]).margin(1e-3));
  }
  CHECK(field.vents[tuft::test::kHigh].temperature_out - field.ambient_temperature ==
        Approx(row.warmer).margin(0.01));
}

bool is_one_of_few(const tuft::test::OpenBoxRow& row) {
  return row.height == 0.30 && row.power == 6 && (row.angle == 30 || row.angle == 90 || row.angle == 150);
}

}  // namespace

TEST_CASE("open box: the field's table, three of its rows") {
  for (const tuft::test::OpenBoxRow& row : tuft::test::open_box_by_field())
    if (is_one_of_few(row)) check_row(row);
}

// Some ten seconds; run by name.
TEST_CASE("open box: the field's table, all of it", "[.whole-table]") {
  for (const tuft::test::OpenBoxRow& row : tuft::test::open_box_by_field()) check_row(row);
}
