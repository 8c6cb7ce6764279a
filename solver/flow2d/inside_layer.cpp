#include "solver/flow2d/layers.hpp"

#include <algorithm>

#include "solver/physics/air.hpp"

namespace tuft::flow2d {
namespace {

using geometry::Raster;

constexpr double kSutherland = 110.4;  // [K], that of physics::viscosity

class InsideLayer {
 public:
  InsideLayer(const geometry::Device& device, const Raster& raster, const network::Network& net,
              const LayerBoundaryData& given, int storey)
      : device_(device), raster_(raster), net_(net), given_(given), storey_(storey) {
    n_zones_ = static_cast<int>(device.zones.size());
  }

  Layer build() {
    const int nx = raster_.nx, ny = raster_.ny;
    Problem& p = layer_.problem;
    p.grid = Grid{uniform_axis(nx, 0.0, nx * raster_.dx), uniform_axis(ny, 0.0, ny * raster_.dy)};
    p.fluid = fluid_of(net_.graph.ambient);
    p.gravity = {net_.graph.ambient.gravity.x(), net_.graph.ambient.gravity.y()};
    p.layer_friction = true;
    p.momentum_factor = kProfileFactor;
    p.solid = Mask(nx, ny);
    p.depth = Array2(nx, ny, device_.size.z());
    p.heat_source = p.wall_loss = Array2(nx, ny);
    p.momentum_share = Array2(nx, ny, 1.0);
    layer_.height = Array2(nx, ny, 0.5 * device_.size.z());
    layer_.part = Array2T<int>(nx, ny, geometry::kNoPart);
    set_cells();
    set_barriers();
    for (std::size_t f = 0; f < raster_.fins.size(); ++f)
      if (storey_ == raster_.fins[f].storey) {
        set_drag(f);
        if (has_metal(f)) set_channels(f);
      }
    set_heat();
    return std::move(layer_);
  }

 private:
  void set_cells() {
    for (int j = 0; j < raster_.ny; ++j)
      for (int i = 0; i < raster_.nx; ++i) {
        const int part = raster_.part(storey_, i, j);
        layer_.part(i, j) = part;
        layer_.problem.solid(i, j) = part == geometry::kNoPart ? 1 : 0;
        if (part == geometry::kNoPart) continue;
        if (part < n_zones_) {
          const geometry::Zone& zone = device_.zones[part];
          layer_.problem.depth(i, j) = zone.size.z();
          layer_.height(i, j) = zone.centre.z();
        } else {
          const geometry::FinStack& fins = device_.fin_stacks[part - n_zones_];
          layer_.problem.depth(i, j) = *fins.height;
          layer_.height(i, j) = fins.centre.z();
          layer_.problem.momentum_share(i, j) = 0.0;
        }
      }
  }

  /// Walls between parts, and along the channels of a fin stack. Its first and last row of cells are open
  /// across: the air spreads before the fins, and behind them to where the vents are.
  void set_barriers() {
    layer_.problem.barrier = {Mask(raster_.nx + 1, raster_.ny), Mask(raster_.nx, raster_.ny + 1)};
    for (int j = 0; j < raster_.ny; ++j)
      for (int i = 0; i < raster_.nx; ++i) {
        if (i > 0) layer_.problem.barrier[0](i, j) = shut(0, layer_.part(i - 1, j), layer_.part(i, j), j);
        if (j > 0) layer_.problem.barrier[1](i, j) = shut(1, layer_.part(i, j - 1), layer_.part(i, j), i);
      }
  }

  /// Whether there is a wall between parts a and b; `row` is the cell's index along the wall.
  unsigned char shut(int across, int a, int b, int row) const {
    if (a != b) return 1;
    if (a < n_zones_) return 0;
    const geometry::FinBlock& block = raster_.fins[a - n_zones_];
    if (block.along == across) return 0;
    const int first = block.along == 0 ? block.i0 : block.j0;
    const int last = (block.along == 0 ? block.i1 : block.j1) - 1;
    return row == first || row == last ? 0 : 1;
  }

  /// Spreads a stack's law over the faces between its first and last row of cells, on the velocity that the
  /// block's own section makes of the flow (F21). It holds all friction in the channels. Across, in those two
  /// rows, the air spreads in a space as deep as the fins are high (judgement): the thinner the cells, the
  /// faster it moves there, and the smaller is its drag.
  void set_drag(std::size_t f) {
    Problem& p = layer_.problem;
    for (std::size_t d = 0; d < 2; ++d) {
      if (!p.drag_viscous[d].empty()) continue;
      p.drag_viscous[d] = p.drag_inertial[d] =
          Array2(raster_.nx + (d == 0 ? 1 : 0), raster_.ny + (d == 1 ? 1 : 0));
    }
    const geometry::FinBlock& block = raster_.fins[f];
    const bool x = block.along == 0;
    const int rows = x ? block.i1 - block.i0 : block.j1 - block.j0;
    const double length = (rows - 1) * (x ? raster_.dx : raster_.dy);
    const double breadth = x ? (block.j1 - block.j0) * raster_.dy : (block.i1 - block.i0) * raster_.dx;
    const network::Opening& opening = net_.graph.openings[net_.layout.fin_opening[f]];
    const double height = *device_.fin_stacks[f].height;
    const double ratio = breadth * height / opening.area;
    for (int j = block.j0; j < block.j1; ++j)
      for (int i = block.i0; i < block.i1; ++i) {
        const int row = x ? i - block.i0 : j - block.j0, along_row = x ? j - block.j0 : i - block.i0;
        if (along_row > 0 && (row == 0 || row == rows - 1))
          p.drag_viscous[1 - block.along](i, j) =
              12.0 / (height * height) * ((x ? raster_.dx : raster_.dy) / height);
        if (row == 0) continue;  // faces inside the block
        p.drag_viscous[block.along](i, j) = opening.law.viscous * ratio / length;
        p.drag_inertial[block.along](i, j) = opening.law.inertial * ratio * ratio / length;
      }
  }

  // --- heat ---

  bool has_metal(std::size_t f) const {
    return !given_.fin_metals.empty() && given_.fin_metals[f].temperature > 0.0;
  }

  /// As network::add_heat_paths states the stack.
  void set_channels(std::size_t f) {
    const geometry::FinStack& fins = device_.fin_stacks[f];
    const geometry::FinBlock& block = raster_.fins[f];
    HeatedChannels channels;
    channels.fins.channels = {*fins.count, *fins.gap, *fins.height, *fins.length};
    channels.fins.fin_thickness = *fins.fin_thickness;
    channels.fins.fin_conductivity = *fins.conductivity;
    channels.metal = given_.fin_metals[f].temperature;
    channels.along = block.along;
    channels.i0 = block.i0;
    channels.i1 = block.i1;
    channels.j0 = block.j0;
    channels.j1 = block.j1;
    layer_.problem.channels.push_back(channels);
    layer_.stack_of_channels.push_back(static_cast<int>(f));
  }

  void set_heat() {
    const int n_parts = n_zones_ + static_cast<int>(device_.fin_stacks.size());
    std::vector<double> floor(static_cast<std::size_t>(n_parts), 0.0);
    const double cell = raster_.dx * raster_.dy;
    for (const int part : layer_.part.values())
      if (part != geometry::kNoPart) floor[part] += cell;
    Problem& p = layer_.problem;
    for (std::size_t k = 0; k < layer_.part.size(); ++k) {
      const int part = layer_.part[k];
      if (part == geometry::kNoPart) continue;
      const double area = floor[part];
      p.heat_source[k] = power_of(part) / (area * p.depth[k]);
      p.wall_loss[k] = wall_conductance(part) / area;
    }
    for (const HeatSpot& spot : given_.spots)
      if (raster_.zone_storey[spot.zone] == storey_) add_spot(spot);
  }

  double power_of(int part) const {
    const std::vector<double>& list = part < n_zones_ ? given_.zones : given_.fin_stacks;
    const auto index = static_cast<std::size_t>(part < n_zones_ ? part : part - n_zones_);
    if (list.empty()) return 0.0;
    return list[index] - (part >= n_zones_ && has_metal(index) ? given_.fin_metals[index].heat : 0.0);
  }

  double wall_conductance(int part) const {
    if (part < n_zones_) {
      const int node = net_.layout.zone_node[part];
      return net_.graph.nodes[node].wall_conductance;
    }
    const auto f = static_cast<std::size_t>(part - n_zones_);
    if (device_.fin_stacks[f].exit_zone >= 0) return 0.0;  // the exit zone's own walls are all there is
    const int node = net_.layout.fin_node[f];
    return net_.graph.nodes[node].wall_conductance;
  }

  /// By overlap with the zone's cells; a spot beside its zone warms the whole floor.
  void add_spot(const HeatSpot& spot) {
    const int nx = raster_.nx, ny = raster_.ny;
    Array2 share(nx, ny);
    double sum = 0.0;
    const auto span = [](double centre, double length, double low, double high) {
      return std::max(0.0, std::min(centre + 0.5 * length, high) - std::max(centre - 0.5 * length, low));
    };
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        if (layer_.part(i, j) != spot.zone) continue;
        share(i, j) = span(spot.centre.x(), spot.width, i * raster_.dx, (i + 1) * raster_.dx) *
                      span(spot.centre.y(), spot.height, j * raster_.dy, (j + 1) * raster_.dy);
        sum += share(i, j);
      }
    if (!(sum > 0.0))
      for (std::size_t k = 0; k < share.size(); ++k)
        if (layer_.part[k] == spot.zone) sum += share[k] = 1.0;
    for (std::size_t k = 0; k < share.size(); ++k)
      layer_.problem.heat_source[k] +=
          spot.power * share[k] / (sum * raster_.dx * raster_.dy * layer_.problem.depth[k]);
  }

  const geometry::Device& device_;
  const Raster& raster_;
  const network::Network& net_;
  const LayerBoundaryData& given_;
  int storey_, n_zones_ = 0;
  Layer layer_;
};

}  // namespace

Fluid fluid_of(const network::Ambient& ambient) {
  Fluid fluid;
  fluid.law = DensityLaw::ideal_gas;
  fluid.temperature = ambient.temperature;
  fluid.density = physics::density(ambient.state, ambient.temperature);
  fluid.expansion = 1.0 / ambient.temperature;
  fluid.viscosity = physics::viscosity(ambient.temperature);
  fluid.conductivity = physics::conductivity(ambient.temperature);
  fluid.specific_heat = physics::specific_heat(ambient.temperature);
  fluid.sutherland = kSutherland;
  return fluid;
}

Layer inside_layer(const geometry::Device& device, const geometry::Raster& raster,
                   const network::Network& net, const LayerBoundaryData& given, int storey) {
  return InsideLayer(device, raster, net, given, storey).build();
}

}  // namespace tuft::flow2d
