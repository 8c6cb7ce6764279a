// Lid-driven cavity against spectral and extrapolated extremes.
#include <catch2/catch.hpp>
#include <cstdio>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

struct LidBenchmark {
  double reynolds, u_min, v_max, v_min;
  const char* source;
};

const LidBenchmark lid_benchmarks[] = {
    // Marchi C.H., Suero R., Araki L.K. (2009) J. Braz. Soc. Mech. Sci. Eng. 31:186-198, as transcribed in
    // public code.
    {100, -0.2140417, 0.1795728, -0.2538030, "Marchi et al. 2009"},
    // Ghia U., Ghia K.N., Shin C.T. (1982) J. Comput. Phys. 48:387-411: largest values at their stations.
    {400, -0.32726, 0.30203, -0.44993, "Ghia et al. 1982"},
    // Botella O., Peyret R. (1998) Computers & Fluids 27:421-433, as transcribed in public code (lid to +x
    // here).
    {1000, -0.3885698, 0.3769447, -0.5270771, "Botella & Peyret 1998"}};

struct LidMeasured {
  double u_min, v_max, v_min;
};

LidMeasured measure_lid(int n, double reynolds) {
  const Problem p = lid_cavity(n, reynolds);
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  CHECK(s.found.newton.audit.mass <= 1e-10);
  return {extremum(p.grid.y.centres(), column_of(s.state.u(), n / 2), -1).value,
          extremum(p.grid.x.centres(), row_of(s.state.v(), n / 2), 1).value,
          extremum(p.grid.x.centres(), row_of(s.state.v(), n / 2), -1).value};
}

}  // namespace

TEST_CASE("lid-driven cavity agrees with published extremes", "[published][outside:9]") {
  std::printf("  Re     n      u_min      v_max      v_min\n");
  for (const LidBenchmark& b : lid_benchmarks) {
    const LidMeasured coarse = measure_lid(64, b.reynolds), fine = measure_lid(128, b.reynolds);
    const LidMeasured limit{richardson(coarse.u_min, fine.u_min), richardson(coarse.v_max, fine.v_max),
                            richardson(coarse.v_min, fine.v_min)};
    std::printf("%4.0f   128 %10.5f %10.5f %10.5f\n", b.reynolds, fine.u_min, fine.v_max, fine.v_min);
    std::printf("%4.0f limit %10.5f %10.5f %10.5f\n", b.reynolds, limit.u_min, limit.v_max, limit.v_min);
    std::printf("%4.0f table %10.5f %10.5f %10.5f  %s\n", b.reynolds, b.u_min, b.v_max, b.v_min, b.source);
    CHECK(limit.u_min == Approx(b.u_min).epsilon(0.01));
    CHECK(limit.v_max == Approx(b.v_max).epsilon(0.01));
    CHECK(limit.v_min == Approx(b.v_min).epsilon(0.01));
  }
}
