// What the plan layers give: finished plain data, for judges, writers and figures.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/device.hpp"
#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/steadiness.hpp"

namespace tuft::flow2d {

/// What passes one cell's part of a vent. + into the device.
struct CellFlux {
  int layer = 0;  ///< index into PlanResult::layers of the cell behind (or before) the vent
  int i = 0, j = 0;
  double area = 0.0;     ///< of the vent in this cell [m2]
  double inflow = 0.0;   ///< gross, >= 0 [kg/s]
  double outflow = 0.0;  ///< gross, >= 0 [kg/s]
};

/// One vent or leak. Flows are gross masses per second, as in the network's results.
struct VentFlows {
  double inflow = 0.0, outflow = 0.0;  ///< >= 0 [kg/s]
  double exchange = 0.0;               ///< part of both that is two-way exchange under heavier air [kg/s]
  double temperature_in = 0.0;         ///< mean of the air that enters, or would [K]
  double temperature_out = 0.0;        ///< mean of the air that leaves, or would [K]
  double area = 0.0;                   ///< neither taped nor hidden [m2]
  double face_velocity = 0.0;          ///< larger gross flow over (density x area) [m/s]
  double share = 0.0;                  ///< larger gross flow over the through-flow [-], <= 1
  double drawing_share = 0.0;          ///< share of its area through which more enters than leaves [-]
  std::vector<CellFlux> cells;         ///< empty where a fan or edge gap sits right at it
};

/// A fan or a passage.
struct LinkFlow {
  std::string name;
  double flow = 0.0;           ///< net [kg/s], + in the fan's direction, or from the passage's first zone
  double volume_flow = 0.0;    ///< fans: at the inlet's density [m3/s]
  double pressure_rise = 0.0;  ///< fans: static [Pa]; passages: pressure lost from a to b [Pa]
  double temperature = 0.0;    ///< mean over the cells it draws from [K]
};

/// A fin stack whose metal has a temperature of its own.
struct FinHeat {
  int stack = 0;              ///< index into Device::fin_stacks
  double metal = 0.0;         ///< temperature, the network's [K]
  double heat = 0.0;          ///< from the metal to the air in the channels; below 0 it takes heat up [W]
  double network_heat = 0.0;  ///< the same by the network [W]
};

/// Fields of one layer. Arrays are nx by ny, x fastest.
struct LayerFields {
  std::string name;          ///< "inside", "inside-2", ..., "gap-base", "gap-top"
  std::vector<double> x, y;  ///< faces of the cells in the device frame [m]
  Array2 height;             ///< z of the layer's middle [m]
  Array2 depth;              ///< [m]
  Array2T<int> part;         ///< zone; number of zones + fin stack; 0 in a gap; -1 where solid
  Array2 u_face, v_face;     ///< velocities on the faces, nx+1 by ny and nx by ny+1 [m/s]
  Array2 u, v;               ///< means over the cells [m/s]
  Array2 pressure;           ///< p', against still ambient air at the same height [Pa]
  Array2 temperature;        ///< [K]
  Array2 density;            ///< [kg/m3]
  Array2 heat;               ///< given to the air [W/m2]
  Mask solid;
};

enum class PlanEnd {
  converged,
  reduced,   ///< only with less inertia than the air has: see momentum_share
  averaged,  ///< no steady state was found; flows and fields are means over `span` of a run in time
  in_time,   ///< a moment of a transient
  not_converged,
  no_network  ///< the network's own solution, which the fields start from, was not found
};

struct PlanResult {
  PlanEnd end = PlanEnd::not_converged;
  std::string message;
  /// Share of the air's inertia (F2's convection) in the fields returned [-]; 1 where `end` is converged.
  double momentum_share = 1.0;
  Steadiness steadiness;
  bool first_order = true;                                   ///< convection of momentum and heat is upwind
  int steps = 0, factorisations = 0, linear_iterations = 0;  ///< on the finest grid
  int marched_steps = 0;           ///< in time, where no steady state was found at first
  double marched = 0.0;            ///< run through in them [s]
  double span = 0.0;               ///< averaged over [s]
  double air_changes = 0.0;        ///< times the air passed the device in that span [-]
  std::vector<double> amplitudes;  ///< averaged: how far each vent's net flow swings about its mean [kg/s]
  /// Averaged: over several passages, in whose second half no vent swings much wider than in the first.
  bool swings_are_whole = false;
  double residual = 0.0;      ///< scaled [-]
  double mass = 0.0;          ///< left over in all cells and spaces, summed, over the through-flow [-]
  double energy = 0.0;        ///< net heat over the heat passing [-]
  double energy_cells = 0.0;  ///< heat left over in all cells, summed, over the same [-]
  double through_flow = 0.0;  ///< sum of the vents' gross inflows [kg/s]
  double power = 0.0;         ///< heat given to the air, what the metal of fins gives included [W]
  double ambient_density = 0.0;
  double ambient_temperature = 0.0;
  std::vector<VentFlows> vents;          ///< one per Device::vents
  std::vector<VentFlows> network_vents;  ///< the same by the network, without cells
  std::vector<LinkFlow> fans;            ///< one per Device::fans
  std::vector<LinkFlow> passages;        ///< those that are open
  std::vector<FinHeat> fins;             ///< of those with metal; of mean fields, where they are means
  std::vector<LayerFields> layers;
  bool converged() const { return end == PlanEnd::converged; }
  /// Whether this is what the air does, at rest or on average, with all its inertia.
  bool usable() const { return converged() || end == PlanEnd::averaged; }
};

}  // namespace tuft::flow2d
