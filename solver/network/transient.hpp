// Follows a network in time: what drives it, how closely it is followed, and what happened.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "solver/network/equations.hpp"
#include "solver/network/source_limits.hpp"

namespace tuft::network {

/// What a load asks of a network.
struct LoadInputs {
  std::vector<double> node_power;    ///< of each node [W]
  std::vector<double> body_power;    ///< of each body [W]
  std::vector<double> source_power;  ///< of each source, for the record [W]
  std::vector<FanElement> fans;      ///< in the graph's order: speed, sensor, table and hysteresis count
};

/// A source of heat and what happens when it gets too hot.
struct SourceRule {
  std::string name;
  int temperature = -1;  ///< its body's temperature index; -1: none of its own, so no limit either
  SourceLimits limits;
};

/// An opening of the device in the record: the network's openings that make it up, all from a = inside.
struct Watched {
  std::string name;
  std::vector<int> openings;
};

/// Something that will happen at a given time.
struct Change {
  double time = 0.0;                      ///< [s], >= 0
  std::string text;                       ///< for a person, without the time
  std::optional<LoadInputs> load_inputs;  ///< another load
  std::optional<int> failing;  ///< a fan (the graph's order) that stops for good: a still rotor from then on
};

struct Setup {
  Graph graph;
  LoadInputs load_inputs;
  std::vector<SourceRule> sources;
  std::vector<Watched> vents;
  std::vector<Change> changes;
  Eigen::VectorXd start;      ///< temperatures at t = 0 [K]
  std::optional<State> flow;  ///< near the flow at t = 0; without it, fans are switched on from rest
};

// What happened: finished plain data.

/// One quantity in time, a value for each of the history's times.
struct Track {
  std::string name;
  std::vector<double> values;
};

/// Everything in time. `time` [s] does not fall; an instant at which something jumps stands in it twice.
struct History {
  std::vector<double> time;
  std::vector<Track> temperature;      ///< nodes, then bodies [K]
  std::vector<Track> inflow, outflow;  ///< of each vent, gross [kg/s]
  std::vector<Track> fan_speed;        ///< [rev/s]
  std::vector<Track> power;            ///< of each source [W]
};

enum class EventKind {
  change,          ///< given beforehand: another load, power off, a fan that fails
  throttled,       ///< a source is held at its limit
  at_least_power,  ///< ... it is at its least power and its limit is passed all the same
  full_power,      ///< ... it takes all it is asked to take again
  shut_down,       ///< a source's power is off for good
  speeds_up,       ///< a fan follows its table upwards
  keeps_speed,     ///< its temperature has turned; it stays
  slows_down       ///< it follows its table downwards
};

struct Event {
  double time = 0.0;  ///< [s]
  EventKind kind = EventKind::change;
  std::string subject;  ///< name of the source or fan; empty for a change
  std::string text;     ///< a sentence without the time, and without the temperature that may end it
  double at = 0.0;      ///< that temperature [K]; 0: none
};

/// Energy since the start [J]: given = left + stored.
struct EnergyBalance {
  double given = 0.0;   ///< by all powers
  double left = 0.0;    ///< to the room, with the air and through surfaces
  double stored = 0.0;  ///< in capacities
  double error = 0.0;   ///< |given - left - stored| over the largest of the three [-]
};

enum class Ending {
  steady,   ///< nothing changes any more
  time_up,  ///< the time asked for is over
  failed    ///< no flow was found, or no step; `message` says where
};

struct TransientResult {
  History history;
  std::vector<Event> events;
  EnergyBalance energy_balance;
  Ending ending = Ending::failed;
  std::string message;  ///< why it failed; empty otherwise
  double distance =
      0.0;              ///< largest estimated distance of a temperature from its steady value at the end [K]
  double growth = 0.0;  ///< largest real part of the rates' eigenvalues at the end [1/s]; < 0: stable
};

// Follows a network in time.

/// How closely, how long, and when it counts as steady.
struct TransientOptions {
  double relative = 1e-6;       ///< error a step may make, of what a temperature lies over the room [-]
  double absolute = 1e-6;       ///< ... and besides [K]
  double until = 4.0 * 3600.0;  ///< ends there if not steady before [s], > 0
  double steady_within = 5e-5;  ///< ends when every temperature is that near its steady value [K]; 0: never
};

/// Where a transient ended, to go on from or to compare with.
struct End {
  Graph graph;  ///< with the powers asked for and the fans in the mode they ended in
  State state;
};

/// Follows a network from a start through its changes until it is steady, by backward differences of variable
/// order with the flow settled in every rate. Events are found as roots, and integration begins anew there.
/// Never throws for what nature does: a transient that cannot go on ends `failed` with the time and reason.
/// Throws std::invalid_argument for a setup that does not hold together (capacities, sizes, tables, times).
/// `end`, if given, takes where it ended.
TransientResult run_transient(const Setup& setup, const TransientOptions& options = {}, End* end = nullptr);

}  // namespace tuft::network
