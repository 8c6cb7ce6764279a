#include "solver/flow2d/track_flow.hpp"

namespace tuft::flow2d {
namespace {

FlowGrid grid_of(const SectionResult& r) {
  FlowGrid grid = empty_grid(r.x, r.y);
  const int nx = grid.nx(), ny = grid.ny();
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      if (is_air(r.part(i, j))) grid.mass(i, j) = r.density(i, j) * side(grid.x, i) * side(grid.y, j);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i <= nx; ++i) {
      const double u = r.u_face(i, j);
      const double density =
          i == 0    ? (u > 0.0 ? r.ambient_density : r.density(0, j))
          : i == nx ? (u < 0.0 ? r.ambient_density : r.density(nx - 1, j))
                    : at_face(r.density(i - 1, j), r.density(i, j), side(grid.x, i - 1), side(grid.x, i));
      grid.u(i, j) = u * density * side(grid.y, j);
    }
  for (int j = 0; j <= ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const double v = r.v_face(i, j);
      const double density =
          j == 0    ? (v > 0.0 ? r.ambient_density : r.density(i, 0))
          : j == ny ? (v < 0.0 ? r.ambient_density : r.density(i, ny - 1))
                    : at_face(r.density(i, j - 1), r.density(i, j), side(grid.y, j - 1), side(grid.y, j));
      grid.v(i, j) = v * density * side(grid.x, i);
    }
  return grid;
}

void add_vents(const SectionResult& r, TrackOrigin origin, TrackFlow& flow) {
  FlowGrid& grid = flow.grids[0];
  for (std::size_t v = 0; v < r.vents.size(); ++v) {
    TrackSource source;
    source.name = static_cast<int>(v);
    const int gate = static_cast<int>(flow.gates.size());
    flow.gates.push_back({{}, source.name});
    for (int j = 0; j < grid.ny(); ++j)
      for (int i = 0; i < grid.nx(); ++i) {
        if (r.part(i, j) != static_cast<int>(Part::vent_cell) || r.vent(i, j) != source.name) continue;
        const double out = grid.u(i + 1, j) - grid.u(i, j) + grid.v(i, j + 1) - grid.v(i, j);
        if (out > 0.0) {
          source.to.push_back({0, i, j, out, CellExit::none});
          source.flow += out;
        } else if (out < 0.0) {
          grid.leaks(i, j).push_back({-out, gate});
        }
      }
    if (origin == TrackOrigin::vents && source.flow > 0.0) flow.sources.push_back(std::move(source));
  }
}

void add_rim(TrackFlow& flow) {
  const FlowGrid& grid = flow.grids[0];
  const int nx = grid.nx(), ny = grid.ny();
  TrackSource source;
  const auto add = [&source](int i, int j, double inward, CellExit face) {
    if (!(inward > 0.0)) return;
    source.to.push_back({0, i, j, inward, face});
    source.flow += inward;
  };
  for (int j = 0; j < ny; ++j) add(0, j, grid.u(0, j), CellExit::left);
  for (int j = 0; j < ny; ++j) add(nx - 1, j, -grid.u(nx, j), CellExit::right);
  for (int i = 0; i < nx; ++i) add(i, 0, grid.v(i, 0), CellExit::bottom);
  for (int i = 0; i < nx; ++i) add(i, ny - 1, -grid.v(i, ny), CellExit::top);
  if (source.flow > 0.0) flow.sources.push_back(std::move(source));
}

}  // namespace

TrackFlow track_flow(const SectionResult& section, TrackOrigin origin) {
  TrackFlow flow;
  flow.grids.push_back(grid_of(section));
  add_vents(section, origin, flow);
  if (origin == TrackOrigin::room) add_rim(flow);
  return flow;
}

}  // namespace tuft::flow2d
