// The plan layers in time: exact transients, order in the step, and the steady state at the end.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "solver/flow2d/layer_means.hpp"
#include "solver/flow2d/layer_transient.hpp"
#include "tests/flow2d/field_support.hpp"
#include "tests/flow2d/layer_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;
using geometry::Face;

namespace {

/// A duct along x without walls at its sides, one layer: the air's own transient and nothing else.
LayerModel duct(int cells, double length, double depth) {
  LayerModel model;
  model.raster.nx = cells;
  model.raster.ny = 3;
  model.raster.dx = length / cells;
  model.raster.dy = 0.01;
  model.raster.zone_storey = {0};
  Layer layer;
  flow2d::Problem& p = layer.problem;
  p.grid = flow2d::Grid{flow2d::uniform_axis(cells, 0.0, length), flow2d::uniform_axis(3, 0.0, 0.03)};
  p.momentum_scheme = p.energy_scheme = flow2d::Convection::upwind;
  p.solid = flow2d::Mask(cells, 3);
  p.depth = flow2d::Array2(cells, 3, depth);
  p.heat_source = flow2d::Array2(cells, 3);
  flow2d::Edge open;
  open.kind = flow2d::EdgeKind::outlet;
  open.temperature = p.fluid.temperature;
  p.set_side(flow2d::Side::left, open);
  p.set_side(flow2d::Side::right, open);
  flow2d::test::set_slip(&p, flow2d::Side::bottom);
  flow2d::test::set_slip(&p, flow2d::Side::top);
  layer.height = flow2d::Array2(cells, 3, 0.5 * depth);
  layer.part = flow2d::Array2T<int>(cells, 3, 0);
  model.layers = {layer};
  return model;
}

/// A tall warm box on its side with slots low and high, and a fan that draws from outside.
geometry::Case chimney() {
  geometry::Case c = box({0.2, 0.12, 0.06});
  c.device.vents = {vent("left", Face::left, {0.0, 0.06, 0.03}, 0.06, 0.01),
                    vent("right", Face::right, {0.2, 0.06, 0.03}, 0.06, 0.01),
                    vent("fan-vent", Face::top, {0.05, 0.06, 0.06}, 0.04, 0.04)};
  c.device.vents[2].behind = {geometry::PlaceKind::fan_inlet, 0};
  c.device.fans = {fan_into_zone(2, 2.0, 2e-4)};
  c.poses = {geometry::named_pose("on-left-edge")};
  return c;
}

const LayerTransientOptions kCoarse = [] {
  LayerTransientOptions o;
  o.cell = 0.012;
  return o;
}();

}  // namespace

TEST_CASE("friction alone slows a layer's air as an exponential", "[exact]") {
  // rho du/dt = -12 mu/h^2 u (F7 in its laminar limit): derived.
  LayerModel model = duct(12, 0.12, 5e-3);
  model.layers[0].problem.layer_friction = true;
  const flow2d::Fluid fluid = model.layers[0].problem.fluid;
  Fields start = still_fields(model);
  start.layers[0].u().fill(0.01);
  LayerFlow layers(std::move(model), {1e-6, 1e-3, 1.0});
  flow2d::MarchOptions options;
  options.tolerance = 2e-6;
  options.passage = layers.passage();
  flow2d::March march(layers.flow(), start, options);
  const double rate = 12.0 * fluid.viscosity / (25e-6 * fluid.density);
  while (march.time() < 2.0 / rate) {
    const flow2d::MarchStep step = march.step(2.0 / rate);
    REQUIRE(step.good);
    CHECK(step.solved.balance.mass <= 1e-10);
  }
  CHECK(march.time() == 2.0 / rate);
  for (const double u : march.fields().layers[0].u().values())
    CHECK(u == Approx(0.01 * std::exp(-2.0)).epsilon(1e-3));
}

TEST_CASE("cold air washes warm air out of a duct: plug flow", "[exact]") {
  // Until the front arrives, warm air leaves as fast as cold enters; the rest of its heat is what is left of
  // the duct: derived.
  const double length = 0.24, speed = 0.1;
  LayerModel model = duct(48, length, 0.02);
  flow2d::Problem& p = model.layers[0].problem;
  flow2d::Edge in;
  in.kind = flow2d::EdgeKind::inflow;
  in.normal = speed;
  in.temperature = p.fluid.temperature;
  p.set_side(flow2d::Side::left, in);
  Fields start = still_fields(model);
  start.layers[0].u().fill(speed);
  start.layers[0].temperature.fill(p.fluid.temperature + 30.0);
  const flow2d::Fluid fluid = p.fluid;
  const auto heat = [&](const Fields& fields) {
    double sum = 0.0;
    for (const double t : fields.layers[0].temperature.values())
      sum += fluid.density_at(t) * (t - fluid.temperature);
    return sum;
  };
  const double whole = heat(start);
  LayerFlow layers(std::move(model), {1e-4, 0.1, 30.0});
  flow2d::MarchOptions options;
  options.passage = layers.passage();
  flow2d::March march(layers.flow(), start, options);
  for (const double share : {0.25, 0.5}) {
    while (march.time() < share * length / speed) {
      const flow2d::MarchStep step = march.step(share * length / speed);
      REQUIRE(step.good);
      CHECK(step.solved.balance.mass <= 1e-10);
      CHECK(step.solved.balance.energy <= 1e-7);
    }
    CHECK(heat(march.fields()) / whole == Approx(1.0 - share).epsilon(2e-3));
    // Nothing pushes: the front moves with the air, whose speed is that of the inflow everywhere.
    CHECK(march.fields().layers[0].u()(48, 1) == Approx(speed).epsilon(1e-3));
  }
  while (march.time() < 3.0 * length / speed) REQUIRE(march.step(3.0 * length / speed).good);
  CHECK(heat(march.fields()) / whole < 1e-6);
}

TEST_CASE("the course of a warming box is of second order in the step", "[order]") {
  const geometry::Case c = chimney();
  LayerBoundaryData given;
  given.zones = {5.0};
  // A steady state, then more heat through something solid: nothing jumps but its rate.
  LayerBoundaryData before;
  before.zones = {3.0};
  const auto values = [&](double step) {
    LayerTransientOptions options = kCoarse;
    options.until = 0.8;
    options.march.fixed_step = step;
    options.from = {{c.conditions[0], before}};
    double in = 0.0, warm = 0.0, lump = 0.0;
    options.on_step = [&](const TransientStep& s) {
      in = s.vents[0].inflow - s.vents[0].outflow;
      warm = s.warmest;
      lump = s.thermal_masses[0];
      return true;
    };
    REQUIRE(run_transient(c, c.conditions[0], given, {{0, 0.3, 0.5, 305.0}}, options).end ==
            TransientEnd::followed);
    return std::array<double, 3>{in, warm, lump};
  };
  const auto a = values(0.04), b = values(0.02), d = values(0.01);
  for (std::size_t k = 0; k < 3; ++k) {
    const double order = std::log2(std::abs((a[k] - b[k]) / (b[k] - d[k])));
    std::printf("order in time, %s: %.2f\n",
                k == 0   ? "flow of a vent"
                : k == 1 ? "warmest air"
                         : "solid",
                order);
    CHECK(order >= 1.9);
  }
}

TEST_CASE("after a long time the course is the steady state", "[network]") {
  const geometry::Case c = chimney();
  LayerBoundaryData given;
  given.zones = {5.0};
  PlanOptions steady;
  steady.cell = kCoarse.cell;
  const PlanResult end = solve_plan(c, c.conditions[0], given, steady);
  REQUIRE(end.converged());
  LayerTransientOptions options = kCoarse;
  options.until = 3000.0;
  PlanResult last;
  int moments = 0;
  options.every = 1500.0;
  options.on_moment = [&](double, const PlanResult& state) {
    last = state;
    ++moments;
  };
  double stored = 0.0;
  options.on_step = [&](const TransientStep& s) {
    stored = s.thermal_masses[0];
    return true;
  };
  const LayerTransient transient =
      run_transient(c, c.conditions[0], given, {{0, 20.0, 0.5, 293.15}}, options);
  INFO(transient.message);
  REQUIRE(transient.end == TransientEnd::followed);
  CHECK(moments == 3);
  CHECK(transient.mass <= 1e-10);
  CHECK(transient.energy <= 1e-7);
  for (std::size_t v = 0; v < 3; ++v) {
    CHECK(last.vents[v].inflow == Approx(end.vents[v].inflow).epsilon(1e-5).margin(1e-9));
    CHECK(last.vents[v].outflow == Approx(end.vents[v].outflow).epsilon(1e-5).margin(1e-9));
    CHECK(last.vents[v].temperature_out == Approx(end.vents[v].temperature_out).margin(1e-3));
  }
  // 5 W through 0.5 W/K over the mean of the air.
  double air = 0.0;
  for (const double t : last.layers[0].temperature.values()) air += t;
  air /= static_cast<double>(last.layers[0].temperature.size());
  CHECK(stored == Approx(air + 10.0).margin(0.01));
}

TEST_CASE("a course without heat and with its fan stopped is still; a fan that stops lets the air rest",
          "[limits]") {
  geometry::Case c = chimney();
  c.poses.push_back(geometry::tilted("tilted", geometry::Vec3(0.6, 0.8, 0.0), 0.7));
  LayerBoundaryData stopped;
  stopped.fan_speeds = {0.0};
  LayerTransientOptions options = kCoarse;
  options.until = options.every = 20.0;
  double most = 0.0;
  options.on_moment = [&](double, const PlanResult& state) {
    most = 0.0;
    for (const VentFlows& v : state.vents) most = std::max({most, v.inflow, v.outflow});
  };
  for (int pose = 0; pose < 2; ++pose) {
    geometry::Condition condition = c.conditions[0];
    condition.pose = pose;
    const LayerTransient transient = run_transient(c, condition, stopped, {}, options);
    INFO(transient.message);
    REQUIRE(transient.end == TransientEnd::followed);
    CHECK(most == 0.0);
  }
  const PlanResult running = solve_plan(c, c.conditions[0], {}, [] {
    PlanOptions o;
    o.cell = kCoarse.cell;
    return o;
  }());
  REQUIRE(running.converged());
  REQUIRE(running.vents[2].inflow > 1e-5);
  options.from = {{c.conditions[0], LayerBoundaryData{}}};
  const LayerTransient transient = run_transient(c, c.conditions[0], stopped, {}, options);
  INFO(transient.message);
  REQUIRE(transient.end == TransientEnd::followed);
  CHECK(most < 5e-4 * running.vents[2].inflow);  // what a step may be wrong by (F29)
}

TEST_CASE("a shut vent passes nothing all through a course", "[limits]") {
  geometry::Case c = chimney();
  c.device.vents[0].blocked = 1.0;
  LayerBoundaryData given;
  given.zones = {5.0};
  LayerTransientOptions options = kCoarse;
  options.until = 20.0;
  options.every = 5.0;
  int moments = 0;
  options.on_moment = [&](double time, const PlanResult& state) {
    ++moments;
    CHECK(state.vents[0].inflow == 0.0);
    CHECK(state.vents[0].outflow == 0.0);
    if (time > 0.0) CHECK(state.vents[1].outflow > 0.0);
  };
  const LayerTransient transient = run_transient(c, c.conditions[0], given, {}, options);
  INFO(transient.message);
  REQUIRE(transient.end == TransientEnd::followed);
  CHECK(moments == 5);
  CHECK(transient.mass <= 1e-10);
}

TEST_CASE("where steps find no steady state the reason is told and a run in time finds it", "[settle]") {
  const geometry::Case c = chimney();
  LayerBoundaryData given;
  given.zones = {5.0};
  PlanOptions options;
  options.cell = kCoarse.cell;
  const PlanResult whole = solve_plan(c, c.conditions[0], given, options);
  REQUIRE(whole.converged());
  // So few steps allowed that none of the stages gets anywhere.
  options.newton.max_steps = 1;
  options.march_steps = 0;
  CHECK_FALSE(solve_plan(c, c.conditions[0], given, options).converged());
  options.march_steps = 300;
  const PlanResult found = solve_plan(c, c.conditions[0], given, options);
  INFO(found.message);
  REQUIRE(found.converged());
  CHECK(found.marched_steps > 0);
  CHECK_THAT(found.message, Catch::Contains("no steady state at first: ") &&
                                Catch::Contains("steps in time") && Catch::Contains("came near rest"));
  CHECK(found.mass <= 1e-10);
  for (std::size_t v = 0; v < 3; ++v)
    CHECK(found.vents[v].outflow == Approx(whole.vents[v].outflow).epsilon(1e-6).margin(1e-10));
}

TEST_CASE("a run that may not rest is averaged, its swings told", "[settle]") {
  const geometry::Case c = chimney();
  LayerBoundaryData given;
  given.zones = {5.0};
  LayerFlow layers(make_model(c, c.conditions[0], given, kCoarse.cell), {2e-4, 1.0, 20.0});
  flow2d::March march(layers.flow(), still_fields(layers.model()), coarse_in_time(layers.passage()));
  FlowMonitor monitor(c.device, &layers, 160, 80.0);
  bool enough = false;
  for (int k = 0; k < 160 && !enough; ++k) {
    const flow2d::MarchStep step = march.step(1e9);
    REQUIRE(step.good);
    CHECK(step.solved.balance.mass <= 1e-10);
    CHECK(monitor.passed(march, step) >= 0.0);
    enough = monitor.take(march, step);
  }
  CHECK(monitor.is_mean());
  CHECK(monitor.passages() >= 1.0);
  const PlanResult flows = monitor.means().flows();
  double in = 0.0, out = 0.0;
  for (const VentFlows& v : flows.vents) {
    in += v.inflow;
    out += v.outflow;
  }
  CHECK(in == Approx(flows.through_flow));
  CHECK(out == Approx(in).epsilon(0.02));  // but for what the warming air still pushes out
  for (const double swing : monitor.means().amplitudes()) CHECK(swing >= 0.0);
}

TEST_CASE("means weigh each moment by how long it lasts", "[settle]") {
  const LayerModel model = duct(4, 0.1, 0.01);
  Means means;
  Fields fields = still_fields(model);
  PlanResult flows;
  flows.vents.resize(1);
  // 0 for one second, then up to 2 within the next, then 2 for two more: 1.25 on average.
  const double times[] = {0.0, 1.0, 2.0, 4.0}, values[] = {0.0, 0.0, 2.0, 2.0};
  for (int k = 0; k < 4; ++k) {
    fields.layers[0].u().fill(values[k]);
    flows.vents[0].inflow = values[k];
    flows.vents[0].temperature_in = 300.0 + 10.0 * k;
    means.add(times[k], fields, flows);
  }
  CHECK(means.span() == 4.0);
  CHECK(means.fields().layers[0].u()(2, 1) == Approx(1.25));
  CHECK(means.flows().vents[0].inflow == Approx(1.25));
  CHECK(means.amplitudes()[0] == 1.0);
  // 1 K s of 2 at 320 K while it rises, then 2 s of 2 at 320 K to 330 K.
  CHECK(means.flows().vents[0].temperature_in == Approx((1.0 * 320.0 + 4.0 * 325.0) / 5.0));
}

TEST_CASE("what steps did before they stopped is told apart", "[settle][messages]") {
  flow2d::NewtonSummary s;
  s.end = flow2d::StepsEnd::stagnated;
  s.message = "the residual has not fallen";
  for (int k = 0; k < 40; ++k) s.history.push_back(k % 2 == 0 ? 1e-2 : 1e-4);
  CHECK_THAT(flow2d::why_no_steady_state(s, false), Catch::Contains("oscillate"));
  s.history.assign(40, 3e-3);
  CHECK_THAT(flow2d::why_no_steady_state(s, false),
             Catch::Contains("stand still") && !Catch::Contains("limiter"));
  CHECK_THAT(flow2d::why_no_steady_state(s, true), Catch::Contains("a limiter switches"));
  s.end = flow2d::StepsEnd::diverged;
  CHECK_THAT(flow2d::why_no_steady_state(s, false), Catch::Contains("makes it larger"));
}
