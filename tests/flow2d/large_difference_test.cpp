// A closed cavity with a large temperature difference: gas law, constant mass, background pressure found.
// Le Quere et al. 2005 and Paillere et al. 2005 (ESAIM: M2AN 39:609-621): (Th - Tc)/(Th + Tc) = 0.6, Ra 1e6,
// Pr 0.71. The values are from memory: no text with them was found.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

struct Closed {
  double nusselt = 0.0, cold_nusselt = 0.0;
  double pressure = 1.0;  ///< over the filling pressure
};

/// The cavity in lengths of L and properties of the filling, at T0 = 600 K.
Problem cavity(int n, double rayleigh, double sutherland) {
  const Axis axis = tanh_axis(n, 0.0, 1.0, 1.2);
  Problem p;
  p.grid = Grid{axis, axis};
  p.momentum_scheme = p.energy_scheme = Convection::central;
  p.fluid.law = DensityLaw::ideal_gas;
  p.fluid.temperature = 600.0;
  p.fluid.density = p.fluid.viscosity = p.fluid.specific_heat = 1.0;
  p.fluid.conductivity = 1.0 / 0.71;
  p.fluid.sutherland = sutherland;
  const double difference = 720.0;
  p.gravity = {0.0, -rayleigh * 600.0 / (0.71 * difference)};
  Edge wall;
  wall.heat = HeatKind::temperature;
  wall.temperature = 960.0;
  p.set_side(Side::left, wall);
  wall.temperature = 240.0;
  p.set_side(Side::right, wall);
  return p;
}

double mean_inverse(const Problem& p, const State& s) {
  double sum = 0.0;
  for (int j = 0; j < p.grid.ny(); ++j)
    for (int i = 0; i < p.grid.nx(); ++i)
      sum += p.grid.x.widths()[static_cast<std::size_t>(i)] * p.grid.y.widths()[static_cast<std::size_t>(j)] *
             p.fluid.temperature / s.temperature(i, j);
  return sum;
}

/// Density at T0 is p/p0; the mass stays that of the filling when p/p0 times the mean of T0/T is 1.
Closed closed(int n, double rayleigh, double sutherland) {
  Problem p = cavity(n, rayleigh, sutherland);
  Closed out;
  State s;
  for (int k = 0; k < 30; ++k) {
    p.fluid.density = out.pressure;
    Solved here = solved(p, with_time(), k == 0 ? nullptr : &s);
    INFO(here.found.message);
    REQUIRE(here.found.steady());
    s = std::move(here.state);
    const NewtonSummary& summary = here.found.newton;
    const double unit = p.fluid.conductivity * 720.0;
    out.nusselt = summary.audit.heat_in / unit;
    out.cold_nusselt = summary.audit.heat_out / unit;
    const double next = 1.0 / mean_inverse(p, s);
    const bool settled = std::abs(next - out.pressure) < 1e-7;
    out.pressure = next;
    if (settled) return out;
  }
  FAIL("the background pressure did not settle");
  return out;
}

}  // namespace

TEST_CASE("a closed cavity's pressure falls as conduction says when nothing moves", "[exact]") {
  // Linear temperature, fixed mass: p/p0 = (Th - Tc) / (T0 ln(Th/Tc)) = 1.2 / ln 4 (derived).
  const Closed still = closed(24, 1e-3, 0.0);
  CHECK(still.nusselt == Approx(1.0).epsilon(1e-4));
  CHECK(still.pressure == Approx(1.2 / std::log(4.0)).epsilon(1e-3));
}

TEST_CASE("a cavity with a large temperature difference agrees with the benchmark", "[published]") {
  struct Row {
    const char* name;
    double sutherland, nusselt, pressure;
  };
  // T1: constant properties; T2: Sutherland's law with 110.5 K.
  for (const Row& row : {Row{"T1", 0.0, 8.85978, 0.856338}, Row{"T2", 110.5, 8.6866, 0.924487}}) {
    const Closed coarse = closed(40, 1e6, row.sutherland), fine = closed(80, 1e6, row.sutherland);
    const double nusselt = richardson(coarse.nusselt, fine.nusselt),
                 pressure = richardson(coarse.pressure, fine.pressure);
    std::printf(
        "large difference %s: Nu %.4f, %.4f, limit %.4f (%.4f from memory); p/p0 %.5f, %.5f, limit %.5f "
        "(%.5f)\n",
        row.name, coarse.nusselt, fine.nusselt, nusselt, row.nusselt, coarse.pressure, fine.pressure,
        pressure, row.pressure);
    CHECK(fine.cold_nusselt == Approx(fine.nusselt).epsilon(1e-6));
    CHECK(nusselt == Approx(row.nusselt).epsilon(0.005));
    CHECK(pressure == Approx(row.pressure).epsilon(0.002));
  }
}
