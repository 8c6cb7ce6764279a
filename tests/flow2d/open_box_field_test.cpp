// The field's answer for the open box, which the network is held against: rows of its table computed again.
#include <catch2/catch.hpp>
#include <cstdio>

#include "solver/flow2d/layer_solve.hpp"
#include "tests/support/open_box.hpp"

using namespace tuft;
using namespace tuft::flow2d;

namespace {

// Every digit of the table: half of the last of three decimals, and what is left of the residual.
void check_row(const tuft::test::OpenBoxRow& row, bool on_wall, bool printed = false) {
  const geometry::Case c = tuft::test::open_box(row.height, row.angle);
  LayerBoundaryData given;
  if (on_wall)
    given.spots = {{0, {0.0005, 0.5 * row.height, 0.5}, 0.001, row.height, row.power}};
  else
    given.zones = {row.power};
  PlanOptions options;
  options.cell = 1e-3;
  options.stable = false;  // the steady state, also where the air swings about it
  const PlanResult field = solve_plan(c, c.conditions[0], given, options);
  INFO(row.height << " m, " << row.power << " W/m, " << row.angle << " deg: " << field.message);
  REQUIRE(field.converged());
  if (printed) {  // a row of tests/support/open_box.hpp
    const auto& v = field.vents;
    std::printf("{%.2f, %g, %g, {%.3f, %.3f, %.3f}, {%.3f, %.3f, %.3f}, %.2f},\n", row.height, row.power,
                row.angle, 1e3 * v[0].inflow, 1e3 * v[1].inflow, 1e3 * v[2].inflow, 1e3 * v[0].outflow,
                1e3 * v[1].outflow, 1e3 * v[2].outflow,
                v[tuft::test::kHigh].temperature_out - field.ambient_temperature);
  }
  for (std::size_t v = 0; v < 3; ++v) {
    CHECK(1e3 * field.vents[v].inflow == Approx(row.in[v]).margin(1e-3));
    CHECK(1e3 * field.vents[v].outflow == Approx(row.out[v]).margin(1e-3));
  }
  CHECK(field.vents[tuft::test::kHigh].temperature_out - field.ambient_temperature ==
        Approx(row.warmer).margin(0.01));
}

void check_wide(const tuft::test::WideBoxRow& row, bool printed = false) {
  constexpr double kHigh = 0.3;
  geometry::Case c = tuft::test::upright_box(row.depth, kHigh);
  LayerBoundaryData given;
  if (row.on_wall)
    given.spots = {{0, {0.001, 0.5 * kHigh, 0.5}, 0.002, kHigh, row.power}};
  else
    given.spots = {{0, {0.5 * row.depth, 0.002, 0.5}, 0.004, 0.004, row.power}};
  PlanOptions options;
  options.stable = false;
  const PlanResult field = solve_plan(c, c.conditions[0], given, options);
  INFO(row.depth << " m, " << row.power << " W/m: " << field.message);
  REQUIRE(field.converged());
  if (printed)
    std::printf("{%.2f, %g, %s, %.3f, %.2f},\n", row.depth, row.power, row.on_wall ? "true" : "false",
                1e3 * field.vents[0].inflow, field.vents[1].temperature_out - field.ambient_temperature);
  CHECK(1e3 * field.vents[0].inflow == Approx(row.flow).margin(1e-3));
  CHECK(1e3 * field.vents[1].outflow == Approx(row.flow).margin(1e-3));
  CHECK(field.vents[1].temperature_out - field.ambient_temperature == Approx(row.warmer).margin(0.01));
}

bool is_one_of_few(const tuft::test::OpenBoxRow& row) {
  return row.height == 0.30 && row.power == 6 && (row.angle == 30 || row.angle == 90 || row.angle == 150);
}

}  // namespace

TEST_CASE("open box: the field's tables, three rows of each") {
  for (const tuft::test::OpenBoxRow& row : tuft::test::open_box_by_field())
    if (is_one_of_few(row)) check_row(row, false);
  for (const tuft::test::OpenBoxRow& row : tuft::test::open_box_heated_wall_by_field())
    if (is_one_of_few(row)) check_row(row, true);
}

TEST_CASE("wide box: the field's table, where it is warmed by 6 W") {
  for (const tuft::test::WideBoxRow& row : tuft::test::wide_box_by_field())
    if (row.power == 6) check_wide(row);
}

// Some minutes; run by name. Prints the rows as they stand in the tables, which are made so.
TEST_CASE("open box: the field's table, all of it", "[.whole-table]") {
  for (const tuft::test::OpenBoxRow& row : tuft::test::open_box_by_field()) check_row(row, false, true);
  for (const tuft::test::OpenBoxRow& row : tuft::test::open_box_heated_wall_by_field())
    check_row(row, true, true);
  for (const tuft::test::WideBoxRow& row : tuft::test::wide_box_by_field()) check_wide(row, true);
}
