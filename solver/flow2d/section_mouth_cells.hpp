// Which cells lie just inside a vent.
#pragma once

#include <vector>

#include "solver/flow2d/section_model.hpp"

namespace tuft::section {

/// A cell of the chassis that a vent opens.
struct MouthCell {
  int i = 0, j = 0;
  double width = 0.0;  ///< along the vent [m]; in a slot at the hinge the root of the cell's area
};

/// The cells of a vent that the plane cuts, on a model whose solids are set: for a face the first layer of
/// the chassis behind it where there is air before it, for the slot at the hinge the corner it cuts off at 45
/// degrees. Empty: what it lies on or the lid shuts it.
std::vector<MouthCell> mouth_cells(const Scene& scene, const Model& model, const geometry::Vent& vent);

/// Length of a vent in the plane [m].
double length_in_plane(const geometry::Vent& vent, const Plane& plane);

/// Share of a vent's flow that passes a cell: by length, by area in a slot; over all cells they add to 1.
std::vector<double> shares_of(const geometry::Vent& vent, const std::vector<MouthCell>& cells);

}  // namespace tuft::section
