// Which cells of a part lie under, beside or nearest to something. For raster*.cpp.
#pragma once

#include "geometry/device/raster.hpp"

namespace tuft::geometry {

constexpr double kThin = 1e-6;  ///< a rectangle's side is taken as at least this [m]

/// A rectangle in plan [m].
struct PlanBox {
  double x0, x1, y0, y1;
};

/// The rectangle of a vent in plan; of one in a side, a thin one.
PlanBox plan_box(const Vent& vent);

/// Makes the shares add to 1.
void normalise(CellShares* shares);

/// Looks for cells in a raster whose parts are set.
class CellFinder {
 public:
  explicit CellFinder(const Raster& raster) : raster_(raster) {}

  /// All of a cell, with its middle at height z [m].
  CellShare whole_cell(int storey, int i, int j, double z) const;

  /// Cells of a part under a rectangle, by overlap; kNoPart: of any.
  CellShares under(const PlanBox& box, int storey, int part, double z) const;

  /// Cells of a part nearest to an upright opening, one in every row (or column) along it. The opening lies
  /// at `plane` of axis `across`, from `from` to `to` of the other axis; `side` is -1 (or +1) where only
  /// cells below (above) the plane are wanted, 0 for either.
  CellShares beside(int across, double plane, double from, double to, int side, int storey, int part,
                    double z) const;

  /// The cells of a part that lie nearest to a rectangle, all at the same distance.
  CellShares nearest(const PlanBox& box, int storey, int part, const Vec3& point) const;

  /// The cells of a part nearest to a point that together have an area, or all there are.
  CellShares disc(const Vec3& centre, double area, int storey, int part) const;

 private:
  bool is_part(int storey, int part, int i, int j) const;

  const Raster& raster_;
};

}  // namespace tuft::geometry
