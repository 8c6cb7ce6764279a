// The plan layers of a case in one condition, solved.
#pragma once

#include "geometry/device/condition.hpp"
#include "solver/flow2d/driver.hpp"
#include "solver/flow2d/layer_boundary_data.hpp"
#include "solver/flow2d/layer_result.hpp"

namespace tuft::flow2d {

/// Steps of a run in time: what is over in a fiftieth of a passage is damped, not followed.
inline MarchOptions coarse_in_time(double passage) {
  MarchOptions out;
  out.passage = passage;
  out.shortest_share = 0.02;
  return out;
}

struct PlanOptions {
  double cell = 2e-3;        ///< side of a cell, about [m], > 0 and at most half the chassis' shorter side
  bool coarse_start = true;  ///< start from grids of two, four, eight... times the cell
  int fewest = 12;           ///< cells along the shorter side of the coarsest grid
  /// Convection of momentum and heat. Upwind always has a steady state to find; `limited` starts from it and
  /// is kept only where it converges.
  Convection scheme = Convection::upwind;
  NewtonOptions newton;   ///< tolerances, steps, observer
  int march_steps = 300;  ///< in time where no steady state is found (F31); 0: none
  bool stable = true;     ///< tell whether a steady state is stable, and leave one that is not (F35)
  /// Leave a state also along a disturbance that swings, for the mean of the swings, and along one that grows
  /// slowly (F35). Takes some five times as long where there is one.
  bool leave_all = false;
};

/// Solves the layers. Given what the caller knows of heat, everything else comes from the case.
/// Throws std::invalid_argument for input that cannot be: a cell size that does not fit the device, lists of
/// the wrong length, indices out of range. A flow that is not found is a result (PlanEnd), not an exception.
PlanResult solve_plan(const geometry::Case& content, const geometry::Condition& condition,
                      const LayerBoundaryData& given, const PlanOptions& options = {});

/// The same, and the fields themselves, as the solver holds them, into *fields.
PlanResult solve_plan(const geometry::Case& content, const geometry::Condition& condition,
                      const LayerBoundaryData& given, const PlanOptions& options, Fields* fields);

}  // namespace tuft::flow2d
