// The heat balance (docs/field.md, F3): carried by the air, conducted in air and solids.
#include <cstddef>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/schemes.hpp"

namespace tuft::flow2d {

/// Heat through inner faces: cp (T - T_ref) carried, minus conducted. Counting from T_ref is exact once mass
/// balances, and keeps a small mass error from posing as heat.
template <int D>
void Residual::set_heat_flow(const State& state) {
  const Array2& t = state.temperature;
  const Axis& axis = problem_.grid.axis(D);
  const auto& x = axis.centres();
  const double small = small_temperature_slope();
  const double cp = problem_.fluid.specific_heat, reference = problem_.fluid.temperature;
  const Convection scheme = problem_.energy_scheme;
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  for_rows(J, t.ny(), t.size(), [&](int j) {
    for (int i = I; i < t.nx(); ++i) {
      const int a = D == 0 ? i : j;  // face between cells a-1 and a
      const double lo = t(i - I, j - J), hi = t(i, j), flow = flow_[D](i, j);
      const double face = axis.faces()[a];
      double value = lo + (hi - lo) * ((face - x[a - 1]) / (x[a] - x[a - 1]));
      if (scheme != Convection::central) {
        if (scheme == Convection::upwind)
          value = flow >= 0.0 ? lo : hi;  // bounded beside a rim as well
        else if (flow >= 0.0 && a > 1)
          value =
              face_value(scheme, {x[a - 2], x[a - 1], x[a], face}, t(i - 2 * I, j - 2 * J), lo, hi, small);
        else if (flow < 0.0 && a + 1 < axis.n())
          value = face_value(scheme, {x[a + 1], x[a], x[a - 1], face}, t(i + I, j + J), hi, lo, small);
      }
      heat_[D](i, j) = flow * cp * (value - reference) - conductance_[D](i, j) * (hi - lo);
    }
  });
}

/// Heat through the rim faces. Air that enters brings the edge's temperature; a wall or inflow held at a
/// temperature also conducts.
void Residual::set_rim_heat(const State& state) {
  const double cp = problem_.fluid.specific_heat;
  for (std::size_t side = 0; side < 4; ++side) {
    const bool vertical = side < 2, high = side % 2 == 1;
    const auto d = static_cast<std::size_t>(vertical ? 0 : 1);
    const int end = problem_.grid.axis(vertical ? 0 : 1).n();
    const auto& widths = problem_.grid.axis(vertical ? 1 : 0).widths();
    for (std::size_t k = 0; k < mesh_.edges[side].size(); ++k) {
      const Edge& e = mesh_.edges[side][k];
      const int c = static_cast<int>(k);
      const int fi = vertical ? (high ? end : 0) : c, fj = vertical ? c : (high ? end : 0);
      const int ci = vertical ? (high ? end - 1 : 0) : c, cj = vertical ? c : (high ? end - 1 : 0);
      const double inwards = high ? -1.0 : 1.0, flow = flow_[d](fi, fj);
      const double own = state.temperature(ci, cj);
      const double carried_temperature = flow * inwards > 0.0 ? e.temperature : own;
      double heat = flow * cp * (carried_temperature - problem_.fluid.temperature);
      if (e.kind == EdgeKind::wall || e.kind == EdgeKind::inflow) {
        if (e.heat == HeatKind::temperature)
          heat += inwards * conductance_[d](fi, fj) * (e.temperature - own);
        if (e.heat == HeatKind::flux) heat += inwards * e.flux * widths[k] * mesh_.component[d].depth(fi, fj);
      }
      heat_[d](fi, fj) = heat;
    }
  }
}

void Residual::balance_heat(const State& state, State* out) {
  const int nx = density_.nx(), ny = density_.ny();
  for_rows(0, ny, density_.size(), [&](int j) {
    for (int i = 0; i < nx; ++i) {
      double r = heat_[0](i, j) - heat_[0](i + 1, j) + heat_[1](i, j) - heat_[1](i, j + 1);
      if (!problem_.heat_source.empty()) r += problem_.heat_source(i, j) * mesh_.volume(i, j);
      if (exchanges_) r += exchange_.heat(i, j);
      if (!channel_heat_.empty()) r += channel_heat_(i, j);
      if (!problem_.wall_loss.empty()) {
        const double area = problem_.grid.x.widths()[i] * problem_.grid.y.widths()[j];
        lost_(i, j) =
            problem_.wall_loss(i, j) * area * (state.temperature(i, j) - problem_.fluid.temperature);
        r -= lost_(i, j);
      }
      if (problem_.is_held(i, j)) {
        given_heat_(i, j) = -r;
        r = 0.0;
      }
      out->temperature(i, j) = r;
    }
  });
}

template void Residual::set_heat_flow<0>(const State&);
template void Residual::set_heat_flow<1>(const State&);

}  // namespace tuft::flow2d
