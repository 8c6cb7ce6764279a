// How much the size of the cells matters: the plan layers once more on cells half as large.
#pragma once

#include <string>
#include <vector>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/study/field_comparison.hpp"

namespace tuft::study {

/// What smaller cells make of one vent. All differences are smaller cells less those asked for.
struct VentRefined {
  int vent = 0;  ///< index into Device::vents
  bool shut = false;
  geometry::Role role = geometry::Role::idle;  ///< on the smaller cells
  bool role_differs = false;
  double of_through_flow = 0.0;  ///< net flow, over the larger of the two through-flows [-], signed
  double flow =
      0.0;  ///< net flow, over the network's larger gross flow here [-], signed; 0 where it has none
  double temperature = 0.0;  ///< of the air inside that leaves, or would [K], signed
};

/// Part of the difference by which the larger cells may be off: upwind convection errs in proportion to the
/// cells, so that cells half as large err by the difference, and the larger ones by twice as much.
constexpr double kByCells = 2.0;

struct Refined {
  double cell = 0.0;   ///< side of the smaller cells [m]
  bool found = false;  ///< a flow that is a result was found on them; what follows is empty otherwise
  std::string message;
  double through_flow = 0.0;       ///< relative [-], signed
  std::vector<VentRefined> vents;  ///< one per Device::vents, in order
  int roles_differ = 0;            ///< vents, leaks left out
  FieldComparison comparison;      ///< of the network with the smaller cells
  bool steady = false;             ///< they reach a steady state; else a mean in time
  double swing = 0.0;  ///< of a mean: largest amplitude of a vent's net flow, over the through-flow [-]
  bool swing_is_whole = false;  ///< of a mean: the swings no longer grow within the time averaged over
  flow2d::Steadiness steadiness;
  int largest_flow = -1;         ///< vent with the largest of_through_flow, leaks left out; -1: none
  int largest_temperature = -1;  ///< the same of temperature, among those that let out
};

/// Solves the layers of `given` once more with options.cell halved. `network` is what `given` was solved
/// with. Throws as solve_plan and agree do.
Refined refine(const geometry::Case& content, const ConditionResult& network, const flow2d::PlanResult& given,
               flow2d::PlanOptions options);

}  // namespace tuft::study
