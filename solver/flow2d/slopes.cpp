#include "solver/flow2d/slopes.hpp"

#include <cstddef>

#include "solver/flow2d/array2.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kStep = 1e-3;  // of temperature [K], for properties of the air
constexpr double kRest = 1e-7;  // of the fastest air: more than converged flows leave of a symmetry

}  // namespace

Slopes::Slopes(const Residual& residual, const State& state)
    : residual_(residual),
      problem_(residual.problem()),
      mesh_(residual.mesh()),
      state_(state),
      at_rest_(kRest * residual.scales().velocity) {
  const int nx = problem_.grid.nx(), ny = problem_.grid.ny();
  const Fluid& fluid = problem_.fluid;
  const bool varies = fluid.sutherland != 0.0;
  const bool eddies = !problem_.closure.empty();
  density_ = buoyancy_ = viscosity_ = conductivity_ = Array2(nx, ny);
  for_rows(0, ny, density_.size(), [&](int j) {
    for (int i = 0; i < nx; ++i) {
      const double low = state.temperature(i, j) - 0.5 * kStep, high = low + kStep;
      density_(i, j) = (fluid.density_at(high) - fluid.density_at(low)) / kStep;
      buoyancy_(i, j) = (fluid.buoyancy_density(high) - fluid.buoyancy_density(low)) / kStep;
      const bool solid = problem_.is_solid(i, j);
      if (varies) {
        const double ratio = (fluid.transport_ratio(high) - fluid.transport_ratio(low)) / kStep;
        viscosity_(i, j) = fluid.viscosity * ratio;
        if (!solid) conductivity_(i, j) = fluid.conductivity * ratio;
      }
      if (!eddies || solid) continue;  // their viscosity goes with the density
      const double ratio = fluid.transport_ratio(state.temperature(i, j));
      const double thinner = density_(i, j) / residual.density()(i, j);
      viscosity_(i, j) += thinner * (residual.viscosity()(i, j) - fluid.viscosity * ratio);
      conductivity_(i, j) += thinner * (residual.conductivity()(i, j) - fluid.conductivity * ratio);
    }
  });
  for (int d = 0; d < 2; ++d) {
    Array2& carry = carry_[d];
    carry = Array2(nx + (d == 0), ny + (d == 1));
    flow_by_warmth_[d] = Array2T<ByWarmth>(nx + (d == 0), ny + (d == 1));
    for_rows(0, carry.ny(), carry.size(), [&](int j) {
      for (int i = 0; i < carry.nx(); ++i) {
        const double area = mesh_.component[d].area(i, j);
        if (area > 0.0) carry(i, j) = area * residual.face_density(d, i, j, state.velocity[d](i, j));
        flow_by_warmth_[d](i, j) = found_flow_by_warmth(d, i, j);
      }
    });
  }
}

/// d conductance of a face / d temperature of the cell before or after it.
double Slopes::conductance_slope(int d, int i, int j, bool after) const {
  const double g = residual_.conductance()[d](i, j);
  if (g == 0.0) return 0.0;
  const int a = d == 0 ? i : j, c = d == 0 ? j : i;
  const int ci = i - (d == 0 && !after ? 1 : 0), cj = j - (d == 1 && !after ? 1 : 0);
  const double k = residual_.conductivity()(ci, cj);
  const double half = 0.5 * problem_.grid.axis(d).widths()[after ? a : a - 1];
  const double face = problem_.grid.axis(1 - d).widths()[c] * mesh_.component[d].depth(i, j);
  return g * g / face * half / (k * k) * conductivity_(ci, cj);
}

/// Through a rim only air that leaves has the density of the cell there.
Slopes::ByWarmth Slopes::found_flow_by_warmth(int d, int i, int j) const {
  const double u = state_.velocity[d](i, j), moved = u * mesh_.component[d].area(i, j);
  if (moved == 0.0) return {};
  const int a = d == 0 ? i : j, n = problem_.grid.axis(d).n();
  const int bi = d == 0 ? i - 1 : i, bj = d == 0 ? j : j - 1;  // cell before
  if (a == 0 || a == n) {
    const Edge& e = mesh_.edges[2 * d + (a == n ? 1 : 0)][d == 0 ? j : i];
    if (e.kind == EdgeKind::inflow || (a == 0 ? u > 0.0 : u < 0.0)) return {};
    return a == 0 ? ByWarmth{0.0, moved * density_(i, j)} : ByWarmth{moved * density_(bi, bj), 0.0};
  }
  const auto& widths = problem_.grid.axis(d).widths();
  const double before = widths[a - 1], after = widths[a];
  return {moved * density_(bi, bj) * after / (before + after),
          moved * density_(i, j) * before / (before + after)};
}

/// What the mass flow through one face of cell (i, j) adds to its balances, times `factor`.
template <int D>
void Slopes::add_mass_face(int i, int j, bool high, double factor, Stencil17* s) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const int fi = high ? i + I : i, fj = high ? j + J : j;
  const double in = high ? -factor : factor;
  s->at[2 * D + (high ? 1 : 0)] += in * carry_[D](fi, fj);
  const ByWarmth& warmth = flow_by_warmth_[D](fi, fj);
  const int other = 6 + 2 * D + (high ? 1 : 0);
  s->at[high ? 5 : other] += in * warmth.before;
  s->at[high ? other : 5] += in * warmth.after;
}

Stencil17 Slopes::mass(int i, int j) const {
  Stencil17 s{};
  add_mass_face<0>(i, j, false, 1.0, &s);
  add_mass_face<0>(i, j, true, 1.0, &s);
  add_mass_face<1>(i, j, false, 1.0, &s);
  add_mass_face<1>(i, j, true, 1.0, &s);
  return s;
}

template <int D>
void Slopes::add_heat_face(int i, int j, bool high, Stencil17* s) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const int fi = high ? i + I : i, fj = high ? j + J : j;
  const double in = high ? -1.0 : 1.0;
  const Axis& axis = problem_.grid.axis(D);
  const int a = D == 0 ? fi : fj, n = axis.n();
  const Array2& t = state_.temperature;
  const double cp = problem_.fluid.specific_heat, reference = problem_.fluid.temperature;
  const double flow = residual_.mass_flow()[D](fi, fj), g = residual_.conductance()[D](fi, fj);
  if (a == 0 || a == n) {
    const Edge& e = mesh_.edges[2 * D + (high ? 1 : 0)][D == 0 ? j : i];
    const bool enters = flow * in > 0.0;
    add_mass_face<D>(i, j, high, cp * ((enters ? e.temperature : t(i, j)) - reference), s);
    if (!enters) s->at[5] += in * flow * cp;
    if ((e.kind == EdgeKind::wall || e.kind == EdgeKind::inflow) && e.heat == HeatKind::temperature)
      s->at[5] += conductance_slope(D, fi, fj, !high) * (e.temperature - t(i, j)) - g;
    return;
  }
  const double lo = t(fi - I, fj - J), hi = t(fi, fj);
  const auto& x = axis.centres();
  const double face = axis.faces()[a], reach = (face - x[a - 1]) / (x[a] - x[a - 1]);
  Value weight = weighted(1.0 - reach, lo, hi);
  const Convection scheme = problem_.energy_scheme;
  if (scheme == Convection::upwind) {
    weight = upwind(flow, carry_[D](fi, fj), 1.0 - reach, lo, hi);
  } else if (scheme == Convection::limited) {
    const double small = residual_.small_temperature_slope();
    if (flow >= 0.0 && a > 1)
      weight = limited({x[a - 2], x[a - 1], x[a], face}, t(fi - 2 * I, fj - 2 * J), lo, hi, small, true);
    else if (flow < 0.0 && a + 1 < n)
      weight = limited({x[a + 1], x[a], x[a - 1], face}, t(fi + I, fj + J), hi, lo, small, false);
  }
  add_mass_face<D>(i, j, high, cp * (weight.value - reference), s);
  const int other = 6 + 2 * D + (high ? 1 : 0), before = high ? 5 : other, after = high ? other : 5;
  double by_low = flow * cp * weight.low + g, by_high = flow * cp * weight.high - g;
  if (problem_.fluid.sutherland != 0.0 || !problem_.closure.empty()) {
    by_low -= conductance_slope(D, fi, fj, false) * (hi - lo);
    by_high -= conductance_slope(D, fi, fj, true) * (hi - lo);
  }
  s->at[before] += in * by_low;
  s->at[after] += in * by_high;
}

Stencil17 Slopes::heat(int i, int j) const {
  Stencil17 s{};
  add_heat_face<0>(i, j, false, &s);
  add_heat_face<0>(i, j, true, &s);
  add_heat_face<1>(i, j, false, &s);
  add_heat_face<1>(i, j, true, &s);
  if (!problem_.mass_source.empty()) s.at[5] += problem_.fluid.specific_heat * residual_.exchange().out(i, j);
  if (!problem_.wall_loss.empty())
    s.at[5] -= problem_.wall_loss(i, j) * problem_.grid.x.widths()[i] * problem_.grid.y.widths()[j];
  if (!problem_.channels.empty()) s.at[5] -= residual_.channel_conductance()(i, j);
  return s;
}

void compact_jacobian(const Unknowns& unknowns, const Residual& residual, const State& state, Rows rows,
                      double* values) {
  const Slopes slopes(residual, state);
  const sparse::SparsePattern& pattern = unknowns.pattern();
  const auto stencil = [&](const Unknown& d) {
    switch (d.kind) {
      case kind_u:
        return slopes.momentum<0>(d.i, d.j);
      case kind_v:
        return slopes.momentum<1>(d.i, d.j);
      case kind_p:
        return slopes.mass(d.i, d.j);
      case kind_t:
        break;
    }
    return slopes.heat(d.i, d.j);
  };
  for_rows(0, unknowns.n(), static_cast<std::size_t>(unknowns.n()), [&](int r) {
    const Unknown& d = unknowns[r];
    if (rows != Rows::all && (d.kind == kind_t) != (rows == Rows::heat)) return;
    const Stencil17 s = stencil(d);
    for (int k = pattern.row_start[r]; k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k)
      values[k] = s.at[unknowns.places_in_stencil()[k]];
  });
}

}  // namespace tuft::flow2d
