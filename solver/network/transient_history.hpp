// What happened: finished plain data.
#pragma once

#include <string>
#include <vector>

namespace tuft::transient {

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
  change,       ///< given beforehand: another load, power off, a fan that fails
  throttled,    ///< a source is held at its limit
  starved,      ///< ... it is at its least power and its limit is passed all the same
  full_power,   ///< ... it takes all it is asked to take again
  shut_down,    ///< a source's power is off for good
  speeds_up,    ///< a fan follows its table upwards
  keeps_speed,  ///< its temperature has turned; it stays
  slows_down    ///< it follows its table downwards
};

struct Event {
  double time = 0.0;  ///< [s]
  EventKind kind = EventKind::change;
  std::string subject;  ///< name of the source or fan; empty for a change
  std::string text;     ///< a sentence without the time
};

/// Energy since the start [J]: given = left + stored.
struct Books {
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

/// How often the parts of the integrator ran.
struct Effort {
  long steps = 0, rates = 0, restarts = 0;
};

struct Course {
  History history;
  std::vector<Event> events;
  Books books;
  Ending ending = Ending::failed;
  std::string message;  ///< why it failed; empty otherwise
  double distance =
      0.0;              ///< largest estimated distance of a temperature from its steady value at the end [K]
  double growth = 0.0;  ///< largest real part of the rates' eigenvalues at the end [1/s]; < 0: stable
  Effort effort;
};

/// How long it takes to settle: from when on a quantity stays within a band around its last value.
struct Settling {
  bool known = false;                  ///< only where the course ends steady
  double since = 0.0;                  ///< time of the last given change, from which it is counted [s]
  double overall = 0.0;                ///< all temperatures and all flows [s]
  double flow = 0.0;                   ///< all flows [s]
  std::vector<double> of_temperature;  ///< each, in the history's order [s]
};

/// Finds the settling times. A temperature has settled when it stays within `band` [K] > 0 of its last value;
/// a vent when its gross flows stay within `flow_share` of the last through-flow (the sum of all inflows), or
/// of a tenth of the largest one where that is more. Between two times of the history values are taken to run
/// straight.
Settling settling(const Course& course, double band, double flow_share);

}  // namespace tuft::transient
