// The plan layers on cells half as large: what they change is what two solves differ by.
#include "solver/study/refine.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::study;

TEST_CASE("what cells half as large change is the difference of two solves", "[refine]") {
  geometry::Case c = tuft::test::case_named("slim-notebook");
  c.sweeps.clear();
  const int condition = tuft::test::condition_named(c, "bench");
  const ConditionResult network = predict(c, condition);
  flow2d::PlanOptions options;
  const auto on = [&](double cell) {
    options.cell = cell;
    return flow2d::solve_plan(c, c.conditions[static_cast<std::size_t>(condition)],
                              layer_boundary_data(network), options);
  };
  const flow2d::PlanResult fine = on(6e-3), coarse = on(12e-3);
  const Refined refined = refine(c, network, coarse, options);
  INFO(refined.message);
  REQUIRE(refined.found);
  CHECK(refined.cell == 6e-3);
  CHECK(refined.through_flow == Approx(fine.through_flow / coarse.through_flow - 1.0));
  REQUIRE(refined.vents.size() == c.device.vents.size());
  int differ = 0;
  for (std::size_t v = 0; v < refined.vents.size(); ++v) {
    const flow2d::VentFlows &a = coarse.vents[v], &b = fine.vents[v];
    const double apart = b.inflow - b.outflow - (a.inflow - a.outflow);
    CHECK(refined.vents[v].of_through_flow ==
          Approx(apart / std::max(fine.through_flow, coarse.through_flow)).margin(1e-12));
    CHECK(refined.vents[v].temperature == Approx(b.temperature_out - a.temperature_out).margin(1e-9));
    differ += refined.vents[v].role_differs && !c.device.vents[v].is_leak;
  }
  CHECK(refined.roles_differ == differ);
  REQUIRE(refined.largest_flow >= 0);
  for (const VentRefined& vent : refined.vents)
    if (!c.device.vents[static_cast<std::size_t>(vent.vent)].is_leak)
      CHECK(std::abs(vent.of_through_flow) <=
            std::abs(refined.vents[static_cast<std::size_t>(refined.largest_flow)].of_through_flow));
}

TEST_CASE("no air in fins that have metal is warmer than it, and the heat of all adds up", "[fins]") {
  geometry::Case c = tuft::test::case_named("slim-notebook");
  c.sweeps.clear();
  const int condition = tuft::test::condition_named(c, "bench");
  const ConditionResult network = predict(c, condition);
  for (const double cell : {6e-3, 4e-3}) {
    flow2d::PlanOptions options;
    options.cell = cell;
    const flow2d::PlanResult r = flow2d::solve_plan(c, c.conditions[static_cast<std::size_t>(condition)],
                                                    layer_boundary_data(network), options);
    INFO(cell << ": " << r.message);
    REQUIRE(r.converged());
    REQUIRE(r.fins.size() == 2);
    double sum = 0.0;
    for (const double watts : network.air_heat.zones) sum += watts;
    for (const flow2d::FinHeat& fins : r.fins) {
      sum += fins.heat;
      CHECK(fins.network_heat == network.air_heat.fin_streams[static_cast<std::size_t>(fins.stack)]);
      const int part = static_cast<int>(c.device.zones.size()) + fins.stack;
      for (const flow2d::LayerFields& layer : r.layers)
        for (std::size_t k = 0; k < layer.part.size(); ++k)
          if (layer.name == "inside" && layer.part[k] == part)
            CHECK(layer.temperature[k] <= fins.metal + 1e-9);
    }
    CHECK(r.power == Approx(sum));
    // Fins that the air of both passes at nearly the same rate give nearly the same.
    CHECK(r.fins[0].heat == Approx(r.fins[0].network_heat).epsilon(0.01));
  }
}
