// A device's warm-up: from a case file's condition to its transient.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/assemble.hpp"
#include "solver/network/transient.hpp"

namespace tuft::network {

/// Something that happens to the device at a given time.
struct ScheduledEvent {
  enum class Kind {
    fan_fails,  ///< Device::fans[index] stops for good
    load,       ///< Case::loads[index] from then on
    power_off   ///< no source gives heat any more
  };
  Kind kind = Kind::power_off;
  double time = 0.0;  ///< [s], >= 0
  int index = 0;
  bool fans_stop = true;  ///< power_off: fans stand still too; else they go on as the load says
};

/// Where a warm-up starts.
constexpr int kCold = -1;     ///< everything at room temperature
constexpr int kNoTrack = -1;  ///< a part without a temperature of its own

struct Plan {
  int condition = 0;  ///< index into Case::conditions; pose, support and lid stay as they are
  int from = kCold;   ///< or the index of a condition in whose steady state it starts
  std::vector<ScheduledEvent> events;
  double band = 1.0;         ///< a temperature that near its last value has settled [K], > 0
  double flow_share = 0.02;  ///< and a flow that near, of the through-flow [-], > 0
  TransientOptions options;
};

/// The end of a warm-up beside the steady state that a solve finds from there.
struct Comparison {
  bool solved = false;
  double difference = 0.0;  ///< of the temperature that differs most [K]
  std::string place;        ///< its name
};

/// How long it takes to settle: from when on a quantity stays within a band around its last value.
struct Settling {
  bool known = false;                  ///< only where the transient ends steady
  double since = 0.0;                  ///< time of the last given change, from which it is counted [s]
  double overall = 0.0;                ///< all temperatures and all flows [s]
  double flow = 0.0;                   ///< all flows [s]
  std::vector<double> of_temperature;  ///< each, in the history's order [s]
};

/// Finds the settling times. A temperature has settled when it stays within `band` [K] > 0 of its last value;
/// a vent when its gross flows stay within `flow_share` of the last through-flow (the sum of all inflows), or
/// of a tenth of the largest one where that is more. Between two times of the history values are taken to run
/// straight.
Settling settling(const TransientResult& transient, double band, double flow_share);

/// What is known of how much heat the device stores.
enum class Capacities {
  only_air,  ///< nothing but air stores any
  guessed,   ///< only sources and parts do, and each capacity is that of a class of things, not of this one
  known      ///< fins or skin, by volume and area, or something whose capacity the file states
};

/// How long a device soaks, as its heat capacities may be.
struct SoakInterval {
  bool known = false;  ///< only where both transients end steady
  double low = 0.0;    ///< every capacity at the lower end of its spread [s]
  double high = 0.0;   ///< every capacity at the upper end [s]
};

struct WarmUp {
  TransientResult transient;
  Settling settling;
  Comparison steady;  ///< only where the transient ends steady
  /// Index into History::temperature of each part, in the device's order.
  std::vector<int> zone, source, part, fins, skin;
  /// The parts of each zone's air, by indices into History::temperature, and their shares of it.
  std::vector<std::vector<ZonePart>> zone_parts;
  std::vector<int> fan;  ///< index into History::fan_speed of each fan
  double ambient = 0.0;  ///< [K]
  Capacities capacities = Capacities::known;
};

/// Follows a device from its start until it is steady. A part that the start's condition does not have starts
/// at room temperature. Steady starts that cannot be solved and transients that cannot go on end `failed`,
/// with the reason. @pre indices within the case; times within FollowOptions::until.
WarmUp warm_up(const geometry::Case& content, const Plan& plan);

/// The same two times more, with every heat capacity small and large at once: the widest that the soak time
/// can be by them. @pre as warm_up.
SoakInterval soak_interval(const geometry::Case& content, const Plan& plan);

}  // namespace tuft::network
