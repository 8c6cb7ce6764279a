// The edge of a set of cells.
#pragma once

#include <utility>
#include <vector>

namespace tuft::figure {

/// Corner of a grid of cells: number of the grid line across x, and across y.
using Corner = std::pair<int, int>;

/// The closed edges around the cells marked (nx by ny, x fastest): corners in order, the marked cells to the
/// left of the way when y goes up; straight stretches hold no corner between their ends. Filled by the
/// even-odd rule they give the cells. Cells that touch at a corner alone have edges of their own.
std::vector<std::vector<Corner>> cell_outlines(int nx, int ny, const std::vector<bool>& marked);

}  // namespace tuft::figure
