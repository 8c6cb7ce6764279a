// Devices of very many vents and zones: solved, balanced, and the search for states bounded.
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/network/audit.hpp"
#include "solver/network/branches.hpp"
#include "tests/network/independent.hpp"

using namespace tuft;
using network::Graph;
using network::kOutside;
using network::Vec3;

namespace {

constexpr int kGridRows = 10, kGridColumns = 20, kVentsEach = 5;
constexpr double kZoneSide = 0.02, kZoneHeight = 0.03;  // of a zone [m]

network::Opening a_hole(const std::string& name, int a, int b, const Vec3& centre, double side) {
  network::Opening made;
  made.name = name;
  made.a = a;
  made.b = b;
  made.area = side * side;
  made.law.viscous = 2e3;
  made.law.inertial = 3.0;
  made.centre = centre;
  made.depth = 1e-3;
  return made;
}

// 200 zones side by side, each with five vents to the room, one above the other, and a passage to each
// neighbour. `power` [W] of zone i is power(i).
template <typename Power>
Graph grid(const Power& power) {
  Graph graph;
  graph.ambient.temperature = 293.15;
  graph.ambient.state = physics::room_air(physics::standard_pressure(0.0), 293.15, 0.4);
  graph.ambient.gravity = Vec3(0.0, 0.0, -physics::standard_gravity);
  for (int i = 0; i < kGridRows * kGridColumns; ++i) {
    const Vec3 corner((i % kGridColumns) * kZoneSide, (i / kGridColumns) * kZoneSide, 0.0);
    network::Node node;
    node.name = "zone " + std::to_string(i);
    node.reference = corner;
    node.power = power(i);
    node.wall_conductance = 0.01;
    node.capacity = 1.0;
    graph.nodes.push_back(node);
    for (int k = 0; k < kVentsEach; ++k)
      graph.openings.push_back(a_hole("vent " + std::to_string(i) + "." + std::to_string(k), i, kOutside,
                                      corner + Vec3(0.0, 0.0, kZoneHeight * k / (kVentsEach - 1)), 4e-3));
    const Vec3 middle = corner + Vec3(0.0, 0.0, 0.3 * kZoneHeight);
    if (i % kGridColumns + 1 < kGridColumns)
      graph.openings.push_back(a_hole("across " + std::to_string(i), i, i + 1, middle, 8e-3));
    if (i / kGridColumns + 1 < kGridRows)
      graph.openings.push_back(a_hole("along " + std::to_string(i), i, i + kGridColumns, middle, 8e-3));
  }
  return graph;
}

// A box with this many equal vents in its base and top, and one source.
std::string box_of_vents(int count) {
  std::string text =
      "tuft: 1\ndevice: {name: Sieve, size: [1020 mm, 200 mm, 40 mm], feet: 3 mm}\nroom: {temperature: 21 "
      "°C}\n"
      "vents:\n";
  for (int i = 0; i < count; ++i) {
    const int place = i / 2;
    text += "  v" + std::to_string(1000 + i) + ": {face: " + (i % 2 == 0 ? "base" : "top") + ", centre: [" +
            std::to_string(40 + place % 40 * 24) + " mm, " + std::to_string(40 + place / 40 * 20) +
            " mm], size: [10 mm, 4 mm], cover: slots}\n";
  }
  return text +
         "sources: {processor: {}}\nloads: {busy: {power: {processor: 15 W}}}\nsupports: {desk: {kind: "
         "hard}}\n"
         "conditions: {use: {pose: flat, support: desk, load: busy}}\n";
}

network::Branches searched(int vents) {
  const auto file = casefile::read_case_text(box_of_vents(vents), "sieve.yaml");
  REQUIRE(file.errors.empty());
  return network::find_branches(file.file.content, file.file.content.conditions[0]);
}

}  // namespace

TEST_CASE("1,000 vents in 200 zones: every zone alike gives what one zone alone gives", "[many]") {
  const Graph graph = grid([](int) { return 0.5; });
  REQUIRE(graph.nodes.size() == 200);
  network::Solver solver(graph);
  const network::Summary summary = solver.solve();
  INFO(summary.message);
  REQUIRE(summary.converged());
  // One zone, on the dense way: passages between equal zones carry nothing.
  Graph alone = graph;
  alone.nodes.resize(1);
  alone.openings.resize(kVentsEach);
  network::Solver single(alone);
  REQUIRE(single.solve().converged());
  const network::State& x = solver.state();
  double largest = single.state().flow.lpNorm<Eigen::Infinity>();
  for (int i = 0; i < 200; ++i) {
    CHECK(x.temperature[i] == Approx(single.state().temperature[0]).epsilon(1e-9));
    CHECK(x.pressure[i] == Approx(single.state().pressure[0]).epsilon(1e-7));
  }
  for (std::size_t e = 0; e < graph.openings.size(); ++e)
    if (graph.openings[e].b != kOutside) CHECK(std::abs(x.flow[static_cast<int>(e)]) < 1e-6 * largest);
}

TEST_CASE("1,000 vents in 200 zones, each with another power: mass and heat balance everywhere", "[many]") {
  const Graph graph = grid([](int i) { return 0.05 * (i * 37 % 23); });
  network::Solver solver(graph);
  const network::Summary summary = solver.solve();
  INFO(summary.message);
  REQUIRE(summary.converged());
  const network::Audit balance = network::audit(graph, solver.state());
  CHECK(balance.mass < 1e-9);
  CHECK(balance.energy < 1e-8);
  const testing::Residuals left = testing::independent_residuals(graph, solver.state());
  CHECK(left.opening < 1e-8);
  CHECK(left.heat < 1e-8);
  // Warmer than the room everywhere: heat comes from nowhere else.
  CHECK(solver.state().temperature.minCoeff() >= graph.ambient.temperature);
}

TEST_CASE("the search for states costs no more solves with 200 vents than with 80, and says what it left out",
          "[many]") {
  const network::Branches few = searched(6), more = searched(80), most = searched(200);
  for (const network::Branches* found : {&few, &more, &most}) {
    INFO(found->summary.message);
    REQUIRE(found->summary.converged());
    CHECK(found->branches.front().cold_start);
    CHECK(found->branches.size() <= 24);
  }
  CHECK(few.left_out.empty());
  CHECK(more.left_out.find("ways round") != std::string::npos);
  CHECK(most.left_out.find("ways round") != std::string::npos);
  CHECK(more.solves < 150);
  CHECK(most.solves < 150);
}
