#include "solver/flow2d/residual.hpp"

#include <algorithm>
#include <cstddef>

namespace tuft::flow2d {
namespace {

/// Cell access in along/cross coordinates of component d.
struct View {
  const Problem& problem;
  const Array2& depth;
  int d;
  int i(int a, int c) const { return d == 0 ? a : c; }
  int j(int a, int c) const { return d == 0 ? c : a; }
  bool solid(int a, int c) const { return problem.is_solid(i(a, c), j(a, c)); }
  /// Thin wall on the face before cell (a, c), across the component or along it.
  bool shut_along(int a, int c) const { return problem.is_barrier(d, i(a, c), j(a, c)); }
  bool shut_across(int a, int c) const { return problem.is_barrier(1 - d, i(a, c), j(a, c)); }
  /// Whether a drag law holds at face (a, c), with all that its walls do to the air.
  bool dragged(int a, int c) const { return problem.is_porous(d, i(a, c), j(a, c)); }
  double h(int a, int c) const { return depth(i(a, c), j(a, c)); }
  const Axis& along() const { return problem.grid.axis(d); }
  const Axis& cross() const { return problem.grid.axis(1 - d); }
  double width_along(int a) const { return along().widths()[a]; }
  double width_cross(int c) const { return cross().widths()[c]; }
  Edge low(int c) const { return problem.edge(d == 0 ? Side::left : Side::bottom, c); }
  Edge high(int c) const { return problem.edge(d == 0 ? Side::right : Side::top, c); }
  Edge below(int a) const { return problem.edge(d == 0 ? Side::bottom : Side::left, a); }
  Edge above(int a) const { return problem.edge(d == 0 ? Side::top : Side::right, a); }
};

/// Depth at a face: linear between the two cell centres, or that of the one cell at a rim.
double face_depth(const View& view, int a, int c) {
  const int n = view.along().n();
  if (a == 0) return view.h(0, c);
  if (a == n) return view.h(n - 1, c);
  const double before = view.width_along(a - 1), after = view.width_along(a);
  return (view.h(a - 1, c) * after + view.h(a, c) * before) / (before + after);
}

void set_face(const View& view, int a, int c, ComponentMesh* mesh) {
  const int n = view.along().n(), i = view.i(a, c), j = view.j(a, c);
  const bool rim = a == 0 || a == n;
  const bool blocked =
      (a > 0 && view.solid(a - 1, c)) || (a < n && view.solid(a, c)) || view.shut_along(a, c);
  const EdgeKind kind = a == 0 ? view.low(c).kind : a == n ? view.high(c).kind : EdgeKind::outlet;
  const bool through = !blocked && (!rim || kind == EdgeKind::inflow || kind == EdgeKind::outlet);
  const double h = face_depth(view, a, c), full = view.width_cross(c) * h;
  const double half_before = a > 0 ? 0.5 * view.width_along(a - 1) : 0.0;
  const double half_after = a < n ? 0.5 * view.width_along(a) : 0.0;
  mesh->depth(i, j) = h;
  mesh->area(i, j) = through ? full : 0.0;
  mesh->volume(i, j) = full * (half_before + half_after);
  mesh->active(i, j) = through && (!rim || kind == EdgeKind::outlet) ? 1 : 0;
}

/// Shear of one half (the part inside cell (cell, c)) of the momentum volume at face (a, c) against what lies
/// beyond it across, at c + step.
void add_half_shear(const View& view, int a, int c, int cell, int step, ComponentMesh* mesh) {
  const int n_cross = view.cross().n(), beyond = c + step;
  const int i = view.i(a, c), j = view.j(a, c);
  const double half = 0.5 * view.width_along(cell);
  const double to_wall = half * view.h(cell, c) / (0.5 * view.width_cross(c));
  if (beyond < 0 || beyond >= n_cross) {
    const Edge edge = beyond < 0 ? view.below(cell) : view.above(cell);
    if (edge.kind != EdgeKind::wall && edge.kind != EdgeKind::inflow) return;
    mesh->wall(i, j) += to_wall;
    mesh->wall_speed(i, j) += to_wall * edge.tangential;
  } else if (view.solid(cell, beyond) || view.shut_across(cell, std::max(c, beyond))) {
    mesh->wall(i, j) += to_wall;
  } else if (step > 0 && !view.dragged(a, beyond)) {  // each open pair is entered once, from below
    const double distance = 0.5 * (view.width_cross(c) + view.width_cross(beyond));
    const double h = 0.5 * (view.h(cell, c) + view.h(cell, beyond));
    mesh->shear(view.i(a, beyond), view.j(a, beyond)) += half * h / distance;
  }
}

ComponentMesh component_mesh(const Problem& problem, const Array2& depth, int d) {
  const int nx = problem.grid.nx() + (d == 0), ny = problem.grid.ny() + (d == 1);
  ComponentMesh mesh{Mask(nx, ny),
                     Array2(nx, ny),
                     Array2(nx, ny),
                     Array2(nx, ny),
                     Array2(nx + (d == 1), ny + (d == 0)),
                     Array2(problem.grid.nx(), problem.grid.ny()),
                     Array2(nx, ny),
                     Array2(nx, ny)};
  const View view{problem, depth, d};
  const int n = view.along().n(), n_cross = view.cross().n();
  for (int c = 0; c < n_cross; ++c)
    for (int a = 0; a < n; ++a)
      if (!view.dragged(a, c) && !view.dragged(a + 1, c))
        mesh.stretch(view.i(a, c), view.j(a, c)) = view.h(a, c) * view.width_cross(c) / view.width_along(a);
  for (int c = 0; c < n_cross; ++c)
    for (int a = 0; a <= n; ++a) {
      set_face(view, a, c, &mesh);
      // The law of a porous block was stated on the whole block: shear on top of it would count the walls
      // between its channels once more, and the more so the smaller the cells (4 mu u/h^2). So would stress
      // along the flow: where air is let into the block's first cells, it is mu u/h.
      if (view.dragged(a, c)) continue;
      for (int cell = a - 1; cell <= a; ++cell) {
        if (cell < 0 || cell >= n || view.solid(cell, c)) continue;
        add_half_shear(view, a, c, cell, -1, &mesh);
        add_half_shear(view, a, c, cell, +1, &mesh);
      }
    }
  return mesh;
}

}  // namespace

Mesh::Mesh(const Problem& problem)
    : depth(problem.depth.empty() ? Array2(problem.grid.nx(), problem.grid.ny(), 1.0) : problem.depth),
      volume(problem.grid.nx(), problem.grid.ny()) {
  component[0] = component_mesh(problem, depth, 0);
  component[1] = component_mesh(problem, depth, 1);
  for (int j = 0; j < volume.ny(); ++j)
    for (int i = 0; i < volume.nx(); ++i)
      volume(i, j) = problem.grid.x.widths()[i] * problem.grid.y.widths()[j] * depth(i, j);
  for (std::size_t s = 0; s < 4; ++s) {
    const int n = s < 2 ? problem.grid.ny() : problem.grid.nx();
    for (int k = 0; k < n; ++k) edges[s].push_back(problem.edge(static_cast<Side>(s), k));
  }
}

}  // namespace tuft::flow2d
