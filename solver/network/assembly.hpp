// What all files that assemble a network look at and add to. For the files of this folder.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "solver/network/assemble.hpp"
#include "solver/physics/air.hpp"

namespace tuft::network {

/// A network being made: the case in one condition, and what there is of the network so far.
struct Assembly {
  const geometry::Case& content;
  const geometry::Condition& condition;
  const geometry::Device& device;
  const geometry::Laws& laws;
  const geometry::Support& support;
  const geometry::Load& load;
  Network network;
  std::vector<physics::FanCurve> fan_curves;  ///< of the device's fans, under these laws

  /// Air a node holds at least [m3]: a fan's mouth, a gap. It only sets how fast its temperature follows.
  static constexpr double kLeastVolume = 1e-6;
  /// [m2]: below it an opening counts as shut.
  static constexpr double kLeastArea = 1e-12;

  /// Adds a node of air at a reference point [m] with a conductance to the room [W/K] and a volume [m3].
  int add_node(const std::string& name, const Vec3& reference, double wall_conductance, double volume = 0.0) {
    const Ambient& ambient = network.graph.ambient;
    const double capacity = physics::density(ambient.state, ambient.temperature) *
                            physics::specific_heat(ambient.temperature) * std::max(volume, kLeastVolume);
    network.graph.nodes.push_back({name, reference, 0.0, wall_conductance, capacity});
    return static_cast<int>(network.graph.nodes.size()) - 1;
  }

  int add_opening(const Opening& opening) {
    network.graph.openings.push_back(opening);
    return static_cast<int>(network.graph.openings.size()) - 1;
  }

  /// What drives air both ways is in doubt: the head over the opening's height (E3), and the heavier air
  /// above it (E4).
  int add_two_way(Opening opening) {
    opening.span_left *= *laws.exchange;
    opening.exchange = *laws.exchange;
    return add_opening(opening);
  }
};

}  // namespace tuft::network
