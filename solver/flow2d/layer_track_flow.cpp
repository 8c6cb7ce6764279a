#include "solver/flow2d/track_flow.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/device/raster.hpp"

namespace tuft::flow2d {
namespace {

using geometry::CellShares;
using geometry::PlaceKind;

FlowGrid grid_of(const LayerFields& layer) {
  FlowGrid grid = empty_grid(layer.x, layer.y);
  const int nx = grid.nx(), ny = grid.ny();
  const auto thick = [&](const Array2& of, int i, int j, int before_i, int before_j, double width,
                         double before) { return at_face(of(before_i, before_j), of(i, j), before, width); };
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const double dx = side(grid.x, i), dy = side(grid.y, j);
      grid.mass(i, j) = layer.solid(i, j) != 0 ? 0.0 : layer.density(i, j) * layer.depth(i, j) * dx * dy;
      if (i > 0) {
        const double before = side(grid.x, i - 1);
        grid.u(i, j) = layer.u_face(i, j) * dy * thick(layer.depth, i, j, i - 1, j, dx, before) *
                       thick(layer.density, i, j, i - 1, j, dx, before);
      }
      if (j > 0) {
        const double before = side(grid.y, j - 1);
        grid.v(i, j) = layer.v_face(i, j) * dx * thick(layer.depth, i, j, i, j - 1, dy, before) *
                       thick(layer.density, i, j, i, j - 1, dy, before);
      }
    }
  return grid;
}

std::vector<Landing> landings(const CellShares& shares) {
  std::vector<Landing> to;
  for (const geometry::CellShare& share : shares)
    to.push_back({share.storey, share.i, share.j, share.share, CellExit::none});
  return to;
}

/// The side of a cell that looks to a vent's face, of those in the edge of the chassis.
CellExit side_towards(geometry::Face face) {
  const geometry::Vec3 out = geometry::face_normal(face);
  if (std::abs(out.x()) > 0.5) return out.x() > 0.0 ? CellExit::right : CellExit::left;
  if (std::abs(out.y()) > 0.5) return out.y() > 0.0 ? CellExit::top : CellExit::bottom;
  return CellExit::none;
}

class TrackBuilder {
 public:
  TrackBuilder(const geometry::Device& device, const PlanResult& plan, double cell)
      : device_(device), plan_(plan), raster_(geometry::rasterise(device, cell)) {}

  TrackFlow build() {
    for (std::size_t l = 0; l < raster_.storeys.size(); ++l) flow_.grids.push_back(grid_of(plan_.layers[l]));
    add_vents();
    add_fans();
    add_passages();
    add_fin_exits();
    return std::move(flow_);
  }

 private:
  int add_gate(std::vector<Landing> to, int name) {
    flow_.gates.push_back({std::move(to), name});
    return static_cast<int>(flow_.gates.size()) - 1;
  }

  void add_leak(int grid, int i, int j, double flow, int gate) {
    if (!(flow > 0.0)) return;
    flow_.grids[grid].leaks(i, j).push_back({flow, gate});
  }

  void add_leaks(const CellShares& shares, double flow, int gate) {
    for (const geometry::CellShare& share : shares)
      add_leak(share.storey, share.i, share.j, flow * share.share, gate);
  }

  // --- vents ---

  void add_vents() {
    for (std::size_t v = 0; v < plan_.vents.size(); ++v) {
      const int vent = static_cast<int>(v), gate = add_gate({}, vent);
      TrackSource source;
      source.name = vent;
      for (const CellFlux& cell : plan_.vents[v].cells) {
        if (cell.layer >= static_cast<int>(flow_.grids.size())) continue;  // its fan's own
        add_cell(cell, side_towards(device_.vents[v].face), gate, source.to);
      }
      for (const Landing& landing : source.to) source.flow += landing.share;
      if (source.flow > 0.0) flow_.sources.push_back(std::move(source));
    }
  }

  /// The net flow of a cell of a vent in the edge goes through its face; whatever else there is, over the
  /// depth.
  void add_cell(const CellFlux& cell, CellExit side, int gate, std::vector<Landing>& to) {
    double inflow = cell.inflow, outflow = cell.outflow;
    if (open_face(cell, side, inflow - outflow, gate)) {
      const double both_ways = std::min(inflow, outflow);
      if (inflow > both_ways) to.push_back({cell.layer, cell.i, cell.j, inflow - both_ways, side});
      inflow = outflow = both_ways;
    }
    if (inflow > 0.0) to.push_back({cell.layer, cell.i, cell.j, inflow, CellExit::none});
    add_leak(cell.layer, cell.i, cell.j, outflow, gate);
  }

  /// Puts a vent's flow on the wall it is in; false where the cell does not lie at one: behind a thin wall
  /// there may be air of another part, which this flow is nothing to.
  bool open_face(const CellFlux& cell, CellExit side, double inward, int gate) {
    FlowGrid& g = flow_.grids[cell.layer];
    const bool high = side == CellExit::right || side == CellExit::top;
    if (side == CellExit::none) return false;
    const bool across = side == CellExit::left || side == CellExit::right;
    const int i = cell.i + (across && high ? 1 : 0), j = cell.j + (!across && high ? 1 : 0);
    double& flow = across ? g.u(i, j) : g.v(i, j);
    int& door = across ? g.gate_u(i, j) : g.gate_v(i, j);
    if (flow != 0.0 || door >= 0 ||
        has_air(cell.layer, cell.i + step(across, high), cell.j + step(!across, high)))
      return false;
    flow = high ? -inward : inward;
    door = gate;
    return true;
  }

  static int step(bool along, bool high) { return !along ? 0 : high ? 1 : -1; }

  bool has_air(int layer, int i, int j) const {
    const Mask& solid = plan_.layers[layer].solid;
    return i >= 0 && i < solid.nx() && j >= 0 && j < solid.ny() && solid(i, j) == 0;
  }

  // --- what joins cells ---

  /// Air that goes from cells to cells; a side without cells is the outside, through the vent named.
  void add_stream(const CellShares& from, const CellShares& to, double flow, int vent) {
    if (flow < 0.0) return add_stream(to, from, -flow, vent);
    if (from.empty() && !to.empty() && flow > 0.0) flow_.sources.push_back({flow, vent, landings(to)});
    if (!from.empty()) add_leaks(from, flow, add_gate(landings(to), vent));
  }

  void add_fans() {
    for (std::size_t f = 0; f < plan_.fans.size(); ++f) {
      const geometry::Fan& fan = device_.fans[f];
      int vent = -1;
      for (const geometry::Place& place : {fan.draws_from, fan.blows_into})
        if (place.kind == PlaceKind::vent) vent = place.index;
      add_stream(raster_.fan_inlets[f], raster_.fan_outlets[f], plan_.fans[f].flow, vent);
    }
  }

  void add_passages() {
    for (const LinkFlow& link : plan_.passages)
      for (std::size_t p = 0; p < device_.passages.size(); ++p)
        if (device_.passages[p].name == link.name)
          add_stream(raster_.passages[p].a, raster_.passages[p].b, link.flow, -1);
  }

  /// What a stack's last row takes in and does not pass on.
  void add_fin_exits() {
    for (std::size_t f = 0; f < raster_.fins.size(); ++f) {
      if (raster_.fin_outlets[f].empty()) continue;
      double left = 0.0;
      for (const geometry::CellShare& share : raster_.fins[f].exit) {
        const FlowGrid& g = flow_.grids[share.storey];
        left += g.u(share.i, share.j) - g.u(share.i + 1, share.j) + g.v(share.i, share.j) -
                g.v(share.i, share.j + 1);
      }
      add_stream(raster_.fins[f].exit, raster_.fin_outlets[f], left, -1);
    }
  }

  const geometry::Device& device_;
  const PlanResult& plan_;
  geometry::Raster raster_;
  TrackFlow flow_;
};

}  // namespace

TrackFlow track_flow(const geometry::Device& device, const PlanResult& plan, double cell) {
  return TrackBuilder(device, plan, cell).build();
}

}  // namespace tuft::flow2d
