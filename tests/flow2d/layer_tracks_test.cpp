// Particles through the plan layers of devices: the flows handed over balance, no particle is in a solid, and
// they leave by the vents as the air does.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/flow2d/track_flow.hpp"
#include "tests/flow2d/layer_support.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/track_balance.hpp"

using namespace tuft;
using namespace tuft::flow2d;

namespace {

struct Solved {
  geometry::Case content;
  PlanResult plan;
  double cell = 0.0;
};

/// The first condition of a case, all its heat in the air, with coarse cells.
Solved solved(const std::string& name) {
  Solved s{tuft::test::case_named(name), {}, 0.0};
  const geometry::Condition& condition = s.content.conditions.front();
  double power = 0.0;
  for (const geometry::SourcePower& p : s.content.loads[static_cast<std::size_t>(condition.load)].powers)
    power += *p.power;
  const std::size_t zones = s.content.device.zones.size();
  LayerBoundaryData given;
  given.fin_stacks.assign(s.content.device.fin_stacks.size(), 0.0);
  given.zones.assign(zones, power / static_cast<double>(zones));
  PlanOptions options;
  options.cell = s.cell = std::min(s.content.device.size.x(), s.content.device.size.y()) / 24.0;
  s.plan = solve_plan(s.content, condition, given, options);
  INFO(s.plan.message);
  REQUIRE(s.plan.converged());
  return s;
}

}  // namespace

TEST_CASE("particles leave every device as its air does, and cross no solid", "[tracks]") {
  for (const char* name : {"slim-notebook", "handheld-console", "fanless-router", "mini-desktop"}) {
    INFO(name);
    const Solved s = solved(name);
    const flow2d::TrackFlow flow = track_flow(s.content.device, s.plan, s.cell);
    CHECK(tuft::test::worst_balance(flow) < 1e-8);  // the solver's own tolerance is 1e-10 of the through-flow
    double in = 0.0, mass = 0.0;
    for (const flow2d::TrackSource& source : flow.sources) in += source.flow;
    for (const flow2d::FlowGrid& grid : flow.grids)
      for (const double cell : grid.mass.values()) mass += cell;
    CHECK(in == Approx(s.plan.through_flow).epsilon(1e-8));
    constexpr int kCount = 4000;
    const std::vector<flow2d::Track> tracks = follow_tracks(flow, kCount, 60.0 * mass / in);
    REQUIRE(tracks.size() == kCount);
    std::vector<int> by_vent(s.plan.vents.size(), 0), from_vent(s.plan.vents.size(), 0);
    int late = 0, in_solid = 0;
    double stay = 0.0;
    for (const flow2d::Track& track : tracks) {
      REQUIRE(track.from >= 0);
      ++from_vent[static_cast<std::size_t>(track.from)];
      if (track.end == flow2d::TrackEnd::gate)
        ++by_vent[static_cast<std::size_t>(track.to)];
      else
        ++late;
      stay += track.points.back().age / kCount;
      for (const flow2d::TrackPoint& point : track.points) {
        const LayerFields& layer = s.plan.layers[static_cast<std::size_t>(point.grid)];
        // The point may lie on the edge of its cell: a cell of air has to touch it.
        bool air = false;
        for (const double dx : {-1e-9, 1e-9})
          for (const double dy : {-1e-9, 1e-9}) {
            const int i = static_cast<int>(std::floor((point.x + dx) / (layer.x[1] - layer.x[0])));
            const int j = static_cast<int>(std::floor((point.y + dy) / (layer.y[1] - layer.y[0])));
            if (i >= 0 && i < layer.solid.nx() && j >= 0 && j < layer.solid.ny() && layer.solid(i, j) == 0)
              air = true;
          }
        in_solid += air ? 0 : 1;
      }
    }
    CHECK(in_solid == 0);
    CHECK(late < kCount / 50);
    // What passes through a steady flow stays mass over flow on average (derived), of the air that takes
    // part: eddies whose streamlines close are never entered.
    CHECK(stay < 1.05 * mass / in);
    CHECK(stay > 0.5 * mass / in);
    for (std::size_t v = 0; v < by_vent.size(); ++v) {
      INFO(s.content.device.vents[v].name);
      const double out = s.plan.vents[v].outflow / s.plan.through_flow;
      const double got = static_cast<double>(by_vent[v]) / (kCount - late);
      // Inflow is shared out evenly, chance decides only within: this is an upper bound of the scatter.
      CHECK(std::abs(got - out) < 3.5 * std::sqrt(out * (1.0 - std::min(out, 1.0)) / kCount) + 1e-3);
      const double share_in = s.plan.vents[v].inflow / s.plan.through_flow;
      CHECK(std::abs(static_cast<double>(from_vent[v]) / kCount - share_in) < 1.01 / kCount);
    }
  }
}
