// Network and field side by side, vent by vent: finished plain data.
//
// The two share the laws of the openings and everything the case says. They differ in what is assumed of the
// air inside: one well-mixed body a zone here, cells there. So the difference says what that assumption is
// worth in this device and condition, and can be taken as an uncertainty of the network's.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/flow2d/layer_result.hpp"
#include "solver/study/result.hpp"

namespace tuft::study {

/// What one of the two says of a vent.
struct Side {
  geometry::Role role = geometry::Role::idle;
  bool firm = false;                   ///< the role stays when the thresholds move by their margin
  double inflow = 0.0, outflow = 0.0;  ///< gross, >= 0 [kg/s]
  double share = 0.0;                  ///< larger gross flow over the through-flow [-]
  double face_velocity = 0.0;          ///< larger gross flow over density and free area [m/s]
  double temperature_in = 0.0;         ///< of the air outside that enters, or would [K]
  double temperature_out = 0.0;        ///< of the air inside that leaves, or would [K]
  double net() const { return inflow - outflow; }
  double larger() const { return inflow > outflow ? inflow : outflow; }
};

/// One vent or leak. All differences are field less network.
struct VentComparison {
  int vent = 0;  ///< index into Device::vents
  bool shut = false;
  Side network, field;
  bool roles_differ = false;
  double of_through_flow = 0.0;  ///< net flow, over the larger of the two through-flows [-], signed
  double flow =
      0.0;  ///< net flow, over the network's larger gross flow here [-], signed; 0 where it has none
  double temperature = 0.0;    ///< of the air inside that leaves, or would [K], signed
  double drawing_share = 0.0;  ///< share of its area through which more enters than leaves, by the field [-]
};

struct FieldComparison {
  std::vector<VentComparison> vents;  ///< one per Device::vents, in order
  double through_flow = 0.0;          ///< difference over the network's [-], signed; 0 where it has none
  int roles_differ = 0;               ///< vents, leaks left out
  int largest_flow = -1;              ///< vent with the largest of_through_flow, leaks left out; -1: no vent
  int largest_temperature = -1;  ///< vent with the largest temperature difference among those that let out
  /// The field starts from a network solved with heat given. Largest net flow by which that one is off the
  /// network compared with, over the through-flow [-]: not small means another steady state.
  double start_apart = 0.0;
};

/// Compares a solved condition with its plan layers. Throws std::invalid_argument when the numbers of vents
/// do not agree or the field has no fields at all.
FieldComparison compare_with_field(const geometry::Case& content, const ConditionResult& network,
                                   const flow2d::PlanResult& field);

/// Beyond this share of the through-flow `start_apart` is another state: some hundred times what solves leave
/// over; a judgement.
constexpr double kSameState = 0.01;

}  // namespace tuft::study
