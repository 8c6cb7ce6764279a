// What the plan layers are given by whoever knows the paths heat takes: watts, walls, speeds.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/device/device.hpp"
#include "solver/network/assemble.hpp"

namespace tuft::flow2d {

/// A warm spot on a zone's floor.
struct HeatSpot {
  int zone = 0;                                    ///< index into Device::zones
  geometry::Vec3 centre = geometry::Vec3::Zero();  ///< x and y count [m]
  double width = 0.0, height = 0.0;                ///< along x and y [m], > 0
  double power = 0.0;                              ///< [W]
};

/// Metal of a fin stack that heats the air in its channels by the network's law.
struct FinMetal {
  double temperature = 0.0;  ///< [K]; 0: none of its own
  double heat = 0.0;         ///< of Given::fin_stacks, what the network lets the metal give [W]
};

/// All lists are in the device's own order. A list of watts left empty stands for zeros; any other list left
/// empty, for what the case itself says.
struct LayerBoundaryData {
  std::vector<double> zones;       ///< into a zone's air, spread evenly over its floor [W]
  std::vector<double> fin_stacks;  ///< into a stack's air, spread evenly over its cells [W]
  /// Where a stack has metal, that gives the layers' air what its temperature makes of the flow there, in
  /// place of its part of `fin_stacks`; so no air is warmed beyond the metal. Empty: fixed watts everywhere.
  std::vector<FinMetal> fin_metals;
  std::vector<HeatSpot> spots;     ///< on top of that
  std::vector<double> zone_walls;  ///< from a zone's air through the chassis to the room [W/K]
  std::vector<double> fin_walls;   ///< from a stack's air (stacks that blow into vents) [W/K]
  /// How zones with their spots, and zone_walls, are divided among the parts of a layered zone, for the
  /// network beside the field; empty: by volume.
  std::vector<std::vector<double>> zone_parts, zone_part_walls;
  std::vector<double> fan_speeds;  ///< [rev/s], 0 is a stopped rotor
  std::vector<double> outside;     ///< temperature of the air outside each vent [K]
};

/// Throws std::invalid_argument, with the name of the list, where one has a wrong length or a value that
/// cannot be.
void check_boundary_data(const geometry::Device& device, const LayerBoundaryData& given);

/// Throws std::invalid_argument where an index leads to no pose, support or load of the case.
void check_condition(const geometry::Case& content, const geometry::Condition& condition);

/// The network with what is given: the same heat, walls and speeds. Returns all heat given [W].
double set_given(const geometry::Device& device, const LayerBoundaryData& given, network::Network* net);

}  // namespace tuft::flow2d
