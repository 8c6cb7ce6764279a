// The momentum balance of both components (docs/field.md, F2). Written once for both: D is the component's
// own direction ("along"), the other direction is "across".
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/laws.hpp"
#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/schemes.hpp"

namespace tuft::flow2d {

/// Momentum flow through cell centres along the component's own direction: carried minus sheared.
template <int D>
void Residual::add_momentum_along(const State& state) {
  const Array2& u = state.velocity[D];
  const Array2& flow = flow_[D];
  const Axis& axis = problem_.grid.axis(D);
  const auto& x = axis.faces();
  const double small = small_velocity_slope();
  const Convection scheme = problem_.momentum_scheme;
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  for_rows(0, along_[D].ny(), along_[D].size(), [&](int j) {
    for (int i = 0; i < along_[D].nx(); ++i) {
      const int a = D == 0 ? i : j;
      const double carried = 0.5 * problem_.factor_at(i, j) * (flow(i, j) + flow(i + I, j + J));
      const double lo = u(i, j), hi = u(i + I, j + J);
      double value = 0.5 * (lo + hi);  // the cell's centre lies midway between its faces
      if (scheme != Convection::central) {
        const double face = axis.centres()[a];
        if (carried >= 0.0 && a > 0)
          value = face_value(scheme, {x[a - 1], x[a], x[a + 1], face}, u(i - I, j - J), lo, hi, small);
        else if (carried < 0.0 && a + 2 <= axis.n())
          value =
              face_value(scheme, {x[a + 2], x[a + 1], x[a], face}, u(i + 2 * I, j + 2 * J), hi, lo, small);
      }
      // Air that comes from beyond the grid, or goes there, turns within the cell. That it spreads there is
      // no strain: counted as one it is a pressure mu u/h, which grows as the cells shrink.
      const double turned =
          exchanges_ ? exchange_.mass(i, j) / (density_(i, j) * mesh_.volume(i, j)) * axis.widths()[a] : 0.0;
      along_[D](i, j) =
          carried * value - viscosity_(i, j) * mesh_.component[D].stretch(i, j) * (hi - lo - turned);
    }
  });
}

/// Momentum flow through the corners between neighbours across, rims left out.
template <int D>
void Residual::add_momentum_across(const State& state) {
  const Array2& u = state.velocity[D];
  const Array2& flow = flow_[1 - D];
  const Axis& axis = problem_.grid.axis(D);
  const Axis& cross = problem_.grid.axis(1 - D);
  const auto& y = cross.centres();
  const ComponentMesh& mesh = mesh_.component[D];
  const double small = small_velocity_slope();
  const Convection scheme = problem_.momentum_scheme;
  constexpr int I = D == 0 ? 0 : 1, J = D == 0 ? 1 : 0;  // one step across
  const int n_along = axis.n(), n_cross = cross.n();
  for_rows(D == 0 ? 1 : 0, D == 0 ? n_cross : n_along + 1, across_[D].size(), [&](int j) {
    for (int i = D == 0 ? 0 : 1; i < (D == 0 ? n_along + 1 : n_cross); ++i) {
      const int a = D == 0 ? i : j, c = D == 0 ? j : i;  // corner between u at c-1 and c
      double carried = 0.0, viscosity = 0.0;
      int cells = 0;
      for (int cell = std::max(a - 1, 0); cell <= std::min(a, n_along - 1); ++cell) {
        const int ci = D == 0 ? cell : i, cj = D == 0 ? j : cell;
        carried += 0.25 * (problem_.factor_at(ci, cj) + problem_.factor_at(ci - I, cj - J)) * flow(ci, cj);
        viscosity += 0.5 * (viscosity_(ci, cj) + viscosity_(ci - I, cj - J));
        ++cells;
      }
      viscosity /= cells;
      const double lo = u(i - I, j - J), hi = u(i, j);
      const double face = cross.faces()[c];
      double value = lo + (hi - lo) * ((face - y[c - 1]) / (y[c] - y[c - 1]));
      if (scheme != Convection::central) {
        if (carried >= 0.0 && c > 1)
          value =
              face_value(scheme, {y[c - 2], y[c - 1], y[c], face}, u(i - 2 * I, j - 2 * J), lo, hi, small);
        else if (carried < 0.0 && c + 1 < n_cross)
          value = face_value(scheme, {y[c + 1], y[c], y[c - 1], face}, u(i + I, j + J), hi, lo, small);
      }
      across_[D](i, j) = carried * value - viscosity * mesh.shear(i, j) * (hi - lo);
    }
  });
}

/// Momentum carried through the rims that lie across: with an inflow's own tangential speed, with the air's
/// own when it leaves, with none when it enters through an outlet.
template <int D>
void Residual::set_rim_across(const State& state) {
  const int n_along = problem_.grid.axis(D).n(), n_cross = problem_.grid.axis(1 - D).n();
  const Array2& flow = flow_[1 - D];
  for (int end = 0; end < 2; ++end) {
    const auto& edges = mesh_.edges[D == 0 ? 2 + end : end];
    const int corner = end == 0 ? 0 : n_cross, node = end == 0 ? 0 : n_cross - 1;
    const double inwards = end == 0 ? 1.0 : -1.0;
    for (int a = 0; a <= n_along; ++a) {
      const double own = D == 0 ? state.velocity[D](a, node) : state.velocity[D](node, a);
      double sum = 0.0;
      for (int cell = std::max(a - 1, 0); cell <= std::min(a, n_along - 1); ++cell) {
        const double factor = D == 0 ? problem_.factor_at(cell, node) : problem_.factor_at(node, cell);
        const double carried = 0.5 * factor * (D == 0 ? flow(cell, corner) : flow(corner, cell));
        const Edge& e = edges[cell];
        sum += carried * (e.kind == EdgeKind::inflow ? e.tangential : carried * inwards > 0.0 ? 0.0 : own);
      }
      (D == 0 ? across_[D](a, corner) : across_[D](corner, a)) = sum;
    }
  }
}

/// Everything that acts on the momentum volumes, summed.
template <int D>
void Residual::balance_momentum(const State& state, State* out) const {
  const Array2& u = state.velocity[D];
  const ComponentMesh& mesh = mesh_.component[D];
  const Axis& axis = problem_.grid.axis(D);
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const int n = axis.n();
  const double g = problem_.gravity[D];
  const Array2& force = problem_.force[D];
  const Array2& brought = exchange_.brought[D];
  for_rows(0, u.ny(), u.size(), [&](int j) {
    for (int i = 0; i < u.nx(); ++i) {
      double& imbalance = out->velocity[D](i, j);
      imbalance = 0.0;
      if (!mesh.active(i, j)) continue;
      const int a = D == 0 ? i : j, c = D == 0 ? j : i;
      const bool low = a == 0, high = a == n;
      const int bi = low ? i : i - I, bj = low ? j : j - J;    // cell before, or the one cell there is
      const int fi = high ? i - I : i, fj = high ? j - J : j;  // cell after
      const double area = mesh.area(i, j);
      const double factor_before = problem_.factor_at(bi, bj), factor_after = problem_.factor_at(fi, fj);
      const double through = 0.5 * (factor_before + factor_after) * flow_[D](i, j) * u(i, j);
      const double in = low ? through : along_[D](bi, bj), outwards = high ? through : along_[D](fi, fj);
      const double p_before = low ? rim_pressure(D, false, c, u(i, j), i, j) : state.pressure(bi, bj);
      const double p_after = high ? rim_pressure(D, true, c, u(i, j), i, j) : state.pressure(fi, fj);
      const double half_before = low ? 0.0 : 0.5 * axis.widths()[a - 1];
      const double half_after = high ? 0.0 : 0.5 * axis.widths()[a];
      const double viscosity = 0.5 * (viscosity_(bi, bj) + viscosity_(fi, fj));
      double sum = in - outwards + across_[D](i, j) - across_[D](i + J, j + I);
      sum += viscosity * (mesh.wall_speed(i, j) - mesh.wall(i, j) * u(i, j));
      sum += area * (p_before - p_after);
      sum += area * g * (half_before * buoyancy_(bi, bj) + half_after * buoyancy_(fi, fj));
      if (exchanges_)
        sum += u(i, j) * ((low ? 0.0 : 0.5 * factor_before * exchange_.out(bi, bj)) +
                          (high ? 0.0 : 0.5 * factor_after * exchange_.out(fi, fj)));
      if (!brought.empty()) sum += 0.5 * ((low ? 0.0 : brought(bi, bj)) + (high ? 0.0 : brought(fi, fj)));
      if (!force.empty()) sum += force(i, j) * mesh.volume(i, j);
      const double density = 0.5 * (density_(bi, bj) + density_(fi, fj));
      if (problem_.is_porous(D, i, j)) {
        sum -= mesh.volume(i, j) * u(i, j) * porous_drag(problem_, D, i, j, density, viscosity, u(i, j));
      } else if (problem_.layer_friction) {
        const Array2& w = state.velocity[1 - D];
        const double cross_speed = 0.25 * (w(bi, bj) + w(bi + J, bj + I) + w(fi, fj) + w(fi + J, fj + I));
        sum -= mesh.volume(i, j) * u(i, j) *
               layer_friction(density, viscosity, mesh.depth(i, j),
                              std::sqrt(u(i, j) * u(i, j) + cross_speed * cross_speed));
      }
      imbalance = sum;
    }
  });
}

template void Residual::add_momentum_along<0>(const State&);
template void Residual::add_momentum_along<1>(const State&);
template void Residual::add_momentum_across<0>(const State&);
template void Residual::add_momentum_across<1>(const State&);
template void Residual::set_rim_across<0>(const State&);
template void Residual::set_rim_across<1>(const State&);
template void Residual::balance_momentum<0>(const State&, State*) const;
template void Residual::balance_momentum<1>(const State&, State*) const;

}  // namespace tuft::flow2d
