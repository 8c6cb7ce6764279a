// A warm-up as the writers take it: finished, plain data; and what they make of it.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "tools/io/grid.hpp"

namespace tuft::io {

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

/// The table with a header row that states the units: time, then the columns. Lines end with CR LF (RFC
/// 4180), numbers read back exactly. Throws NotFinite when a number is not finite.
std::string warmup_csv(const Warmup& warmup);

/// The chart of the columns that are to be drawn, in degrees Celsius, rpm and W; the moments and limits that
/// are to be drawn too.
std::string warmup_chart(const Warmup& warmup);

/// A header line, how long it soaks, a row for each source, patch of skin and zone, what happened when, and
/// the energy. Ends with a newline.
std::string warmup_text(const Warmup& warmup, const Look& look);

/// The summary as JSON text: what the terminal shows, in SI units, without the series. Same warm-up, same
/// bytes.
std::string warmup_json(const Warmup& warmup, const std::vector<std::string>& files);

/// Writes results.json, warmup.csv and warmup.svg, whole or not at all (see ResultsFolder). Throws NotFinite
/// or FolderError. Returns the names of the files written, in a fixed order.
std::vector<std::string> write_warmup(const Warmup& warmup, const std::filesystem::path& place);

}  // namespace tuft::io
