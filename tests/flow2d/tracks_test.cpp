// Particles through cells and grids: exact in a channel, closed in an eddy, never through a wall, shared out
// as the flow is. All expected values derived.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "solver/flow2d/tracks.hpp"
#include "tests/support/track_balance.hpp"

using namespace tuft::flow2d;

namespace {

constexpr double kForever = std::numeric_limits<double>::infinity();

/// A closed grid of nx by ny cells, 1 m each, 1 kg of air in each.
FlowGrid closed_grid(int nx, int ny) {
  FlowGrid grid;
  for (int i = 0; i <= nx; ++i) grid.x.push_back(i);
  for (int j = 0; j <= ny; ++j) grid.y.push_back(j);
  grid.u = Array2(nx + 1, ny);
  grid.v = Array2(nx, ny + 1);
  grid.mass = Array2(nx, ny, 1.0);
  grid.gate_u = Array2T<int>(nx + 1, ny, -1);
  grid.gate_v = Array2T<int>(nx, ny + 1, -1);
  grid.leaks = Array2T<std::vector<flow2d::Leak>>(nx, ny);
  return grid;
}

/// Flow of a stream function given at the corners: it balances in every cell.
void set_flow(FlowGrid& grid, double (*psi)(double, double)) {
  for (int j = 0; j < grid.ny(); ++j)
    for (int i = 0; i <= grid.nx(); ++i) grid.u(i, j) = psi(i, j + 1) - psi(i, j);
  for (int j = 0; j <= grid.ny(); ++j)
    for (int i = 0; i < grid.nx(); ++i) grid.v(i, j) = psi(i, j) - psi(i + 1, j);
}

double eddy(double x, double y) {
  constexpr double kPi = 3.14159265358979323846;
  return std::sin(kPi * x / 8.0) * std::sin(kPi * y / 6.0);
}

/// The eddy's stream function as the cells have it: bilinear between the corners.
double bilinear(double x, double y) {
  const double i = std::floor(x), j = std::floor(y), a = x - i, b = y - j;
  return (1 - a) * (1 - b) * eddy(i, j) + a * (1 - b) * eddy(i + 1, j) + (1 - a) * b * eddy(i, j + 1) +
         a * b * eddy(i + 1, j + 1);
}

/// A channel of 10 by 4 cells, 0.5 kg/s through each row, from the left rim to the right.
TrackFlow channel() {
  TrackFlow flow;
  flow.grids.push_back(closed_grid(10, 4));
  flow.grids[0].u.fill(0.5);
  TrackSource source{2.0, 7, {}};
  for (int j = 0; j < 4; ++j) source.to.push_back({0, 0, j, 0.5, CellExit::left});
  flow.sources.push_back(source);
  return flow;
}

}  // namespace

TEST_CASE("a particle passes a cell in the time its flow says", "[cell]") {
  // Even flow: 2 kg of air, 0.5 kg/s through it.
  CellPass pass = pass_cell({0.5, 0.5, 0.0, 0.0, 2.0}, 0.25, 0.7, kForever);
  CHECK(pass.exit == CellExit::right);
  CHECK(pass.time == Approx(3.0).epsilon(1e-14));
  CHECK(pass.y == 0.7);
  // Flow that grows from 1 to 3 kg/s: x' = (1 + 2 x) / m, so t = m ln(3) / 2 from end to end.
  pass = pass_cell({1.0, 3.0, 0.0, 0.0, 2.0}, 0.0, 0.5, kForever);
  CHECK(pass.time == Approx(std::log(3.0)).epsilon(1e-14));
  CHECK(pass_cell({1.0, 3.0, 0.0, 0.0, 2.0}, 0.0, 0.5, 0.4).x ==
        Approx(0.5 * std::expm1(0.4)).epsilon(1e-14));
  // Backwards along y.
  pass = pass_cell({0.0, 0.0, -1.0, -1.0, 1.0}, 0.3, 0.9, kForever);
  CHECK(pass.exit == CellExit::bottom);
  CHECK(pass.time == Approx(0.9).epsilon(1e-14));
  // Never out by a face without flow, nor by one that air comes in by.
  for (const double end : {0.0, -1.0}) {
    pass = pass_cell({1.0, end, 0.0, 0.0, 1.0}, 0.2, 0.5, 1e6);
    CHECK(pass.exit == CellExit::none);
    CHECK(pass.x == Approx(end == 0.0 ? 1.0 : 0.5));
    CHECK(pass.time == 1e6);
  }
}

TEST_CASE("in a uniform channel particles move exactly as the air does", "[tracks]") {
  const std::vector<Track> tracks = follow_tracks(channel(), 40, 100.0);
  REQUIRE(tracks.size() == 40);
  CHECK(tuft::test::worst_balance(channel()) == 0.0);
  int rows[4] = {};
  for (const Track& track : tracks) {
    CHECK(track.from == 7);
    CHECK(track.end == TrackEnd::rim);
    REQUIRE(track.points.size() == 11);
    for (std::size_t k = 0; k < track.points.size(); ++k) {
      CHECK(track.points[k].x == Approx(0.5 * track.points[k].age).margin(1e-12));  // 0.5 cells a second
      CHECK(track.points[k].y == Approx(track.points[0].y).margin(1e-12));
      CHECK(track.points[k].age == Approx(2.0 * static_cast<double>(k)).margin(1e-12));
    }
    ++rows[static_cast<int>(track.points[0].y)];
  }
  for (const int row : rows) CHECK(row == 10);
}

TEST_CASE("a closed eddy stays closed", "[tracks]") {
  TrackFlow flow;
  flow.grids.push_back(closed_grid(8, 6));
  set_flow(flow.grids[0], eddy);
  CHECK(tuft::test::worst_balance(flow) < 1e-15);
  // No source feeds it: a hair of one, so that particles set out in a cell of it.
  for (const auto& [i, j] : {std::pair{1, 1}, std::pair{3, 2}, std::pair{0, 5}}) {
    flow.sources = {{1e-12, 0, {{0, i, j, 1.0, CellExit::none}}}};
    const std::vector<Track> tracks = follow_tracks(flow, 3, 4000.0);
    for (const Track& track : tracks) {
      CHECK(track.end == TrackEnd::late);
      REQUIRE(track.points.size() > 500);
      const double level = bilinear(track.points[0].x, track.points[0].y);
      double off = 0.0;
      for (const TrackPoint& point : track.points)
        off = std::max(off, std::abs(bilinear(point.x, point.y) - level));
      CHECK(off < 1e-11);  // on its streamline for dozens of turns
    }
  }
}

TEST_CASE("a mixed cell gives its air to leaks and neighbours in proportion", "[tracks]") {
  // One cell: 3 kg/s come in at the left; 1 goes on to the right, 0.5 and 1.5 leak through two gates.
  TrackFlow flow;
  flow.grids.push_back(closed_grid(1, 1));
  flow.grids[0].u(0, 0) = 3.0;
  flow.grids[0].u(1, 0) = 1.0;
  flow.grids[0].leaks[0] = {{0.5, 0}, {1.5, 1}};
  flow.gates = {{{}, 10}, {{}, 11}};
  flow.sources = {{3.0, 5, {{0, 0, 0, 1.0, CellExit::left}}}};
  CHECK(tuft::test::worst_balance(flow) == 0.0);
  const int count = 20000;
  int ends[3] = {};
  double stay = 0.0;
  for (const Track& track : follow_tracks(flow, count, 1e3)) {
    ++ends[track.end == TrackEnd::rim ? 2 : track.to - 10];
    stay += track.points.back().age / count;
  }
  CHECK(stay == Approx(1.0 / 3.0).epsilon(0.02));  // mass over flow, derived
  const double expected[3] = {1.0 / 6.0, 0.5, 1.0 / 3.0};
  for (int k = 0; k < 3; ++k) {
    const double p = expected[k], sampling = std::sqrt(p * (1.0 - p) / count);
    CHECK(std::abs(static_cast<double>(ends[k]) / count - p) < 3.5 * sampling);
  }
}

TEST_CASE("a gate leads particles on to other cells, and their age with them", "[tracks]") {
  TrackFlow flow = channel();
  // What leaves on the right comes back in a second channel, by a gate in the last face of each row.
  flow.grids.push_back(flow.grids[0]);
  Gate gate;
  for (int j = 0; j < 4; ++j) {
    gate.to.push_back({1, 0, j, 1.0, CellExit::left});
    flow.grids[0].gate_u(10, j) = 0;
  }
  flow.gates = {gate};
  for (const Track& track : follow_tracks(flow, 12, 100.0)) {
    CHECK(track.end == TrackEnd::rim);
    CHECK(track.points.back().grid == 1);
    CHECK(track.points.back().age == Approx(40.0));
    int jumps = 0;
    for (const TrackPoint& point : track.points) jumps += point.jumped ? 1 : 0;
    CHECK(jumps == 2);  // coming in, and the gate
  }
}

TEST_CASE("the same flows give the same tracks; senseless wishes are refused", "[tracks]") {
  const auto a = follow_tracks(channel(), 9, 10.0), b = follow_tracks(channel(), 9, 10.0);
  REQUIRE(a.size() == b.size());
  for (std::size_t k = 0; k < a.size(); ++k) CHECK(a[k].points.back().y == b[k].points.back().y);
  CHECK(follow_tracks({}, 5, 1.0).empty());
  CHECK_THROWS_AS(follow_tracks(channel(), -1, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(follow_tracks(channel(), 1, 0.0), std::invalid_argument);
}
