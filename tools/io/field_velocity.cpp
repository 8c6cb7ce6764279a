#include "tools/io/field_velocity.hpp"

#include <cmath>

namespace tuft::output {
namespace {

using field::Array2;
using field::Mask;

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
void open_edge_vent(const geometry::Device& device, const plan::LayerFields& layer, const CellEnd& end, int i,
                    int j, Faces& faces) {
  if (end.vent < 0) return;
  const geometry::Vec3 out = geometry::face_normal(device.vents[static_cast<std::size_t>(end.vent)].face);
  const double dx = layer.x[static_cast<std::size_t>(i) + 1] - layer.x[static_cast<std::size_t>(i)];
  const double dy = layer.y[static_cast<std::size_t>(j) + 1] - layer.y[static_cast<std::size_t>(j)];
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

CornerVelocity corner_velocity(const geometry::Device* device, const plan::LayerFields& layer,
                               const std::vector<std::vector<CellEnd>>& ends) {
  const int nx = layer.solid.nx(), ny = layer.solid.ny();
  Faces faces{layer.u_face, layer.v_face, open_faces(layer.u_face), open_faces(layer.v_face)};
  for (int j = 0; device != nullptr && j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      for (const CellEnd& end : ends[static_cast<std::size_t>(j * nx + i)])
        open_edge_vent(*device, layer, end, i, j, faces);
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

}  // namespace tuft::output
