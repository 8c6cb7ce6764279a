// Air that is not mixed: the open box in every pose, three heights and three powers, against the field.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "solver/network/assemble.hpp"
#include "solver/network/audit.hpp"
#include "solver/network/solve.hpp"
#include "tests/support/open_box.hpp"

using namespace tuft;
using namespace tuft::network;
using test::OpenBoxRow;

namespace {

struct Answer {
  bool converged = false;
  std::array<double, 3> in{}, out{};  // [g/s]
  double warmer = 0.0;
  Audit audit;
};

Network warm_box(const geometry::Case& box, double power, ZoneAir air = ZoneAir::layered) {
  Network net = assemble(box, box.conditions[0], air);
  for (const ZonePart& part : net.layout.zone_parts[0])
    at(net.graph.nodes, part.node).power = power * part.share;
  return net;
}

Answer solved(const Network& net) {
  Answer answer;
  Solver solver(net.graph);
  answer.converged = solver.solve().converged();
  if (!answer.converged) return answer;
  for (std::size_t v = 0; v < 3; ++v) {
    const ElementState& element = solver.equations().element(net.layout.vent_openings[v][0]);
    answer.in[v] = 1e3 * element.backward;
    answer.out[v] = 1e3 * element.forward;
  }
  answer.warmer =
      solver.state().temperature[net.layout.vent_node[test::kHigh]] - net.graph.ambient.temperature;
  answer.audit = audit(net.graph, solver.state());
  return answer;
}

Answer by_network(const OpenBoxRow& row, ZoneAir air = ZoneAir::layered) {
  return solved(warm_box(test::open_box(row.height, row.angle), row.power, air));
}

// R2 with the default ratio; no flow here is near nothing.
// With the heat over the wall opposite the openings.
Answer with_heated_wall(const OpenBoxRow& row) {
  geometry::Case box = test::open_box(row.height, row.angle);
  geometry::Source board;
  board.name = "board";
  board.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  board.is_placed = true;
  board.centre = {0.0, 0.5 * row.height, 0.5};
  board.size = {0.0, row.height, 1.0};
  box.device.sources = {board};
  geometry::SourcePower power;
  power.source = 0;
  power.power = row.power;
  box.loads[0].powers = {power};
  return solved(assemble(box, box.conditions[0]));
}

enum class Way { in, out, both };
constexpr double kBothWays = 0.2;
double smaller_share(double in, double out) { return std::min(in, out) / std::max(in, out); }
Way way(double in, double out, double ratio = kBothWays) {
  if (smaller_share(in, out) >= ratio) return Way::both;
  return in > out ? Way::in : Way::out;
}

// R3: the same where the ratio is a half more or less.
bool is_firm(double in, double out) { return way(in, out, 1.5 * kBothWays) == way(in, out, kBothWays / 1.5); }

struct Cell {
  double height, power, angle;
  std::size_t vent;
};
bool contains(const std::vector<Cell>& list, const OpenBoxRow& row, std::size_t vent) {
  return std::any_of(list.begin(), list.end(), [&](const Cell& cell) {
    return cell.height == row.height && cell.power == row.power && cell.angle == row.angle &&
           cell.vent == vent;
  });
}

std::string name(const OpenBoxRow& row, std::size_t vent) {
  return std::to_string(row.height) + " m, " + std::to_string(row.power) + " W/m, " +
         std::to_string(row.angle) + " deg, vent " + std::to_string(vent);
}

}  // namespace

TEST_CASE("open box: every opening does what it does in the field, where that is firm") {
  // The roles that differ: face up, the hottest short box, where the field's middle opening only draws; and
  // leaning by 15 degrees, where in the field the lower end lets out a third of what it draws, in the network
  // a seventh.
  const std::vector<Cell> differs = {
      {0.20, 18, 0, test::kMiddle}, {0.30, 2, 15, test::kLow}, {0.30, 6, 15, test::kLow}};
  for (const OpenBoxRow& row : test::open_box_by_field()) {
    const Answer answer = by_network(row);
    for (std::size_t v = 0; v < 3; ++v) {
      INFO(name(row, v));
      REQUIRE(answer.converged);
      const bool same = way(answer.in[v], answer.out[v]) == way(row.in[v], row.out[v]);
      if (is_firm(row.in[v], row.out[v])) CHECK(same == !contains(differs, row, v));
      // On end, and leaning over as far as 150 degrees, all are the same.
      if (row.angle >= 90.0 && row.angle <= 150.0) CHECK(same);
    }
  }
}

TEST_CASE("open box: flows lie within a quarter of the field's") {
  // Those that do not, by 26 to 48 %: the tall box face up, whose openings breathe too much. The field's steady
  // state is not stable there. And by 28 % the middle of the hottest short box as good as face down.
  const std::vector<Cell> off = {{0.20, 18, 165, test::kMiddle}, {0.45, 2, 0, test::kLow},
                                 {0.45, 2, 0, test::kHigh},      {0.45, 6, 0, test::kLow},
                                 {0.45, 6, 0, test::kHigh},      {0.45, 18, 0, test::kLow},
                                 {0.45, 18, 0, test::kMiddle},   {0.45, 18, 0, test::kHigh}};
  for (const OpenBoxRow& row : test::open_box_by_field()) {
    const Answer answer = by_network(row);
    for (std::size_t v = 0; v < 3; ++v) {
      INFO(name(row, v));
      REQUIRE(answer.converged);
      const double field = std::max(row.in[v], row.out[v]);
      const double ours = std::max(answer.in[v], answer.out[v]);
      const double apart = std::abs(ours / field - 1.0);
      CHECK((apart <= 0.25) == !contains(off, row, v));
      CHECK(apart < 0.48);
    }
  }
}

TEST_CASE("open box: heat on one wall, flows against the field's") {
  // Within a quarter in 274 of 324 values. Those that are not: the shortest box with most heat, whose lowest
  // opening draws up to half too much; openings that look up or nearly so, where the middle one passes up to
  // 0.67 too much; the ends of the tallest box face up, where the field is not stable.
  int within = 0, on_edge_within = 0, on_edge = 0;
  double most = 0.0;
  for (const OpenBoxRow& row : test::open_box_heated_wall_by_field()) {
    const Answer answer = with_heated_wall(row);
    for (std::size_t v = 0; v < 3; ++v) {
      INFO(name(row, v));
      REQUIRE(answer.converged);
      const double field = std::max(row.in[v], row.out[v]);
      const double apart = std::abs(std::max(answer.in[v], answer.out[v]) / field - 1.0);
      const bool stands = row.angle >= 60.0 && row.angle <= 135.0;
      within += apart <= 0.25 ? 1 : 0;
      on_edge += stands ? 1 : 0;
      on_edge_within += stands && apart <= 0.25 ? 1 : 0;
      most = std::max(most, apart);
    }
  }
  CHECK(within >= 274);
  CHECK(on_edge == 162);
  CHECK(on_edge_within >= 154);
  CHECK(most < 0.67);
}

TEST_CASE("open box: heat on one wall, roles against the field's") {
  // Openings that look sideways or down. Where they look up, the middle one draws in the field, which has the
  // warm air on the far wall; here it breathes both ways, since the part behind it has one temperature.
  for (const OpenBoxRow& row : test::open_box_heated_wall_by_field()) {
    if (row.angle < 75.0) continue;
    const Answer answer = with_heated_wall(row);
    for (std::size_t v = 0; v < 3; ++v) {
      INFO(name(row, v));
      REQUIRE(answer.converged);
      if (is_firm(row.in[v], row.out[v]))
        CHECK(way(answer.in[v], answer.out[v]) == way(row.in[v], row.out[v]));
    }
  }
}

TEST_CASE("open box: mixed air gives the middle opening the wrong role and three times the flow") {
  const OpenBoxRow& row = *std::find_if(
      test::open_box_by_field().begin(), test::open_box_by_field().end(),
      [](const OpenBoxRow& each) { return each.height == 0.30 && each.power == 6 && each.angle == 90; });
  const Answer mixed = by_network(row, ZoneAir::mixed);
  CHECK(way(mixed.in[test::kMiddle], mixed.out[test::kMiddle]) == Way::both);
  CHECK(mixed.in[test::kLow] > 3.0 * row.in[test::kLow]);
  CHECK(by_network(row).warmer == Approx(row.warmer).epsilon(0.1));
}

TEST_CASE("open box: mass and heat balance at the openings") {
  for (const OpenBoxRow& row : test::open_box_by_field()) {
    const Answer answer = by_network(row);
    INFO(name(row, 0));
    CHECK(answer.audit.mass < 1e-9);
    CHECK(answer.audit.energy < 1e-8);
    CHECK(answer.audit.heat_with_air == Approx(row.power).epsilon(1e-8));
  }
}

namespace {

// The box with a fan that draws from it, at a share of its speed.
geometry::Case with_fan(double share) {
  geometry::Case c = test::open_box(0.3, 90.0);
  geometry::Source board;
  board.name = "board";
  c.device.sources = {board};
  geometry::SourcePower power;
  power.source = 0;
  power.power = 6.0;
  c.loads[0].powers = {power};
  c.device.vents.push_back(test::vent("fan-vent", geometry::Face::top, {0.01, 0.15, 1.0}, 0.02, 0.2));
  geometry::Fan fan;
  fan.name = "fan";
  fan.diameter = 0.04;
  fan.thickness = 0.01;
  fan.speed = 50.0 * share;
  fan.curve = {{0.0, 60.0}, {0.2, 40.0}, {0.4, 0.0}};
  fan.curve_speed = 50.0;
  fan.draws_from = {geometry::PlaceKind::zone, 0};
  fan.blows_into = {geometry::PlaceKind::vent, 3};
  c.device.vents.back().behind = {geometry::PlaceKind::fan_outlet, 0};
  c.device.fans = {fan};
  return c;
}

double difference(double share) {
  const Answer layered = solved(warm_box(with_fan(share), 6.0));
  const Answer mixed = solved(warm_box(with_fan(share), 6.0, ZoneAir::mixed));
  REQUIRE(layered.converged);
  REQUIRE(mixed.converged);
  double most = 0.0, through = 0.0;
  for (std::size_t v = 0; v < 3; ++v) {
    most = std::max({most, std::abs(layered.in[v] - mixed.in[v]), std::abs(layered.out[v] - mixed.out[v])});
    through += mixed.in[v];
  }
  return most / through;
}

}  // namespace

TEST_CASE("open box: as a fan takes over, its air becomes the mixed air, without a jump") {
  // At the Reynolds numbers here, some 300, openings cost a sixth less than at high ones: so do the heads
  // that the fan makes at them, beside buoyancy that stays.
  CHECK(difference(1.0) < 0.035);
  CHECK(difference(4.0) < 0.25 * difference(1.0));
  CHECK(difference(0.01) > 0.1);
  // Without a jump: halving the step halves the largest change from one speed to the next.
  const auto largest_step = [](int steps) {
    double most = 0.0;
    Answer before = solved(warm_box(with_fan(0.01), 6.0));
    for (int i = 1; i <= steps; ++i) {
      const Answer here =
          solved(warm_box(with_fan(0.01 * std::pow(10.0, static_cast<double>(i) / steps)), 6.0));
      REQUIRE(here.converged);
      for (std::size_t v = 0; v < 3; ++v) most = std::max(most, std::abs(here.in[v] - before.in[v]));
      before = here;
    }
    return most;
  };
  CHECK(largest_step(64) < 0.6 * largest_step(32));
}

TEST_CASE("open box: turning a little changes a little") {
  const auto largest_step = [](double step) {
    double most = 0.0;
    Answer before = solved(warm_box(test::open_box(0.3, 20.0), 6.0));
    for (double angle = 20.0 + step; angle < 160.0; angle += step) {
      const Answer here = solved(warm_box(test::open_box(0.3, angle), 6.0));
      REQUIRE(here.converged);
      for (std::size_t v = 0; v < 3; ++v) most = std::max(most, std::abs(here.in[v] - before.in[v]));
      before = here;
    }
    return most;
  };
  CHECK(largest_step(1.0) < 0.6 * largest_step(2.0));
}

TEST_CASE("open box: heat on one wall, turning a little changes a little") {
  const auto largest_step = [](double step) {
    double most = 0.0;
    Answer before = with_heated_wall({0.3, 6, 20.0, {}, {}, 0.0});
    for (double angle = 20.0 + step; angle < 160.0; angle += step) {
      const Answer here = with_heated_wall({0.3, 6, angle, {}, {}, 0.0});
      REQUIRE(here.converged);
      for (std::size_t v = 0; v < 3; ++v) most = std::max(most, std::abs(here.in[v] - before.in[v]));
      before = here;
    }
    return most;
  };
  CHECK(largest_step(0.5) < 0.6 * largest_step(1.0));
}
