// The device seen from above as cells: which part each cell belongs to, and which cells every opening covers.
// Knows no physics.
#pragma once

#include <vector>

#include "geometry/device/device.hpp"

namespace tuft::geometry {

/// A cell of one storey, and the part of something that lies in it.
struct CellShare {
  int storey = 0, i = 0, j = 0;
  double share = 0.0;      ///< of the whole [-]; the shares of one thing add to 1
  Vec3 at = Vec3::Zero();  ///< middle of the part in the cell, on the opening itself [m]
  double first = 0.0;      ///< extent of the part along the opening's two axes [m]
  double second = 0.0;
};
using CellShares = std::vector<CellShare>;

/// Nothing is in this cell.
constexpr int kNoPart = -1;

/// What the cells of one storey belong to. Zones whose boxes lie one above the other in plan are put into
/// storeys of their own.
struct Storey {
  /// Cells, x fastest: index of a zone; n_zones + index of a fin stack; or kNoPart.
  std::vector<int> part;
};

/// A fin stack as a block of cells with its channels along one axis.
struct FinBlock {
  int along = 0;  ///< axis the channels lead along, 0 x, 1 y
  int sign = 1;   ///< +1: air that leaves goes towards the axis' high end
  int storey = 0;
  int i0 = 0, i1 = 0;  ///< cells [i0, i1) by [j0, j1)
  int j0 = 0, j1 = 0;
  CellShares entry;  ///< first row of cells across
  CellShares exit;   ///< last row
};

/// Cells on the two sides of a passage.
struct PassageCells {
  CellShares a, b;
};

/// A device as cells. All indices are those of the device's own lists.
struct Raster {
  int nx = 0, ny = 0;
  double dx = 0.0, dy = 0.0;    ///< cell sides [m]; the grid spans the chassis from its front-left corner
  std::vector<Storey> storeys;  ///< lowest first is not promised; one for most devices
  std::vector<int> zone_storey;
  std::vector<FinBlock> fins;
  /// Cells behind every vent that lie in the place behind it. Empty where a fan sits right behind it.
  std::vector<CellShares> vents;
  /// Cells of the plan that every vent covers, whatever is in them (vents of base and top only).
  std::vector<CellShares> faces;
  std::vector<CellShares> fan_inlets;   ///< cells every fan draws from; empty: straight through a vent
  std::vector<CellShares> fan_outlets;  ///< cells every fan blows into; empty: straight through a vent
  std::vector<PassageCells> passages;
  std::vector<CellShares> fin_outlets;  ///< cells of the exit zone a fin stack blows into; empty: vents

  int index(int i, int j) const { return j * nx + i; }
  int part(int storey, int i, int j) const { return storeys[storey].part[index(i, j)]; }
  double x(int i) const { return (i + 0.5) * dx; }  ///< of a cell's centre [m]
  double y(int j) const { return (j + 0.5) * dy; }
  /// All of a cell, with its middle at height z [m].
  CellShare whole_cell(int storey, int i, int j, double z) const {
    return {storey, i, j, 1.0, Vec3(x(i), y(j), z), dx, dy};
  }
};

/// Breadth of a fin stack over that of its clear channels: the fins themselves take a fifth of it
/// (judgement).
constexpr double kFinBreadth = 1.25;

/// Cuts a device into cells of about `cell` [m]: the nearest whole numbers of cells that fill the chassis.
/// A cell belongs to the zone its centre lies in, a fin stack's cells to the stack. Openings are shared out
/// by the overlap of their rectangles with the cells of the place they open into, exactly; an opening that
/// lies beside its place opens into the cells of it nearest by. A fan's mouth is made of the cells of its
/// place nearest to the fan's centre that together make up the impeller's disc.
///
/// Throws std::invalid_argument when the cell is not > 0, is larger than half the shorter side of the
/// chassis, makes more than `kMostCells` cells, or leaves a zone or fin stack without cells.
Raster rasterise(const Device& device, double cell);

/// The same without what opens into the parts: grid, storeys, and fin stacks with their ends.
Raster rasterise_parts(const Device& device, double cell);

/// Makes the shares add to 1.
void normalise(CellShares* shares);

constexpr double kMostCells = 4e6;

}  // namespace tuft::geometry
