// The steady solver's manners: what it reports, and that it repeats itself.
#include <omp.h>

#include <catch2/catch.hpp>
#include <cstring>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::field;
using namespace tuft::field::test;

TEST_CASE("the steady solver gives the same bytes on one thread and two", "[threads]") {
  Problem p = heated_cavity(64, 1e5, 1.0);
  p.momentum_scheme = p.energy_scheme = Convection::limited;
  const int before = omp_get_max_threads();
  omp_set_num_threads(1);
  const Solved one = solved(p);
  omp_set_num_threads(2);
  const Solved two = solved(p);
  omp_set_num_threads(before);
  REQUIRE(one.summary.converged());
  CHECK(std::memcmp(one.state.u().data(), two.state.u().data(), one.state.u().size() * sizeof(double)) == 0);
  CHECK(std::memcmp(one.state.temperature.data(), two.state.temperature.data(),
                    one.state.temperature.size() * sizeof(double)) == 0);
}

TEST_CASE("the same state is found from a cold start and from a coarse one", "[exact]") {
  const Problem p = heated_cavity(24, 1e4);
  SteadyOptions cold;
  cold.coarse_start = false;
  const Solved a = solved(p), b = solved(p, cold);
  REQUIRE(a.summary.converged());
  REQUIRE(b.summary.converged());
  CHECK(a.summary.newton.audit.heat_in == Approx(b.summary.newton.audit.heat_in).epsilon(1e-9));
}

TEST_CASE("a solve that is cut short says so, where, and what was tried", "[messages]") {
  SteadyOptions options;
  options.coarse_start = false;
  options.newton.max_steps = 2;
  options.march_steps = 6;
  options.first_order_attempt = false;
  const Solved s = solved(heated_cavity(16, 1e6), options);
  CHECK_FALSE(s.summary.converged());
  CHECK(s.summary.marched_steps == 6);
  CHECK_THAT(s.summary.message, Catch::Contains("step limit reached") && Catch::Contains("largest in") &&
                                    Catch::Contains("6 time-accurate steps") &&
                                    Catch::Contains("last attempt"));
}

TEST_CASE("a flow that Newton's steps do not reach directly is reached by way of upwind convection",
          "[exact]") {
  SteadyOptions options;
  options.coarse_start = false;
  options.newton.max_steps = 40;
  options.march_steps = 0;
  Problem p = lid_cavity(16, 20000);  // a few cells for a Reynolds number that needs hundreds
  p.momentum_scheme = Convection::limited;
  const Solved s = solved(p, options);
  INFO(s.summary.message);
  CHECK(s.summary.converged());
}

TEST_CASE("where the scheme asked for fails the upwind solution is returned, and said to be that",
          "[messages]") {
  SteadyOptions options;
  options.coarse_start = false;
  options.newton.max_steps = 40;
  options.newton.residual_tolerance = 1e-30;  // out of reach
  options.march_steps = 0;
  const Problem p = lid_cavity(16, 100);
  const Solved strict = solved(p, options);
  CHECK_FALSE(strict.summary.converged());
  CHECK_FALSE(strict.summary.first_order_state);  // nor did upwind reach it
  options.newton.residual_tolerance = 1e-9;
  options.newton.max_steps = 25;
  const Solved s =
      solved(lid_cavity(16, 1e6), options);  // central convection, hopeless at this cell Peclet number
  INFO(s.summary.message);
  REQUIRE_FALSE(s.summary.converged());
  REQUIRE(s.summary.first_order_state);
  CHECK_THAT(s.summary.message,
             Catch::Contains("from the upwind solution") && Catch::Contains("converged upwind solution"));
  Problem upwind = lid_cavity(16, 1e6);
  upwind.momentum_scheme = upwind.energy_scheme = Convection::upwind;
  State left_over = s.state;
  Residual residual(upwind);
  residual.evaluate(s.state, &left_over);
  CHECK(audit(residual, left_over).mass <= 1e-10);
}

TEST_CASE("an observer sees every step of every grid", "[messages]") {
  SteadyOptions options;
  int calls = 0, coarse = 0;
  options.newton.observer = [&](const Progress& p) {
    ++calls;
    coarse += p.nx < 32;
  };
  const Solved s = solved(heated_cavity(32, 1e3), options);
  CHECK(calls >= s.summary.newton.steps);
  CHECK(coarse > 0);
  CHECK(s.summary.coarse_grids == 1);
}
