// What is to be followed in time: a network, what drives it, what watches over it, what will happen.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "solver/numerics/ramp.hpp"
#include "solver/network/equations.hpp"

namespace tuft::transient {

/// What a fan is told: a speed, or to follow a temperature by a table with hysteresis (Play).
struct FanDrive {
  double speed = 0.0;               ///< [rev/s] where it follows nothing
  int sensor = network::kNoSensor;  ///< temperature index it follows
  base::Ramp table = {};            ///< [rev/s] against [K]
  double hysteresis = 0.0;          ///< [K], >= 0
};

/// What a load asks of a network.
struct Drive {
  std::vector<double> node_power;    ///< of each node [W]
  std::vector<double> body_power;    ///< of each body [W]
  std::vector<double> source_power;  ///< of each source, for the record [W]
  std::vector<FanDrive> fans;        ///< in the graph's order
};

/// A source of heat and what happens when it gets too hot. Temperatures in K, 0 where there is no limit.
struct SourceRule {
  std::string name;
  int temperature = -1;  ///< its body's temperature index; -1: none of its own, so no limit either
  double throttles_at = 0.0;
  double least_power = 0.0;  ///< [W]
  double shuts_down_at = 0.0;
};

/// An opening of the device in the record: the network's openings that make it up, all from a = inside.
struct Watched {
  std::string name;
  std::vector<int> openings;
};

/// Something that will happen at a given time.
struct Change {
  double time = 0.0;           ///< [s], >= 0
  std::string text;            ///< for a person, without the time
  std::optional<Drive> drive;  ///< another load
  std::optional<int> failing;  ///< a fan (the graph's order) that stops for good: a still rotor from then on
};

struct Setup {
  network::Graph graph;
  Drive drive;
  std::vector<SourceRule> sources;
  std::vector<Watched> vents;
  std::vector<Change> changes;
  Eigen::VectorXd start;               ///< temperatures at t = 0 [K]
  std::optional<network::State> flow;  ///< near the flow at t = 0; without it, fans are switched on from rest
};

}  // namespace tuft::transient
