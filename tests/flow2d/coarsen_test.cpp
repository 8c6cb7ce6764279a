// A problem on half the cells each way: what passes its edges, what its cells hold, and where that ends.
#include <catch2/catch.hpp>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

double inflow_of(const Problem& p) {
  double sum = 0.0;
  for (int j = 0; j < p.grid.ny(); ++j)
    sum += p.edge(Side::left, j).normal * p.grid.y.widths()[static_cast<std::size_t>(j)];
  return sum;
}

double watts_of(const Problem& p) {
  double sum = 0.0;
  for (int j = 0; j < p.grid.ny(); ++j)
    for (int i = 0; i < p.grid.nx(); ++i)
      sum += p.heat_source(i, j) * p.grid.x.widths()[static_cast<std::size_t>(i)] *
             p.grid.y.widths()[static_cast<std::size_t>(j)];
  return sum;
}

}  // namespace

TEST_CASE("half the cells each way pass the same flow and hold the same heat, also of an odd number",
          "[coarse]") {
  Problem p = unit_box(tanh_axis(13, 0.0, 1.0, 1.5), uniform_axis(10, 0.0, 0.7));
  p.edges[0].resize(10);
  for (int j = 0; j < 10; ++j) {
    p.edges[0][static_cast<std::size_t>(j)].kind = EdgeKind::inflow;
    p.edges[0][static_cast<std::size_t>(j)].normal = 1.0 + 0.3 * j;
  }
  Edge out;
  out.kind = EdgeKind::outlet;
  p.set_side(Side::right, out);
  p.heat_source = Array2(13, 10);
  for (std::size_t k = 0; k < p.heat_source.size(); ++k) p.heat_source[k] = 1.0 + static_cast<double>(k % 7);
  p.solid = Mask(13, 10);
  for (int j = 0; j < 4; ++j)
    for (int i = 4; i < 8; ++i) p.solid(i, j) = 1;
  const Problem coarse = coarsened(p);
  CHECK(coarse.grid.nx() == 7);
  CHECK(coarse.grid.ny() == 5);
  CHECK(coarse.grid.x.length() == p.grid.x.length());
  CHECK(inflow_of(coarse) == Approx(inflow_of(p)));
  CHECK(watts_of(coarse) == Approx(watts_of(p)));
  CHECK(coarse.is_solid(2, 1));
  CHECK_FALSE(coarse.is_solid(4, 1));
  CHECK(coarse.problem().empty());
}

TEST_CASE("a grid on which a wall is lost is no start", "[coarse]") {
  const auto levels_with_wall_at = [](int column) {
    Problem p = unit_box(uniform_axis(48, 0.0, 1.0), uniform_axis(48, 0.0, 1.0));
    p.barrier = {Mask(49, 48), Mask(48, 49)};
    for (int j = 0; j < 48; ++j) p.barrier[0](column, j) = 1;
    return static_cast<int>(coarser_grids(p).size()) + 1;
  };
  CHECK(levels_with_wall_at(24) == 3);
  CHECK(levels_with_wall_at(26) == 2);
  CHECK(levels_with_wall_at(25) == 1);
}
