#include "geometry/device/raster_cells.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tuft::geometry {
namespace {

double overlap(double a0, double a1, double b0, double b1) {
  return std::max(0.0, std::min(a1, b1) - std::max(a0, b0));
}

double outside(double a0, double a1, double b0, double b1) { return std::max({0.0, b0 - a1, a0 - b1}); }

}  // namespace

void normalise(CellShares* shares) {
  double sum = 0.0;
  for (const CellShare& s : *shares) sum += s.share;
  for (CellShare& s : *shares) s.share /= sum;
}

PlanBox plan_box(const Vent& vent) {
  Vec3 first, second;
  face_axes(vent.face, first, second);
  const Vec3 half = 0.5 * (vent.width * first.cwiseAbs() + vent.height * second.cwiseAbs());
  const double hx = std::max(half.x(), 0.5 * kThin), hy = std::max(half.y(), 0.5 * kThin);
  return {vent.centre.x() - hx, vent.centre.x() + hx, vent.centre.y() - hy, vent.centre.y() + hy};
}

CellShare CellFinder::whole_cell(int storey, int i, int j, double z) const {
  return {storey, i, j, 1.0, Vec3(raster_.x(i), raster_.y(j), z), raster_.dx, raster_.dy};
}

bool CellFinder::is_part(int storey, int part, int i, int j) const {
  return part == kNoPart || raster_.part(storey, i, j) == part;
}

CellShares CellFinder::under(const PlanBox& box, int storey, int part, double z) const {
  CellShares shares;
  const int i0 = std::clamp(static_cast<int>(box.x0 / raster_.dx), 0, raster_.nx - 1);
  const int i1 = std::clamp(static_cast<int>(box.x1 / raster_.dx), 0, raster_.nx - 1);
  const int j0 = std::clamp(static_cast<int>(box.y0 / raster_.dy), 0, raster_.ny - 1);
  const int j1 = std::clamp(static_cast<int>(box.y1 / raster_.dy), 0, raster_.ny - 1);
  for (int j = j0; j <= j1; ++j)
    for (int i = i0; i <= i1; ++i) {
      const double lx = overlap(box.x0, box.x1, i * raster_.dx, (i + 1) * raster_.dx);
      const double ly = overlap(box.y0, box.y1, j * raster_.dy, (j + 1) * raster_.dy);
      if (!(lx * ly > 0.0) || !is_part(storey, part, i, j)) continue;
      const double mx = 0.5 * (std::max(box.x0, i * raster_.dx) + std::min(box.x1, (i + 1) * raster_.dx));
      const double my = 0.5 * (std::max(box.y0, j * raster_.dy) + std::min(box.y1, (j + 1) * raster_.dy));
      shares.push_back({storey, i, j, lx * ly, Vec3(mx, my, z), lx, ly});
    }
  if (!shares.empty()) normalise(&shares);
  return shares;
}

CellShares CellFinder::beside(int across, double plane, double from, double to, int side, int storey,
                              int part, double z) const {
  const int n_along = across == 0 ? raster_.ny : raster_.nx;
  const int n_across = across == 0 ? raster_.nx : raster_.ny;
  const double d_along = across == 0 ? raster_.dy : raster_.dx;
  const double d_across = across == 0 ? raster_.dx : raster_.dy;
  CellShares shares;
  for (int a = 0; a < n_along; ++a) {
    const double length = overlap(from, to, a * d_along, (a + 1) * d_along);
    if (!(length > 0.0)) continue;
    int best = -1;
    double nearest = std::numeric_limits<double>::infinity();
    for (int c = 0; c < n_across; ++c) {
      const double offset = (c + 0.5) * d_across - plane;
      if (offset * side < 0.0 || std::abs(offset) >= nearest) continue;
      if (raster_.part(storey, across == 0 ? c : a, across == 0 ? a : c) != part) continue;
      nearest = std::abs(offset);
      best = c;
    }
    if (best < 0) continue;
    const double middle = 0.5 * (std::max(from, a * d_along) + std::min(to, (a + 1) * d_along));
    const Vec3 point = across == 0 ? Vec3(plane, middle, z) : Vec3(middle, plane, z);
    shares.push_back({storey, across == 0 ? best : a, across == 0 ? a : best, length, point, length, 0.0});
  }
  if (!shares.empty()) normalise(&shares);
  return shares;
}

CellShares CellFinder::nearest(const PlanBox& box, int storey, int part, const Vec3& point) const {
  CellShares shares;
  double least = std::numeric_limits<double>::infinity();
  for (int j = 0; j < raster_.ny; ++j)
    for (int i = 0; i < raster_.nx; ++i) {
      if (raster_.part(storey, i, j) != part) continue;
      const double apart = std::hypot(outside(i * raster_.dx, (i + 1) * raster_.dx, box.x0, box.x1),
                                      outside(j * raster_.dy, (j + 1) * raster_.dy, box.y0, box.y1));
      if (apart > least + 1e-9) continue;
      if (apart < least - 1e-9) shares.clear();
      least = std::min(least, apart);
      shares.push_back(whole_cell(storey, i, j, point.z()));
      shares.back().at = point;
    }
  normalise(&shares);
  return shares;
}

CellShares CellFinder::disc(const Vec3& centre, double area, int storey, int part) const {
  struct Near {
    long apart;  // [nm]
    int i, j;
  };
  std::vector<Near> list;
  for (int j = 0; j < raster_.ny; ++j)
    for (int i = 0; i < raster_.nx; ++i)
      if (raster_.part(storey, i, j) == part)
        list.push_back(
            {std::lround(1e9 * std::hypot(raster_.x(i) - centre.x(), raster_.y(j) - centre.y())), i, j});
  // Cells at one distance (to a nanometre) keep the order of the grid.
  std::stable_sort(list.begin(), list.end(), [](const Near& a, const Near& b) { return a.apart < b.apart; });
  const double cell = raster_.dx * raster_.dy;
  const auto wanted = static_cast<std::size_t>(std::max(1L, std::lround(area / cell)));
  CellShares shares;
  for (std::size_t k = 0; k < std::min(wanted, list.size()); ++k)
    shares.push_back(whole_cell(storey, list[k].i, list[k].j, centre.z()));
  normalise(&shares);
  return shares;
}

}  // namespace tuft::geometry
