// A slice through a device and the air around it, solved.
#pragma once

#include <optional>

#include "geometry/device/condition.hpp"
#include "solver/flow2d/driver.hpp"
#include "solver/flow2d/section_plane.hpp"
#include "solver/flow2d/section_result.hpp"

namespace tuft::flow2d {

struct SectionOptions {
  std::optional<Plane> plane;  ///< nothing: as `choose_plane` says
  double finest = 1.0e-3;      ///< about the side of a cell at vents and corners [m], > 0
  double growth = 0.2;         ///< how much a cell may grow over its own length [-], > 0
  double margin = 0.15;        ///< of open air around device and screen [m], > 0
  int gap_cells = 4;           ///< least number of cells across the gap under the device, >= 2
  /// Convection of momentum and heat. `limited` starts from upwind and is kept only where it converges.
  Convection scheme = Convection::upwind;
  bool uncertainty = true;  ///< solve on cells twice as large as well, for the fractions' uncertainty
  bool closure = false;     ///< mixing length of plane jets (docs/field.md, F28)
  NewtonOptions newton;     ///< tolerances, steps, observer
  int march_steps = 600;    ///< at most, in time where no steady state is found; 0: none
};

/// Solves a slice: the device's body, what it lies on, the screen, the air around with free rims. Everything
/// but what is given comes from the case. Air leaves the outlets with the mean velocity over their face, and
/// its own temperature; intakes draw what they are given. Throws std::invalid_argument for input that cannot
/// be: options out of range, lists of the wrong length or with values that are not finite, a plane that
/// misses the device. A flow that is not found is a result (SectionEnd), not an exception. The same input
/// gives the same bytes on any number of threads.
SectionResult solve_section(const geometry::Case& content, const geometry::Condition& condition,
                            const SectionBoundaryData& given, const SectionOptions& options = {});

}  // namespace tuft::flow2d
