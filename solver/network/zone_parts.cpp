#include "solver/network/zone_parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace tuft::network {
namespace {

// Cells along each side on which places differ, by how many sides that is.
constexpr std::array<int, 4> kCells{2, 32, 24, 12};

// Momentum of a stream between plates over rho U^2 is 6/5 for a parabola; a layer that rises along a warm
// wall has more, and loses it at the outlet. Fitted to the field's two-opening box, 2 to 18 W
// (open_box_test).
constexpr double kMomentum = 3.5;
constexpr double kLeastLoss = 0.5;  // where a stream only turns; judgement
constexpr double kGrowth = 0.8;     // of a laminar layer's flow with height under even heat: Gr*^(1/5)

struct Grid {
  std::array<int, 3> n;
  Vec3 low, cell;
  Vec3 middle(int i, int j, int k) const {
    return low + Vec3((i + 0.5) * cell[0], (j + 0.5) * cell[1], (k + 0.5) * cell[2]);
  }
  std::size_t index(int i, int j, int k) const { return (static_cast<std::size_t>(k) * n[1] + j) * n[0] + i; }
};

Grid grid_of(const Vec3& centre, const Vec3& size, const std::vector<Vec3>& places) {
  Grid grid;
  std::array<bool, 3> differs{};
  for (int axis = 0; axis < 3; ++axis)
    for (const Vec3& place : places)
      differs[axis] = differs[axis] || std::abs(place[axis] - places[0][axis]) > 1e-9;
  const auto sides = static_cast<std::size_t>(std::count(differs.begin(), differs.end(), true));
  for (int axis = 0; axis < 3; ++axis) grid.n[axis] = differs[axis] ? kCells[sides] : kCells[0];
  grid.low = centre - 0.5 * size;
  for (int axis = 0; axis < 3; ++axis) grid.cell[axis] = size[axis] / grid.n[axis];
  return grid;
}

}  // namespace

int nearest_place(const Vec3& point, const std::vector<Vec3>& places) {
  int best = 0;
  double least = HUGE_VAL;
  for (std::size_t p = 0; p < places.size(); ++p) {
    const double apart = (point - places[p]).squaredNorm();
    if (apart >= least) continue;
    least = apart;
    best = static_cast<int>(p);
  }
  return best;
}

Parts parts_of_box(const Vec3& centre, const Vec3& size, const std::vector<Vec3>& places) {
  const Grid grid = grid_of(centre, size, places);
  const auto [nx, ny, nz] = grid.n;
  std::vector<int> owner(static_cast<std::size_t>(nx) * ny * nz);
  Parts parts;
  parts.centre = centre;
  parts.size = size;
  parts.places = places;
  parts.share.assign(places.size(), 0.0);
  for (int k = 0; k < nz; ++k)
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        const int part = nearest_place(grid.middle(i, j, k), places);
        owner[grid.index(i, j, k)] = part;
        at(parts.share, part) += 1.0;
      }
  for (double& share : parts.share) share /= static_cast<double>(owner.size());

  std::map<std::pair<int, int>, Vec3> faces;
  const auto touch = [&](int here, int there, int axis) {
    if (here == there) return;
    const double area = grid.cell[(axis + 1) % 3] * grid.cell[(axis + 2) % 3];
    Vec3& sum = faces.try_emplace({std::min(here, there), std::max(here, there)}, Vec3::Zero()).first->second;
    sum[axis] += here < there ? area : -area;
  };
  for (int k = 0; k < nz; ++k)
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        const int here = owner[grid.index(i, j, k)];
        if (i + 1 < nx) touch(here, owner[grid.index(i + 1, j, k)], 0);
        if (j + 1 < ny) touch(here, owner[grid.index(i, j + 1, k)], 1);
        if (k + 1 < nz) touch(here, owner[grid.index(i, j, k + 1)], 2);
      }
  for (const auto& [pair, area] : faces)
    if (area.norm() > 0.0) parts.faces.push_back({pair.first, pair.second, area});
  return parts;
}

std::vector<double> stream_losses(const Vec3& centre, const Vec3& size, const Vec3& gravity,
                                  const std::vector<Vec3>& places, const std::vector<PartFace>& faces,
                                  const StreamOptions& options) {
  const double least = options.loss_factor * kLeastLoss;
  std::vector<double> losses(faces.size(), least);
  if (gravity.norm() == 0.0) return losses;
  const Vec3 up = -gravity.normalized();
  const double lowest = up.dot(centre) - 0.5 * up.cwiseAbs().dot(size);
  struct Sums {
    int below = 0, above = 0;
    double square_below = 0.0, square_above = 0.0;
  };
  std::vector<Sums> parts(places.size());
  std::vector<double> square(faces.size());
  const auto rises = [&](const PartFace& face) {
    return up.dot(at(places, face.b)) >= up.dot(at(places, face.a));
  };
  for (std::size_t f = 0; f < faces.size(); ++f) {
    const Vec3 middle = 0.5 * (at(places, faces[f].a) + at(places, faces[f].b));
    square[f] = std::pow(std::max(up.dot(middle) - lowest, 1e-6), 2.0 * kGrowth);
    Sums& lower = at(parts, rises(faces[f]) ? faces[f].a : faces[f].b);
    Sums& upper = at(parts, rises(faces[f]) ? faces[f].b : faces[f].a);
    ++lower.above, lower.square_above += square[f];
    ++upper.below, upper.square_below += square[f];
  }
  const auto head = [&](int part) {
    const Sums& sums = at(parts, part);
    if (sums.below == 0) return 0.0;
    const double below = sums.square_below / sums.below;
    return sums.above == 0 ? below : 0.5 * (below + sums.square_above / sums.above);
  };
  for (std::size_t f = 0; f < faces.size(); ++f) {
    const double gained = head(faces[f].b) - head(faces[f].a);
    const double momentum = options.loss_factor * kMomentum;
    losses[f] = std::max(momentum * (rises(faces[f]) ? gained : -gained) / square[f], least);
  }
  return losses;
}

}  // namespace tuft::network
