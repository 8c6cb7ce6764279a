// The device as cells.
#include <catch2/catch.hpp>
#include <limits>
#include <stdexcept>

#include "geometry/device/raster.hpp"
#include "tests/flow2d/layer_support.hpp"

using namespace tuft;
using namespace tuft::flow2d::test;
using geometry::Face;

namespace {

double sum(const geometry::CellShares& shares) {
  double out = 0.0;
  for (const geometry::CellShare& s : shares) out += s.share;
  return out;
}

}  // namespace

TEST_CASE("a vent's cells share it out by overlap", "[raster]") {
  geometry::Case c = box({0.2, 0.1, 0.02});
  // From 33 to 67 mm and 41 to 59 mm: cut through the middle of cells of 10 mm.
  c.device.vents = {vent("grille", Face::base, {0.05, 0.05, 0.0}, 0.034, 0.018),
                    vent("side", Face::left, {0.0, 0.05, 0.01}, 0.034, 0.01)};
  const geometry::Raster r = geometry::rasterise(c.device, 0.01);
  REQUIRE(r.nx == 20);
  REQUIRE(r.ny == 10);
  const geometry::CellShares& grille = r.vents[0];
  CHECK(grille.size() == 8);
  CHECK(sum(grille) == Approx(1.0));
  // The corner cell holds 7 by 9 mm of 34 by 18.
  CHECK(grille.front().share == Approx(7.0 * 9.0 / (34.0 * 18.0)));
  CHECK(sum(r.vents[1]) == Approx(1.0));
  for (const geometry::CellShare& s : r.vents[1]) CHECK(s.i == 0);
}

TEST_CASE("zones one above the other get storeys of their own", "[raster]") {
  geometry::Case c = box({0.2, 0.1, 0.04});
  geometry::Zone upper = c.device.zones[0];
  c.device.zones[0].size.z() = upper.size.z() = 0.02;
  c.device.zones[0].centre.z() = 0.01;
  upper.centre.z() = 0.03;
  c.device.zones.push_back(upper);
  const geometry::Raster r = geometry::rasterise(c.device, 0.01);
  CHECK(r.storeys.size() == 2);
  CHECK(r.part(0, 3, 3) == 0);
  CHECK(r.part(1, 3, 3) == 1);
}

TEST_CASE("a fin stack is a block whose channels lead to its vent", "[raster]") {
  geometry::Case c = box({0.2, 0.1, 0.02});
  geometry::FinStack fins;
  fins.name = "fins";
  fins.count = 32;
  fins.gap = 1e-3;
  fins.height = 0.01;
  fins.length = 0.02;
  fins.centre = {0.01, 0.05, 0.01};
  c.device.fin_stacks = {fins};
  c.device.vents = {vent("outlet", Face::left, {0.0, 0.05, 0.01}, 0.04, 0.01)};
  c.device.vents[0].behind = {geometry::PlaceKind::fins, 0};
  const geometry::Raster r = geometry::rasterise(c.device, 0.005);
  const geometry::FinBlock& block = r.fins[0];
  CHECK(block.along == 0);
  CHECK(block.sign == -1);
  CHECK(block.i1 - block.i0 == 4);
  CHECK(block.j1 - block.j0 == 8);
  CHECK(block.entry.front().i == 3);
  CHECK(block.exit.front().i == 0);
  CHECK(r.vents[0].size() == 8);
}

TEST_CASE("a cell that does not fit the chassis is refused", "[raster]") {
  const geometry::Case c = box({0.2, 0.1, 0.02});
  for (const double cell : {0.0, -1e-3, 0.06, 0.3, 1e-6, std::numeric_limits<double>::quiet_NaN(),
                            std::numeric_limits<double>::infinity()}) {
    INFO(cell);
    CHECK_THROWS_AS(geometry::rasterise(c.device, cell), std::invalid_argument);
  }
}

TEST_CASE("a zone smaller than a cell is refused by name", "[raster]") {
  geometry::Case c = box({0.2, 0.1, 0.02});
  geometry::Zone speck = c.device.zones[0];
  speck.name = "speck";
  speck.size = {1e-3, 1e-3, 0.02};
  speck.centre = {0.1005, 0.0505, 0.01};
  c.device.zones.push_back(speck);
  CHECK_THROWS_WITH(geometry::rasterise(c.device, 0.02), Catch::Contains("speck"));
}
