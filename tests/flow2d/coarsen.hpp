// A start for a problem that stands alone: the same problem on grids of half the cells each way.
#pragma once

#include <algorithm>
#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

#include "solver/flow2d/driver.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::flow2d::test {

inline Axis half_as_many(const Axis& axis) {
  std::vector<double> faces;
  for (int i = 0; i < axis.n(); i += 2) faces.push_back(axis.faces()[static_cast<std::size_t>(i)]);
  faces.push_back(axis.faces().back());
  return Axis(std::move(faces));
}

/// Fields of one problem on the coarse grid; an array that is empty stays so.
class Coarsening {
 public:
  Coarsening(const Problem& fine, const Grid& coarse) : fine_(fine), coarse_(coarse) {}

  /// Mean by area over the fine cells of each coarse cell that `use` accepts; `fallback` where it accepts
  /// none.
  template <class Use>
  Array2 cells(const Array2& values, double fallback, const Use& use) const {
    if (values.empty()) return {};
    Array2 out(coarse_.nx(), coarse_.ny());
    for (int J = 0; J < coarse_.ny(); ++J)
      for (int I = 0; I < coarse_.nx(); ++I) out(I, J) = cell_mean(values, I, J, fallback, use);
    return out;
  }

  /// 1 where more than `share` of the coarse cell is marked.
  Mask marked(const Mask& mask, double share) const {
    if (mask.empty()) return {};
    Array2 part(mask.nx(), mask.ny());
    for (std::size_t k = 0; k < part.size(); ++k) part[k] = mask[k] ? 1.0 : 0.0;
    Mask out(coarse_.nx(), coarse_.ny());
    for (int J = 0; J < coarse_.ny(); ++J)
      for (int I = 0; I < coarse_.nx(); ++I)
        out(I, J) = cell_mean(part, I, J, 0.0, [](int, int) { return true; }) > share ? 1 : 0;
    return out;
  }

  /// Mean over the fine faces that lie on each coarse face of component d.
  Array2 faces(const Array2& values, int d) const {
    if (values.empty()) return {};
    Array2 out(coarse_.nx() + (d == 0), coarse_.ny() + (d == 1));
    for_pairs(out, values, d, [](double a, double b) { return 0.5 * (a + b); });
    return out;
  }

  /// A thin wall on a coarse face: where both fine faces on it have one. Walls inside a coarse cell are lost.
  Mask barrier(const Mask& walls, int d) const {
    if (walls.empty()) return {};
    Mask out(coarse_.nx() + (d == 0), coarse_.ny() + (d == 1));
    for_pairs(out, walls, d, [](unsigned char a, unsigned char b) { return a && b ? 1 : 0; });
    return out;
  }

 private:
  template <class Use>
  double cell_mean(const Array2& values, int I, int J, double fallback, const Use& use) const {
    const auto &wx = fine_.grid.x.widths(), &wy = fine_.grid.y.widths();
    double sum = 0.0, weight = 0.0;
    for (int j = 2 * J; j < std::min(2 * J + 2, fine_.grid.ny()); ++j)
      for (int i = 2 * I; i < std::min(2 * I + 2, fine_.grid.nx()); ++i) {
        if (!use(i, j)) continue;
        const double w = wx[static_cast<std::size_t>(i)] * wy[static_cast<std::size_t>(j)];
        sum += w * values(i, j);
        weight += w;
      }
    return weight > 0.0 ? sum / weight : fallback;
  }

  template <class T, class Join>
  static void for_pairs(Array2T<T>& out, const Array2T<T>& values, int d, const Join& join) {
    for (int J = 0; J < out.ny(); ++J)
      for (int I = 0; I < out.nx(); ++I) {
        const int i0 = std::min(2 * I, values.nx() - 1), j0 = std::min(2 * J, values.ny() - 1);
        const int i1 = d == 0 ? i0 : std::min(i0 + 1, values.nx() - 1);
        const int j1 = d == 1 ? j0 : std::min(j0 + 1, values.ny() - 1);
        out(I, J) = static_cast<T>(join(values(i0, j0), values(i1, j1)));
      }
  }

  const Problem& fine_;
  const Grid& coarse_;
};

/// Two edges made one. A pair of different kinds takes the first; numbers are averaged by length, so that the
/// flow through a pair of inflow edges is kept.
inline Edge merged(const Edge& a, const Edge& b, double la, double lb) {
  if (a.kind != b.kind || a.heat != b.heat) return a;
  const double wa = la / (la + lb), wb = lb / (la + lb);
  Edge e = a;
  for (const auto member : {&Edge::normal, &Edge::tangential, &Edge::pressure, &Edge::inertial_in,
                            &Edge::temperature, &Edge::flux})
    e.*member = wa * a.*member + wb * b.*member;
  return e;
}

inline std::vector<Edge> merged(const std::vector<Edge>& fine, const Axis& axis) {
  std::vector<Edge> out;
  for (std::size_t k = 0; k < fine.size(); k += 2) {
    const bool pair = k + 1 < fine.size();
    out.push_back(pair ? merged(fine[k], fine[k + 1], axis.widths()[k], axis.widths()[k + 1]) : fine[k]);
  }
  return out;
}

/// The same problem on a grid of half the cells each way: means over the cells and faces that become one. A
/// start for the finer grid, no answer: a passage narrower than two cells may close, a thin wall inside a
/// coarse cell is lost.
inline Problem coarsened(const Problem& fine) {
  Problem coarse = fine;
  coarse.grid = Grid{half_as_many(fine.grid.x), half_as_many(fine.grid.y)};
  const Coarsening to(fine, coarse.grid);
  for (std::size_t s = 0; s < 4; ++s)
    coarse.edges[s] = merged(fine.edges[s], s < 2 ? fine.grid.y : fine.grid.x);
  const auto everywhere = [](int, int) { return true; };
  const auto in_air = [&](int i, int j) { return !fine.is_solid(i, j); };
  const auto in_solid = [&](int i, int j) { return fine.is_solid(i, j); };
  const auto where_held = [&](int i, int j) { return fine.is_held(i, j); };
  coarse.solid = to.marked(fine.solid, 0.5);
  coarse.depth = to.cells(fine.depth, 0.0, in_air);
  const Array2 depth = to.cells(fine.depth, 1.0, everywhere);  // of cells without air
  for (std::size_t k = 0; k < depth.size(); ++k)
    if (coarse.depth[k] == 0.0) coarse.depth[k] = depth[k];
  coarse.solid_conductivity = to.cells(fine.solid_conductivity, 0.0, in_solid);
  coarse.held = to.marked(fine.held, 0.0);
  for (std::size_t k = 0; k < coarse.held.size(); ++k)
    if (!coarse.solid[k]) coarse.held[k] = 0;
  coarse.held_temperature = to.cells(fine.held_temperature, fine.fluid.temperature, where_held);
  coarse.heat_source = to.cells(fine.heat_source, 0.0, everywhere);
  coarse.mass_source = to.cells(fine.mass_source, 0.0, everywhere);
  coarse.source_temperature = to.cells(fine.source_temperature, fine.fluid.temperature, everywhere);
  coarse.momentum_share = to.cells(fine.momentum_share, 1.0, in_air);
  coarse.wall_loss = to.cells(fine.wall_loss, 0.0, everywhere);
  coarse.closure.mixing_length = to.cells(fine.closure.mixing_length, 0.0, in_air);
  for (HeatedChannels& c : coarse.channels) {
    c.i0 /= 2;
    c.j0 /= 2;
    c.i1 = (c.i1 + 1) / 2;
    c.j1 = (c.j1 + 1) / 2;
  }
  for (int d = 0; d < 2; ++d) {
    const auto D = static_cast<std::size_t>(d);
    coarse.source_velocity[D] = to.cells(fine.source_velocity[D], 0.0, everywhere);
    coarse.force[D] = to.faces(fine.force[D], d);
    coarse.drag_viscous[D] = to.faces(fine.drag_viscous[D], d);
    coarse.drag_inertial[D] = to.faces(fine.drag_inertial[D], d);
    coarse.barrier[D] = to.barrier(fine.barrier[D], d);
  }
  return coarse;
}

/// Bodies of air that nothing opens: their number changes where a passage closes or a thin wall is lost.
inline std::size_t closed_bodies(const Problem& problem) {
  return Unknowns(problem, Mesh(problem)).level_cells().size();
}

/// Coarser grids of a problem, the finest first, as long as they have at least `fewest` cells along each side
/// and as many closed bodies of air.
inline std::vector<std::unique_ptr<Problem>> coarser_grids(const Problem& asked, int fewest = 12) {
  std::vector<std::unique_ptr<Problem>> out;
  for (const Problem* fine = &asked; std::min(fine->grid.nx(), fine->grid.ny()) >= 2 * fewest;
       fine = out.back().get()) {
    auto coarse = std::make_unique<Problem>(coarsened(*fine));
    if (closed_bodies(*coarse) != closed_bodies(asked)) break;
    out.push_back(std::move(coarse));
  }
  return out;
}

}  // namespace tuft::flow2d::test
