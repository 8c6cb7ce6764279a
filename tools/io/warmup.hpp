// A warm-up as the writers take it: finished, plain data.
#pragma once

#include <string>
#include <vector>

namespace tuft::output {

/// One quantity in time, a value for each of the warm-up's times.
struct WarmupColumn {
  /// In the order of the file.
  enum class Kind { temperature, inflow, outflow, fan_speed, power };
  Kind kind = Kind::temperature;
  std::string name;
  std::vector<double> values;  ///< [K], [kg/s], [kg/s], [rev/s], [W]
  bool drawn = false;          ///< in the chart
};

/// One part, zone or patch of skin in the summary.
struct WarmupRow {
  std::string name;
  std::string what;         ///< "source", "skin", ...
  double start = 0.0;       ///< [K]
  double hottest = 0.0;     ///< [K]
  double hottest_at = 0.0;  ///< [s]
  double end = 0.0;         ///< [K]
  double settles = 0.0;     ///< after the last given change [s]; only where the warm-up ends steady
};

struct WarmupMoment {
  double time = 0.0;  ///< [s]
  std::string text;
  bool drawn = false;  ///< in the chart, too
};

/// A horizontal line in the chart.
struct WarmupLimit {
  double temperature = 0.0;  ///< [K]
  std::string text;
};

struct Warmup {
  std::string condition;      ///< its name
  std::string circumstances;  ///< pose, support, load
  std::string start;          ///< "from room temperature (21.0 °C)"
  std::string device;
  std::string case_file, case_sha256, version;
  std::vector<double> time;  ///< [s], not falling
  std::vector<WarmupColumn> columns;
  std::vector<WarmupRow> rows;
  std::vector<WarmupMoment> moments;
  std::vector<WarmupLimit> limits;
  bool steady = false;       ///< it ended because nothing changes any more
  bool stable = true;        ///< a small push would die away there
  double distance = 0.0;     ///< largest estimated distance from the steady state at the end [K]
  double soak = 0.0;         ///< until everything has settled [s]; only where steady
  double since = 0.0;        ///< counted from there [s]
  double band = 1.0;         ///< [K]
  double flow_share = 0.02;  ///< [-]
  bool compared = false;     ///< a solve of the steady state was found from the end
  double difference = 0.0;   ///< its largest difference from the end [K]
  std::string differs_at;    ///< where
  bool only_air = false;     ///< nothing but air has a heat capacity
  double given = 0.0, left = 0.0, stored = 0.0;  ///< energy [J]
  double energy_error = 0.0;                     ///< [-]
};

/// A time in words: "45 s", "14 min 10 s", "1 h 20 min".
std::string elapsed_text(double seconds);

/// Throws NotFinite when a number of the warm-up is not finite.
void require_finite(const Warmup& warmup);

}  // namespace tuft::output
