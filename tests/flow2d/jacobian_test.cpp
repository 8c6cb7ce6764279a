// The Jacobian beside differences of the balances: every entry where the two are to agree, and even changes
// where a limiter sees further than the compact form.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>

#include "solver/flow2d/slopes.hpp"
#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;

namespace {

/// Numbers from 0 to 1 that look irregular and are always the same.
class Irregular {
 public:
  double next() {
    state_ = state_ * 6364136223846793005ull + 1442695040888963407ull;
    return static_cast<double>(state_ >> 11) / 9007199254740992.0;
  }
  double between(double low, double high) { return low + (high - low) * next(); }

 private:
  std::uint64_t state_ = 12345;
};

Axis uneven(int n, double step, Irregular* some) {
  std::vector<double> faces{0.0};
  for (int k = 0; k < n; ++k) faces.push_back(faces.back() + step * some->between(0.7, 1.4));
  return Axis(faces);
}

/// Some of everything a problem can hold.
Problem everything(Convection scheme) {
  Irregular some;
  const int nx = 11, ny = 9;
  Problem p;
  p.grid = Grid{uneven(nx, 2e-3, &some), uneven(ny, 3e-3, &some)};
  p.fluid.sutherland = 110.4;
  p.gravity = {3.0, -9.0};
  p.momentum_scheme = p.energy_scheme = scheme;
  p.layer_friction = true;
  p.momentum_factor = 1.2;
  p.solid = Mask(nx, ny);
  p.solid(4, 4) = p.solid(5, 4) = p.solid(4, 5) = 1;
  p.held = Mask(nx, ny);
  p.held(4, 5) = 1;
  p.held_temperature = Array2(nx, ny, 330.0);
  p.solid_conductivity = Array2(nx, ny, 2.0);
  p.depth = p.wall_loss = p.heat_source = p.momentum_share = Array2(nx, ny);
  for (std::size_t k = 0; k < p.depth.size(); ++k) {
    p.depth[k] = some.between(3e-3, 7e-3);
    p.wall_loss[k] = some.between(0.0, 20.0);
    p.heat_source[k] = some.between(0.0, 1e5);
    p.momentum_share[k] = some.between(0.2, 1.0);
  }
  p.mass_source = Array2(nx, ny);
  p.mass_source(2, 2) = 3.0;
  p.mass_source(7, 6) = -2.0;
  p.source_velocity[0] = Array2(nx, ny, 0.3);
  p.source_velocity[1] = Array2(nx, ny, -0.2);
  p.barrier = {Mask(nx + 1, ny), Mask(nx, ny + 1)};
  p.barrier[0](6, 2) = p.barrier[1](3, 7) = 1;
  p.drag_viscous = {Array2(nx + 1, ny), Array2(nx, ny + 1)};
  p.drag_inertial = p.drag_viscous;
  p.drag_viscous[0](8, 5) = 1e6;
  p.drag_inertial[0](8, 5) = p.drag_inertial[1](2, 4) = 40.0;
  Edge open;
  open.kind = EdgeKind::outlet;
  open.temperature = 295.0;
  open.inertial_in = 0.7;
  p.set_side(Side::right, open);
  p.set_side(Side::top, open);
  Edge in;
  in.kind = EdgeKind::inflow;
  in.normal = 0.4;
  in.tangential = 0.1;
  in.heat = HeatKind::temperature;
  p.set_side(Side::left, in);
  Edge lid;
  lid.tangential = 0.5;
  lid.heat = HeatKind::temperature;
  lid.temperature = 320.0;
  p.set_side(Side::bottom, lid);
  return p;
}

State anything(const Problem& p) {
  Irregular some;
  State s = still_state(p);
  for (int d = 0; d < 2; ++d) {
    Array2& u = s.velocity[static_cast<std::size_t>(d)];
    for (std::size_t k = 0; k < u.size(); ++k)
      u[k] = some.between(0.05, 1.0) * (some.next() < 0.5 ? -1.0 : 1.0);
  }
  for (std::size_t k = 0; k < s.pressure.size(); ++k) {
    s.pressure[k] = some.between(-2.0, 2.0);
    s.temperature[k] = some.between(290.0, 350.0);
  }
  const Mesh mesh(p);
  for (std::size_t d = 0; d < 2; ++d)
    for (std::size_t k = 0; k < s.velocity[d].size(); ++k)
      if (mesh.component[d].area[k] == 0.0) s.velocity[d][k] = 0.0;
  impose_given_velocities(p, &s);
  return s;
}

/// Largest difference between an entry and its central difference quotient, over the largest in its row and
/// column kind; entries the pattern has no place for count with what they are.
/// Entries that `counts` (kinds of row and column) leaves out do not.
template <class Counts>
double worst_entry(const Problem& p, const State& state, const Counts& counts) {
  Residual residual(p);
  const Unknowns unknowns(p, residual.mesh());
  State over = still_state(p);
  residual.evaluate(state, &over);
  std::vector<double> values(unknowns.pattern().column.size());
  compact_jacobian(unknowns, residual, state, Rows::all, values.data());
  const int n = unknowns.n();
  const auto N = static_cast<std::size_t>(n);
  std::vector<double> exact(N * N, 0.0), quotient = exact;
  for (int r = 0; r < n; ++r)
    for (int k = unknowns.pattern().row_start[static_cast<std::size_t>(r)];
         k < unknowns.pattern().row_start[static_cast<std::size_t>(r) + 1]; ++k)
      exact[static_cast<std::size_t>(r) * N +
            static_cast<std::size_t>(unknowns.pattern().column[static_cast<std::size_t>(k)])] +=
          values[static_cast<std::size_t>(k)];
  for (const FarSlope& far : far_slopes(unknowns, residual, state))
    exact[static_cast<std::size_t>(far.row) * N + static_cast<std::size_t>(far.column)] += far.value;
  const double step[4] = {1e-5, 1e-5, 1e-4, 1e-3};
  for (int c = 0; c < n; ++c) {
    const double h = step[unknowns[c].kind];
    std::vector<double> side[2];
    for (const int s : {0, 1}) {
      State moved = state;
      Unknowns::part(moved, unknowns[c].kind)(unknowns[c].i, unknowns[c].j) += s == 0 ? -h : h;
      residual.evaluate(moved, &over);
      side[s] = unknowns.gather(over);
    }
    for (int r = 0; r < n; ++r)
      quotient[static_cast<std::size_t>(r) * N + static_cast<std::size_t>(c)] =
          (side[1][static_cast<std::size_t>(r)] - side[0][static_cast<std::size_t>(r)]) / (2.0 * h);
  }
  double worst = 0.0;
  for (int r = 0; r < n; ++r) {
    double largest[4] = {0.0, 0.0, 0.0, 0.0};
    for (int c = 0; c < n; ++c)
      largest[unknowns[c].kind] =
          std::max(largest[unknowns[c].kind],
                   std::abs(quotient[static_cast<std::size_t>(r) * N + static_cast<std::size_t>(c)]));
    for (int c = 0; c < n; ++c) {
      const std::size_t at = static_cast<std::size_t>(r) * N + static_cast<std::size_t>(c);
      const double off = std::abs(exact[at] - quotient[at]);
      if (off == 0.0 || !counts(unknowns[r].kind, unknowns[c].kind)) continue;
      const double share = off / std::max(largest[unknowns[c].kind], 1e-30);
      if (share > 1e-5)
        UNSCOPED_INFO("row " << unknowns[r].kind << " (" << unknowns[r].i << ", " << unknowns[r].j
                             << ") column " << unknowns[c].kind << " (" << unknowns[c].i << ", "
                             << unknowns[c].j << "): " << exact[at] << " for " << quotient[at]);
      worst = std::max(worst, share);
    }
  }
  return worst;
}

/// What a balance changes by when one velocity component changes evenly everywhere, by the Jacobian against a
/// difference quotient; of rows whose nodes two steps away are unknown, over the largest.
double worst_even_change(const Problem& p, const State& state, Kind kind) {
  Residual residual(p);
  const Unknowns unknowns(p, residual.mesh());
  State over = still_state(p);
  residual.evaluate(state, &over);
  std::vector<double> values(unknowns.pattern().column.size());
  compact_jacobian(unknowns, residual, state, Rows::all, values.data());
  std::vector<double> side[2];
  const double h = 1e-6;
  for (const int s : {0, 1}) {
    State moved = state;
    for (int c = 0; c < unknowns.n(); ++c)
      if (unknowns[c].kind == kind)
        Unknowns::part(moved, kind)(unknowns[c].i, unknowns[c].j) += s == 0 ? -h : h;
    residual.evaluate(moved, &over);
    side[s] = unknowns.gather(over);
  }
  double worst = 0.0, largest = 0.0;
  int rows = 0;
  for (int r = 0; r < unknowns.n(); ++r) {
    const Unknown& u = unknowns[r];
    if (u.kind != kind) continue;
    bool inner = true;
    for (int d = -2; d <= 2; ++d)
      inner = inner && unknowns.number(kind, u.i + d, u.j) >= 0 && unknowns.number(kind, u.i, u.j + d) >= 0;
    if (!inner) continue;
    ++rows;
    const auto R = static_cast<std::size_t>(r);
    double sum = 0.0;
    for (int k = unknowns.pattern().row_start[R]; k < unknowns.pattern().row_start[R + 1]; ++k) {
      const auto K = static_cast<std::size_t>(k);
      if (unknowns[unknowns.pattern().column[K]].kind == kind) sum += values[K];
    }
    const double quotient = (side[1][R] - side[0][R]) / (2.0 * h);
    worst = std::max(worst, std::abs(sum - quotient));
    largest = std::max(largest, std::abs(quotient));
  }
  CHECK(rows > 10);
  return worst / largest;
}

}  // namespace

TEST_CASE("every entry of the Jacobian is the slope of its balance", "[exact]") {
  for (const Convection scheme : {Convection::upwind, Convection::central}) {
    Problem p = everything(scheme);
    REQUIRE(p.problem() == "");
    INFO("scheme " << static_cast<int>(scheme));
    CHECK(worst_entry(p, anything(p), [](Kind, Kind) { return true; }) < 1e-5);
    // Eddies are held, but for the density of their air.
    const auto warmth = [](Kind, Kind column) { return column == kind_t; };
    p.closure.mixing_length = Array2(p.grid.nx(), p.grid.ny(), 1e-3);
    CHECK(worst_entry(p, anything(p), warmth) < 1e-5);
  }
}

TEST_CASE("the same for Boussinesq air of constant properties", "[exact]") {
  Problem p = everything(Convection::central);
  p.fluid.law = DensityLaw::boussinesq;
  p.fluid.sutherland = 0.0;
  CHECK(worst_entry(p, anything(p), [](Kind, Kind) { return true; }) < 1e-5);
}

TEST_CASE("with limited convection even changes pass as they do in the balances", "[exact]") {
  const Problem p = everything(Convection::limited);
  const State state = anything(p);
  CHECK(worst_even_change(p, state, kind_u) < 1e-6);
  CHECK(worst_even_change(p, state, kind_v) < 1e-6);
}
