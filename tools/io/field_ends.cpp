// What streamlines of a layer begin and end at, and the velocities they run on.
#include "geometry/device/lists.hpp"
#include "tools/io/line_layer.hpp"

#include <cmath>

#include "geometry/device/raster.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

/// The ends of one layer, a list a cell.
struct Ends {
  int layer = 0, nx = 0;
  std::vector<std::vector<CellEnd>> cells;

  void add(int in_layer, int i, int j, LineEnd kind, int vent, double gives) {
    if (in_layer != layer || gives == 0.0) return;
    cells[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx) + static_cast<std::size_t>(i)].push_back(
        {kind, vent, gives});
  }

  void add_spread(const geometry::CellShares& shares, LineEnd kind, double gives) {
    for (const geometry::CellShare& share : shares)
      add(share.storey, share.i, share.j, kind, -1, gives * share.share);
  }
};

// The gap layer at a face, if there is one.
int gap_layer_at(const flow2d::PlanResult& plan, geometry::Face face) {
  const std::string name = std::string("gap-") + geometry::face_word(face);
  return geometry::find_index(plan.layers, [&](const auto& layer) { return layer.name == name; });
}

void add_vents(const geometry::Device& device, const flow2d::PlanResult& plan, Ends& ends) {
  for (std::size_t v = 0; v < plan.vents.size(); ++v) {
    const int gap = gap_layer_at(plan, device.vents[v].face);
    for (const flow2d::CellFlux& cell : plan.vents[v].cells) {
      const double net = cell.inflow - cell.outflow;
      const int vent = static_cast<int>(v);
      // A vent with a fan right behind it is known by its cells in the gap before it.
      if (cell.layer == gap) {
        ends.add(gap, cell.i, cell.j, LineEnd::vent, vent, -net);
        continue;
      }
      ends.add(cell.layer, cell.i, cell.j, LineEnd::vent, vent, net);
      if (gap >= 0 && at(plan.layers, gap).solid(cell.i, cell.j) == 0)
        ends.add(gap, cell.i, cell.j, LineEnd::vent, vent, -net);
    }
  }
}

using flow2d::Array2;
using flow2d::Mask;

Mask open_faces(const Array2& velocity) {
  Mask open(velocity.nx(), velocity.ny(), 0);
  for (std::size_t k = 0; k < velocity.size(); ++k) open[k] = velocity[k] != 0.0 ? 1 : 0;
  return open;
}

/// Faces of one layer, with the flow of vents in the chassis' edge put onto the walls they are in.
struct Faces {
  Array2 u, v;
  Mask open_x, open_y;
};

// Air that a cell gives out through its vent goes on to the side the vent is at: outward velocity of it
// there.
void open_edge_vent(const geometry::Device& device, const flow2d::LayerFields& layer, const CellEnd& end,
                    int i, int j, Faces& faces) {
  if (end.vent < 0) return;
  const geometry::Vec3 out = geometry::face_normal(at(device.vents, end.vent).face);
  const double dx = layer.x[static_cast<std::size_t>(i) + 1] - layer.x[i];
  const double dy = layer.y[static_cast<std::size_t>(j) + 1] - layer.y[j];
  const double thick = layer.density(i, j) * layer.depth(i, j);
  if (!(thick > 0.0)) return;
  const bool across_x = std::abs(out.x()) > 0.5, across_y = !across_x && std::abs(out.y()) > 0.5;
  if (across_x) {
    const int face = out.x() > 0.0 ? i + 1 : i;
    if (faces.open_x(face, j) != 0) return;
    faces.u(face, j) = -end.gives / (thick * dy) * (out.x() > 0.0 ? 1.0 : -1.0);
    faces.open_x(face, j) = 1;
  } else if (across_y) {
    const int face = out.y() > 0.0 ? j + 1 : j;
    if (faces.open_y(i, face) != 0) return;
    faces.v(i, face) = -end.gives / (thick * dx) * (out.y() > 0.0 ? 1.0 : -1.0);
    faces.open_y(i, face) = 1;
  }
}

/// One component at a corner: the mean of the faces there, none where one of them is a wall.
class Corner {
 public:
  void add(double velocity, bool open) {
    shut_ = shut_ || !open;
    sum_ += velocity;
    ++n_;
  }
  double value() const { return shut_ || n_ == 0 ? 0.0 : sum_ / n_; }

 private:
  double sum_ = 0.0;
  int n_ = 0;
  bool shut_ = false;
};

}  // namespace

const char* line_end_word(LineEnd end) {
  return word_among(end, {"vent", "fan", "passage", "rim", "still-air", "wall"});
}

std::vector<std::vector<CellEnd>> ends_of_layer(const geometry::Device& device,
                                                const flow2d::PlanResult& plan, int layer, double cell) {
  const flow2d::Mask& solid = at(plan.layers, layer).solid;
  Ends ends{layer, solid.nx(), std::vector<std::vector<CellEnd>>(solid.size())};
  add_vents(device, plan, ends);
  const geometry::Raster raster = geometry::rasterise(device, cell);
  for (std::size_t f = 0; f < plan.fans.size(); ++f) {
    ends.add_spread(raster.fan_inlets[f], LineEnd::fan, -plan.fans[f].flow);
    ends.add_spread(raster.fan_outlets[f], LineEnd::fan, plan.fans[f].flow);
  }
  for (const flow2d::LinkFlow& flow : plan.passages)
    for (std::size_t p = 0; p < device.passages.size(); ++p) {
      if (device.passages[p].name != flow.name) continue;
      ends.add_spread(raster.passages[p].a, LineEnd::passage, -flow.flow);
      ends.add_spread(raster.passages[p].b, LineEnd::passage, flow.flow);
    }
  return std::move(ends.cells);
}

CornerVelocity corner_velocity(const geometry::Device* device, const flow2d::LayerFields& layer,
                               const std::vector<std::vector<CellEnd>>& ends) {
  const int nx = layer.solid.nx(), ny = layer.solid.ny();
  Faces faces{layer.u_face, layer.v_face, open_faces(layer.u_face), open_faces(layer.v_face)};
  for (int j = 0; device != nullptr && j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      for (const CellEnd& end : ends[j * nx + i]) open_edge_vent(*device, layer, end, i, j, faces);
  CornerVelocity corners{Array2(nx + 1, ny + 1), Array2(nx + 1, ny + 1), faces.open_x, faces.open_y};
  // Air slides along a wall but does not pass it; faces within a solid say nothing.
  const auto solid = [&](int i, int j) {
    return i < 0 || i >= nx || j < 0 || j >= ny || layer.solid(i, j) != 0;
  };
  for (int j = 0; j <= ny; ++j)
    for (int i = 0; i <= nx; ++i) {
      Corner u, v;
      for (const int row : {j - 1, j})
        if (row >= 0 && row < ny && !(solid(i - 1, row) && solid(i, row)))
          u.add(faces.u(i, row), faces.open_x(i, row) != 0);
      for (const int column : {i - 1, i})
        if (column >= 0 && column < nx && !(solid(column, j - 1) && solid(column, j)))
          v.add(faces.v(column, j), faces.open_y(column, j) != 0);
      corners.u(i, j) = u.value();
      corners.v(i, j) = v.value();
    }
  return corners;
}

}  // namespace tuft::io
