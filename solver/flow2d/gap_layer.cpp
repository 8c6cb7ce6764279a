
#include <algorithm>

#include "solver/flow2d/layers.hpp"
#include "solver/physics/face_law.hpp"

namespace tuft::flow2d {
namespace {

using geometry::Face;
using geometry::Vec3;

constexpr double kShut = 1e-5;  // a gap below this passes nothing worth counting [m], as in the network

double overlap(double a0, double a1, double b0, double b1) {
  return std::max(0.0, std::min(a1, b1) - std::max(a0, b0));
}

/// The rim: air that enters pays the entry into a mouth and is sped up; air that leaves loses its own head
/// (F20).
Edge gap_rim(double temperature, double pressure) {
  Edge edge;
  edge.kind = EdgeKind::outlet;
  edge.pressure = pressure;
  edge.temperature = temperature;
  edge.inertial_in = 0.5 * (physics::exit_loss + physics::flush_entry_loss);
  return edge;
}

}  // namespace

std::vector<GapPlace> gap_places(const geometry::Case& content, const geometry::Condition& condition) {
  std::vector<GapPlace> places;
  const auto [resting, lid] = network::surroundings_of(content, condition);
  if (resting && (resting->face == Face::base || resting->face == Face::top)) places.push_back({*resting});
  if (lid && !(resting && resting->face == lid->face)) places.push_back({*lid});
  return places;
}

std::optional<Layer> gap_layer(const geometry::Device& device, const geometry::Raster& raster,
                               const network::Network& net, const network::OutsidePressure& room_air,
                               const GapPlace& place) {
  const int nx = raster.nx, ny = raster.ny;
  const bool base = place.surface.face == Face::base;
  const double z = base ? 0.0 : device.size.z();
  Layer layer;
  layer.kind = LayerKind::gap;
  layer.face = place.surface.face;
  layer.height = Array2(nx, ny, z);
  layer.part = Array2T<int>(nx, ny, geometry::kNoPart);
  Problem& p = layer.problem;
  p.grid = Grid{uniform_axis(nx, 0.0, nx * raster.dx), uniform_axis(ny, 0.0, ny * raster.dy)};
  p.fluid = fluid_of(net.graph.ambient);
  p.gravity = {net.graph.ambient.gravity.x(), net.graph.ambient.gravity.y()};
  p.layer_friction = true;
  p.momentum_factor = kProfileFactor;
  p.solid = Mask(nx, ny, 1);
  p.depth = Array2(nx, ny, kShut);
  bool any = false;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const double gap = place.surface.gap_at(Vec3(raster.x(i), raster.y(j), z));
      layer.height(i, j) = z + (base ? -0.5 : 0.5) * gap;
      if (gap < kShut) continue;
      p.solid(i, j) = 0;
      p.depth(i, j) = gap;
      layer.part(i, j) = 0;
      any = true;
    }
  if (!any) return std::nullopt;
  const auto open_side = [&](Side side, const Vec3& outward) {
    p.set_side(side, gap_rim(p.fluid.temperature, room_air.at_mouth(outward)));
  };
  open_side(Side::left, -Vec3::UnitX());
  open_side(Side::right, Vec3::UnitX());
  open_side(Side::bottom, -Vec3::UnitY());
  open_side(Side::top, Vec3::UnitY());
  return layer;
}

Array2 fabric_area(const geometry::Device& device, const geometry::Raster& raster,
                   const network::Network& net, const network::Surface& surface) {
  Array2 area(raster.nx, raster.ny);
  for (std::size_t v = 0; v < device.vents.size(); ++v) {
    const geometry::Vent& vent = device.vents[v];
    const network::VentSurroundings& front = net.layout.front[v];
    if (vent.face != surface.face || !front.near_surface) continue;
    const Eigen::Vector2d size = geometry::extents_on_face(vent);
    const double x0 = vent.centre.x() - 0.5 * size.x(), x1 = x0 + size.x();
    const double y0 = vent.centre.y() - 0.5 * size.y(), y1 = y0 + size.y(), t = surface.thickness;
    for (int j = 0; j < raster.ny; ++j)
      for (int i = 0; i < raster.nx; ++i) {
        const double cx = i * raster.dx, cy = j * raster.dy;
        const auto shared = [&](double more) {
          return overlap(x0 - more, x1 + more, cx, cx + raster.dx) *
                 overlap(y0 - more, y1 + more, cy, cy + raster.dy);
        };
        area(i, j) += shared(t) - front.covered * shared(0.0);
      }
  }
  for (std::size_t k = 0; k < area.size(); ++k) area[k] = std::min(area[k], raster.dx * raster.dy);
  return area;
}

}  // namespace tuft::flow2d
