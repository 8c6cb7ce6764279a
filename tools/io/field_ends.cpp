// What streamlines of a layer begin and end at.
#include <cmath>

#include "geometry/device/raster.hpp"
#include "tools/io/field_lines.hpp"

namespace tuft::output {
namespace {

using geometry::CellShares;

/// Collects the ends of one layer.
class Ends {
 public:
  Ends(const plan::PlanResult& plan, int layer) : plan_(plan), layer_(layer) {
    const plan::LayerFields& fields = plan.layers[static_cast<std::size_t>(layer)];
    nx_ = fields.solid.nx();
    cells_.resize(fields.solid.size());
  }

  void add(int layer, int i, int j, LineEnd kind, int vent, double gives) {
    if (layer != layer_ || gives == 0.0) return;
    cells_[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(i)]
        .push_back({kind, vent, gives});
  }

  void add_spread(const CellShares& shares, LineEnd kind, double gives) {
    for (const geometry::CellShare& share : shares)
      add(share.storey, share.i, share.j, kind, -1, gives * share.share);
  }

  std::vector<std::vector<CellEnd>> take() { return std::move(cells_); }

 private:
  const plan::PlanResult& plan_;
  int layer_, nx_ = 0;
  std::vector<std::vector<CellEnd>> cells_;
};

// The gap layer at a face, if there is one.
int gap_layer_at(const plan::PlanResult& plan, geometry::Face face) {
  const std::string name = std::string("gap-") + geometry::face_word(face);
  for (std::size_t l = 0; l < plan.layers.size(); ++l)
    if (plan.layers[l].name == name) return static_cast<int>(l);
  return -1;
}

void add_vents(const geometry::Device& device, const plan::PlanResult& plan, Ends& ends) {
  for (std::size_t v = 0; v < plan.vents.size(); ++v) {
    const int gap = gap_layer_at(plan, device.vents[v].face);
    for (const plan::CellFlux& cell : plan.vents[v].cells) {
      const double net = cell.inflow - cell.outflow;
      const int vent = static_cast<int>(v);
      // A vent with a fan right behind it is known by its cells in the gap before it.
      if (cell.layer == gap) {
        ends.add(gap, cell.i, cell.j, LineEnd::vent, vent, -net);
        continue;
      }
      ends.add(cell.layer, cell.i, cell.j, LineEnd::vent, vent, net);
      if (gap >= 0 && plan.layers[static_cast<std::size_t>(gap)].solid(cell.i, cell.j) == 0)
        ends.add(gap, cell.i, cell.j, LineEnd::vent, vent, -net);
    }
  }
}

}  // namespace

const char* line_end_word(LineEnd end) {
  switch (end) {
    case LineEnd::vent:
      return "vent";
    case LineEnd::fan:
      return "fan";
    case LineEnd::passage:
      return "passage";
    case LineEnd::rim:
      return "rim";
    case LineEnd::still_air:
      return "still-air";
    case LineEnd::wall:
      break;
  }
  return "wall";
}

std::vector<std::vector<CellEnd>> ends_of_layer(const geometry::Device& device, const plan::PlanResult& plan,
                                                int layer, double cell) {
  Ends ends(plan, layer);
  add_vents(device, plan, ends);
  const geometry::Raster raster = geometry::rasterise(device, cell);
  for (std::size_t f = 0; f < plan.fans.size(); ++f) {
    ends.add_spread(raster.fan_inlets[f], LineEnd::fan, -plan.fans[f].flow);
    ends.add_spread(raster.fan_outlets[f], LineEnd::fan, plan.fans[f].flow);
  }
  for (const plan::LinkFlow& flow : plan.passages)
    for (std::size_t p = 0; p < device.passages.size(); ++p) {
      if (device.passages[p].name != flow.name) continue;
      ends.add_spread(raster.passages[p].a, LineEnd::passage, -flow.flow);
      ends.add_spread(raster.passages[p].b, LineEnd::passage, flow.flow);
    }
  return ends.take();
}

}  // namespace tuft::output
