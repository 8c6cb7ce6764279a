// A problem restated on a grid of half the cells each way.
#include <algorithm>

#include "solver/flow2d/problem.hpp"

namespace tuft::field {
namespace {

/// Volume-weighted mean over the up to four fine cells of coarse cell (I, J); cells where `use` is false are
/// left out, and `fallback` is returned when none is left.
template <class Use>
double cell_mean(const Grid& grid, const Array2& fine, int I, int J, double fallback, Use use) {
  double sum = 0.0, weight = 0.0;
  for (int j = 2 * J; j < std::min(2 * J + 2, grid.ny()); ++j)
    for (int i = 2 * I; i < std::min(2 * I + 2, grid.nx()); ++i) {
      if (!use(i, j)) continue;
      const double w =
          grid.x.widths()[static_cast<std::size_t>(i)] * grid.y.widths()[static_cast<std::size_t>(j)];
      sum += w * fine(i, j);
      weight += w;
    }
  return weight > 0.0 ? sum / weight : fallback;
}

Mask coarse_solid(const Problem& fine, const Grid& coarse) {
  if (fine.solid.empty()) return {};
  Array2 share(fine.grid.nx(), fine.grid.ny());
  for (std::size_t k = 0; k < share.size(); ++k) share[k] = fine.solid[k] ? 1.0 : 0.0;
  Mask solid(coarse.nx(), coarse.ny());
  for (int J = 0; J < coarse.ny(); ++J)
    for (int I = 0; I < coarse.nx(); ++I)
      solid(I, J) = cell_mean(fine.grid, share, I, J, 0.0, [](int, int) { return true; }) > 0.5 ? 1 : 0;
  return solid;
}

template <class Use>
Array2 coarse_cells(const Problem& fine, const Grid& coarse, const Array2& values, double fallback, Use use) {
  if (values.empty()) return {};
  Array2 out(coarse.nx(), coarse.ny());
  for (int J = 0; J < coarse.ny(); ++J)
    for (int I = 0; I < coarse.nx(); ++I) out(I, J) = cell_mean(fine.grid, values, I, J, fallback, use);
  return out;
}

/// Values on the faces of component d: the fine faces on the coarse face, averaged over its length.
Array2 coarse_faces(const Array2& f, const Grid& coarse, int d) {
  if (f.empty()) return {};
  Array2 out(coarse.nx() + (d == 0), coarse.ny() + (d == 1));
  for (int J = 0; J < out.ny(); ++J)
    for (int I = 0; I < out.nx(); ++I) {
      const int i0 = std::min(2 * I, f.nx() - 1), j0 = std::min(2 * J, f.ny() - 1);
      const int i1 = d == 0 ? i0 : std::min(i0 + 1, f.nx() - 1),
                j1 = d == 1 ? j0 : std::min(j0 + 1, f.ny() - 1);
      out(I, J) = 0.5 * (f(i0, j0) + f(i1, j1));
    }
  return out;
}

/// A thin wall on a coarse face: where both fine faces on it have one. Walls inside a coarse cell are lost; a
/// grid on which that joins two bodies of air is not used.
Mask coarse_barrier(const Mask& f, const Grid& coarse, int d) {
  if (f.empty()) return {};
  Mask out(coarse.nx() + (d == 0), coarse.ny() + (d == 1));
  for (int J = 0; J < out.ny(); ++J)
    for (int I = 0; I < out.nx(); ++I) {
      const int i0 = std::min(2 * I, f.nx() - 1), j0 = std::min(2 * J, f.ny() - 1);
      const int i1 = d == 0 ? i0 : std::min(i0 + 1, f.nx() - 1),
                j1 = d == 1 ? j0 : std::min(j0 + 1, f.ny() - 1);
      out(I, J) = f(i0, j0) != 0 && f(i1, j1) != 0 ? 1 : 0;
    }
  return out;
}

/// Two edges made one. A pair of different kinds takes the first; numbers are averaged by length, so that the
/// flow through a pair of inflow edges is kept.
Edge merged(const Edge& a, const Edge& b, double la, double lb) {
  if (a.kind != b.kind || a.heat != b.heat) return a;
  const double wa = la / (la + lb), wb = lb / (la + lb);
  Edge e = a;
  e.normal = wa * a.normal + wb * b.normal;
  e.tangential = wa * a.tangential + wb * b.tangential;
  e.pressure = wa * a.pressure + wb * b.pressure;
  e.viscous = wa * a.viscous + wb * b.viscous;
  e.inertial_in = wa * a.inertial_in + wb * b.inertial_in;
  e.inertial_out = wa * a.inertial_out + wb * b.inertial_out;
  e.temperature = wa * a.temperature + wb * b.temperature;
  e.flux = wa * a.flux + wb * b.flux;
  return e;
}

std::vector<Edge> coarse_edges(const std::vector<Edge>& fine, const Axis& axis) {
  std::vector<Edge> out;
  for (std::size_t k = 0; k < fine.size(); k += 2) {
    const bool pair = k + 1 < fine.size();
    out.push_back(pair ? merged(fine[k], fine[k + 1], axis.widths()[k], axis.widths()[k + 1]) : fine[k]);
  }
  return out;
}

}  // namespace

Problem coarsened(const Problem& fine) {
  Problem coarse = fine;
  coarse.grid = Grid{coarsened(fine.grid.x), coarsened(fine.grid.y)};
  for (std::size_t s = 0; s < 4; ++s)
    coarse.edges[s] = coarse_edges(fine.edges[s], s < 2 ? fine.grid.y : fine.grid.x);
  coarse.solid = coarse_solid(fine, coarse.grid);
  const auto everywhere = [](int, int) { return true; };
  const auto in_air = [&fine](int i, int j) { return !fine.is_solid(i, j); };
  const auto in_solid = [&fine](int i, int j) { return fine.is_solid(i, j); };
  coarse.depth = coarse_cells(fine, coarse.grid, fine.depth, 1.0, in_air);
  if (!coarse.depth.empty())
    for (int J = 0; J < coarse.grid.ny(); ++J)
      for (int I = 0; I < coarse.grid.nx(); ++I)
        if (coarse.is_solid(I, J))
          coarse.depth(I, J) = cell_mean(fine.grid, fine.depth, I, J, 1.0, everywhere);
  coarse.solid_conductivity = coarse_cells(fine, coarse.grid, fine.solid_conductivity, 0.0, in_solid);
  coarse.solid_heat_capacity = coarse_cells(fine, coarse.grid, fine.solid_heat_capacity, 1e6, in_solid);
  coarse.heat_source = coarse_cells(fine, coarse.grid, fine.heat_source, 0.0, everywhere);
  if (!fine.held.empty()) {
    Array2 share(fine.grid.nx(), fine.grid.ny());
    for (std::size_t k = 0; k < share.size(); ++k) share[k] = fine.held[k] ? 1.0 : 0.0;
    const Array2 kept = coarse_cells(fine, coarse.grid, share, 0.0, everywhere);
    const auto is_held = [&fine](int i, int j) { return fine.is_held(i, j); };
    coarse.held_temperature =
        coarse_cells(fine, coarse.grid, fine.held_temperature, fine.fluid.temperature, is_held);
    coarse.held = Mask(coarse.grid.nx(), coarse.grid.ny());
    for (std::size_t k = 0; k < kept.size(); ++k) coarse.held[k] = kept[k] > 0.0 && coarse.solid[k] ? 1 : 0;
  }
  coarse.closure.mixing_length = coarse_cells(fine, coarse.grid, fine.closure.mixing_length, 0.0, in_air);
  coarse.closure.eddy_viscosity = coarse_cells(fine, coarse.grid, fine.closure.eddy_viscosity, 0.0, in_air);
  coarse.mass_source = coarse_cells(fine, coarse.grid, fine.mass_source, 0.0, everywhere);
  coarse.source_temperature =
      coarse_cells(fine, coarse.grid, fine.source_temperature, fine.fluid.temperature, everywhere);
  coarse.vents.clear();
  for (CellVent v : fine.vents) {
    v.i /= 2;
    v.j /= 2;
    if (!coarse.is_solid(v.i, v.j)) coarse.vents.push_back(v);
  }
  coarse.momentum_share = coarse_cells(fine, coarse.grid, fine.momentum_share, 1.0, in_air);
  coarse.wall_loss = coarse_cells(fine, coarse.grid, fine.wall_loss, 0.0, everywhere);
  for (int d = 0; d < 2; ++d) {
    const auto D = static_cast<std::size_t>(d);
    coarse.source_velocity[D] = coarse_cells(fine, coarse.grid, fine.source_velocity[D], 0.0, everywhere);
    coarse.force[D] = coarse_faces(fine.force[D], coarse.grid, d);
    coarse.drag_viscous[D] = coarse_faces(fine.drag_viscous[D], coarse.grid, d);
    coarse.drag_inertial[D] = coarse_faces(fine.drag_inertial[D], coarse.grid, d);
    coarse.barrier[D] = coarse_barrier(fine.barrier[D], coarse.grid, d);
  }
  return coarse;
}

}  // namespace tuft::field
