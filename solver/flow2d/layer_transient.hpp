// The plan layers of a case in one condition, followed in time.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/flow2d/march.hpp"

namespace tuft::flow2d {

/// Every vent and lump at the end of one step.
struct TransientStep {
  double time = 0.0, step = 0.0;    ///< [s]
  double error = 0.0;               ///< estimate, over what is allowed [-]
  double mass = 0.0, energy = 0.0;  ///< left over and not stored, over what passes [-]
  int newton = 0;
  double residual = 0.0;               ///< scaled, of the step's balances
  double through_flow = 0.0;           ///< sum of the vents' gross inflows [kg/s]
  double warmest = 0.0;                ///< air of all layers [K]
  std::vector<VentFlows> vents;        ///< one per Device::vents
  std::vector<LinkFlow> fans;          ///< one per Device::fans
  std::vector<double> thermal_masses;  ///< temperatures of the thermal masses, in the order given [K]
};

/// Another condition in whose steady state the transient starts.
struct TransientStart {
  geometry::Condition condition;
  LayerBoundaryData given;
};

/// What is solid in a zone or fin stack, as one lump that stores heat on its way into the air
/// (flow2d::HeatLump).
struct ThermalMass {
  int part = 0;              ///< zone, or number of zones + fin stack
  double capacity = 0.0;     ///< C [J/K], > 0
  double conductance = 0.0;  ///< G [W/K], > 0
  double start = 0.0;        ///< temperature at the start [K]
  double at_once = 0.0;      ///< of the part's heat, what goes straight into its air and is no part of P [W]
};

struct LayerTransientOptions {
  double cell = 2e-3;   ///< side of a cell, about [m]
  double until = 60.0;  ///< [s], > 0
  double every = 0.0;   ///< a moment is shown that often [s]; 0: at start and end only
  Convection scheme = Convection::upwind;
  MarchOptions march = coarse_in_time(0.0);  ///< its passage is the device's
  /// Empty: all air at rest, as warm as the room.
  std::vector<TransientStart> from;
  PlanOptions steady;  ///< how the state to start from is found; its cell is taken from here
  /// Called at the start, at every moment and at the end, with the fields.
  std::function<void(double time, const PlanResult& state)> on_moment;
  /// Called after every step; false ends the transient there.
  std::function<bool(const TransientStep&)> on_step;
};

enum class TransientEnd {
  followed,  ///< to the end asked for
  stopped,   ///< by on_step
  failed     ///< no start or no further step was found; `message` says where
};

struct LayerTransient {
  TransientEnd end = TransientEnd::failed;
  std::string message;       ///< how it went, for a person
  double time = 0.0;         ///< followed to [s]
  int steps = 0, again = 0;  ///< taken; begun in vain
  int newton = 0, factorisations = 0, linear_iterations = 0;
  double mass = 0.0;    ///< largest of all steps: left over and not stored, over what passes [-]
  double energy = 0.0;  ///< the same of heat, net [-]
  /// How far the fields still go in the time the air takes to pass the device, as errors are measured [-].
  double rate_of_change = 0.0;
  /// Heat that the stores still take up at the end, over what they are given; below 0 they give some off, and
  /// it is over what they pass on [-], -2..2.
  double stored = 0.0;
};

/// Follows the layers from a start on. Heat that goes through a store arrives as that warms (F30); watts,
/// conductances to the room and fan speeds stay as given. Throws as solve_plan does.
LayerTransient run_transient(const geometry::Case& content, const geometry::Condition& condition,
                             const LayerBoundaryData& given, const std::vector<ThermalMass>& thermal_masses,
                             const LayerTransientOptions& options);

}  // namespace tuft::flow2d
