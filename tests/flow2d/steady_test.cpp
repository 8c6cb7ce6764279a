// The steady solver's manners: what it reports, and that it repeats itself.
#include <omp.h>

#include <catch2/catch.hpp>
#include <cstring>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

TEST_CASE("the steady solver gives the same bytes on one thread and two", "[threads]") {
  Problem p = heated_cavity(64, 1e5, 1.0);
  p.momentum_scheme = p.energy_scheme = Convection::limited;
  const int before = omp_get_max_threads();
  omp_set_num_threads(1);
  const Solved one = solved(p);
  omp_set_num_threads(2);
  const Solved two = solved(p);
  omp_set_num_threads(before);
  REQUIRE(one.found.steady());
  CHECK(std::memcmp(one.state.u().data(), two.state.u().data(), one.state.u().size() * sizeof(double)) == 0);
  CHECK(std::memcmp(one.state.temperature.data(), two.state.temperature.data(),
                    one.state.temperature.size() * sizeof(double)) == 0);
}

TEST_CASE("the same state is found from thick air and from another flow", "[exact]") {
  const Problem p = heated_cavity(24, 1e4);
  const Solved other = solved(heated_cavity(24, 1e3));
  const Solved a = solved(p), b = solved(p, with_time(), &other.state);
  REQUIRE(a.found.steady());
  REQUIRE(b.found.steady());
  CHECK(a.found.newton.audit.heat_in == Approx(b.found.newton.audit.heat_in).epsilon(1e-9));
}

TEST_CASE("the same state is found from a coarser grid", "[exact]") {
  Problem fine = heated_cavity(32, 1e4), coarse = heated_cavity(16, 1e4);
  const Solved alone = solved(fine);
  SingleGridTask task({&coarse, &fine});
  DriverOptions options;
  int calls = 0, on_coarse = 0;
  options.scheme = Convection::central;
  options.newton.observer = [&](const Progress& p) {
    ++calls;
    on_coarse += p.nx < 32;
  };
  const FoundFlow found = Driver(&task, thick_air_first()).run(options);
  REQUIRE(found.steady());
  CHECK(found.newton.audit.heat_in == Approx(alone.found.newton.audit.heat_in).epsilon(1e-9));
  CHECK(on_coarse > 0);  // an observer sees every step of every grid
  CHECK(calls > on_coarse);
}

TEST_CASE("a solve that is cut short says so, where, and why", "[messages]") {
  DriverOptions options;
  options.newton.max_steps = 2;
  const Solved s = solved(heated_cavity(16, 1e6), options);
  CHECK_FALSE(s.found.steady());
  CHECK_THAT(s.found.message, Catch::Contains("step limit reached") && Catch::Contains("largest in"));
}

TEST_CASE("a flow of few cells and a large Reynolds number is reached by way of upwind convection",
          "[exact]") {
  DriverOptions options;
  options.newton.max_steps = 40;
  Problem p = lid_cavity(16, 20000);  // a few cells for a Reynolds number that needs hundreds
  p.momentum_scheme = Convection::limited;
  const Solved s = solved(p, options);
  INFO(s.found.message);
  CHECK(s.found.steady());
  CHECK_FALSE(s.found.first_order);
}

TEST_CASE("where the scheme asked for fails the upwind solution is returned, and said to be that",
          "[messages]") {
  DriverOptions options;
  options.newton.max_steps = 40;
  options.newton.residual_tolerance = 1e-30;  // out of reach
  const Problem p = lid_cavity(16, 100);
  const Solved strict = solved(p, options);
  CHECK_FALSE(strict.found.steady());  // nor did upwind reach it
  options.newton.residual_tolerance = 1e-9;
  options.newton.max_steps = 25;
  const Solved s =
      solved(lid_cavity(16, 1e6), options);  // central convection, hopeless at this cell Peclet number
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  REQUIRE(s.found.first_order);
  CHECK_THAT(s.found.message, Catch::Contains("convection of higher order"));
  Problem upwind = lid_cavity(16, 1e6);
  upwind.momentum_scheme = upwind.energy_scheme = Convection::upwind;
  Flow flow;
  flow.layers = {&upwind};
  FlowSystem balances(flow);
  balances.set_scales(s.found.fields, true);
  balances.balances(s.found.fields);
  CHECK(balances.balance().mass <= 1e-10);
}

TEST_CASE("round-off is no difference of temperatures; a source's air is one", "[balance]") {
  Problem p;
  p.grid = Grid{uniform_axis(8, 0.0, 0.1), uniform_axis(8, 0.0, 0.1)};
  State s = still_state(p);
  const double still = scales_of(p, &s).temperature;
  s.temperature(3, 3) += 1e-13 * s.temperature(3, 3);
  CHECK(scales_of(p, &s).temperature == still);
  p.mass_source = Array2(8, 8, 1.0);
  p.source_temperature = Array2(8, 8, p.fluid.temperature + 15.0);
  CHECK(scales_of(p, nullptr).temperature == Approx(15.0));
}
