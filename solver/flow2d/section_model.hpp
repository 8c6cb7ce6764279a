// A plane of a device on a grid: what is solved where. Plain data, made once for a cell size.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/section_scene.hpp"
#include "solver/flow2d/section_solve.hpp"

namespace tuft::flow2d {

/// A cell just inside a vent.
struct VentCell {
  int vent = 0;
  int i = 0, j = 0;
  double flow = 0.0;  ///< given, out of the device where > 0 [kg/(s m)]
};

struct SectionModel {
  flow2d::Problem problem;
  flow2d::Array2T<int> part;
  std::vector<VentCell> vent_cells;
  std::vector<VentCut> cuts;       ///< one per Device::vents
  std::vector<double> hidden;      ///< share of each that the lid hides [-]
  std::vector<double> lengths;     ///< of each vent in the plane [m]
  std::vector<std::string> notes;  ///< what can't be shown
};

/// Whether a temperature is so near to the room's that heat would be all round-off.
inline bool same_as_room(const flow2d::Fluid& fluid, double t) {
  return std::abs(t - fluid.temperature) < 1e-4;
}

/// `coarser` multiplies the cells' sides.
SectionModel make_model(const geometry::Case& content, const geometry::Condition& condition,
                        const SectionBoundaryData& given, const Plane& plane, const SectionOptions& options,
                        double coarser);

/// Opens the cells behind every vent that is cut, and gives them their flow. The model's solids are set
/// already.
void add_vent_cells(const Scene& scene, const SectionBoundaryData& given, SectionModel* model);

}  // namespace tuft::flow2d
