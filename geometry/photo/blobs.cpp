#include "geometry/photo/blobs.hpp"

#include <cmath>

namespace tuft::photo {
namespace {

// Sums over the samples of a region, in cells from its first sample, so that they stay exact.
struct Sums {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
};

Blob blob_of(const Sums& sums, const Vec2& cell) {
  Blob blob;
  blob.area = sums.n;
  const double x = sums.x / sums.n, y = sums.y / sums.n;
  blob.centre = Vec2((x + 0.5) * cell.x(), (y + 0.5) * cell.y());
  // A sample is a small rectangle, not a point: its own variance is a twelfth of its side squared.
  const double xx = (sums.xx / sums.n - x * x + 1.0 / 12) * cell.x() * cell.x();
  const double yy = (sums.yy / sums.n - y * y + 1.0 / 12) * cell.y() * cell.y();
  const double xy = (sums.xy / sums.n - x * y) * cell.x() * cell.y();
  const double mean = 0.5 * (xx + yy), apart = std::hypot(0.5 * (xx - yy), xy);
  blob.long_moment = mean + apart;
  blob.short_moment = mean - apart;
  return blob;
}

}  // namespace

std::vector<Blob> blobs_of(const Mask& mask, const Vec2& cell) {
  std::vector<Blob> out;
  std::vector<std::uint8_t> left = mask.in;
  std::vector<int> open;  // samples of the region that is being filled, still to be looked at
  const int n = mask.columns * mask.rows;
  for (int first = 0; first < n; ++first) {
    if (left[first] == 0) continue;
    Sums sums;
    bool left_side = false, right_side = false, top = false, bottom = false;
    left[first] = 0;
    open.push_back(first);
    while (!open.empty()) {
      const int at = open.back();
      open.pop_back();
      const int column = at % mask.columns, row = at / mask.columns;
      const double x = column, y = row;
      sums.n += 1, sums.x += x, sums.y += y, sums.xx += x * x, sums.xy += x * y, sums.yy += y * y;
      left_side = left_side || column == 0, right_side = right_side || column == mask.columns - 1;
      top = top || row == 0, bottom = bottom || row == mask.rows - 1;
      const auto visit = [&](bool exists, int other) {
        if (!exists || left[other] == 0) return;
        left[other] = 0;
        open.push_back(other);
      };
      visit(column > 0, at - 1);
      visit(column < mask.columns - 1, at + 1);
      visit(row > 0, at - mask.columns);
      visit(row < mask.rows - 1, at + mask.columns);
    }
    Blob blob = blob_of(sums, cell);
    blob.touches_rim = left_side || right_side || top || bottom;
    blob.reaches_all_sides = left_side && right_side && top && bottom;
    blob.column = first % mask.columns;
    blob.row = first / mask.columns;
    out.push_back(blob);
  }
  return out;
}

}  // namespace tuft::photo
