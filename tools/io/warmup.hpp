// A warm-up on its way to people and files.
#pragma once

#include <string>
#include <vector>

#include "solver/network/warm_up.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/results_place.hpp"

namespace tuft::io {

/// A warm-up that did not fail, and where it comes from.
struct WarmupRun {
  geometry::Case content;
  network::Plan plan;
  network::WarmUp warmup;
  std::string case_file, case_sha256, version;
  network::SoakInterval soak = {};  ///< as the heat capacities may be
};

inline const geometry::Condition& condition_of(const WarmupRun& run) {
  return run.content.conditions[run.plan.condition];
}

inline bool is_steady(const WarmupRun& run) { return run.warmup.transient.ending == network::Ending::steady; }

/// One part, zone or patch of skin in the summary.
struct WarmupRow {
  std::string name;
  const char* what = "";    ///< "source", "skin", ...
  double start = 0.0;       ///< [K]
  double hottest = 0.0;     ///< [K]
  double hottest_at = 0.0;  ///< [s]
  double end = 0.0;         ///< [K]
  double settles = 0.0;     ///< after the last given change [s]; only where the warm-up ends steady
};

/// Sources, parts, the metal of fins, skin, the air of zones, in the device's order.
std::vector<WarmupRow> warmup_rows(const WarmupRun& run);

/// What happened, with the temperature that belongs to it.
std::string event_text(const network::Event& event, geometry::UnitSystem units);

/// "from room temperature, 21.0 °C".
std::string start_words(const WarmupRun& run);

/// The table with a header row that states the units: time, then the columns. Lines end with CR LF (RFC
/// 4180), numbers read back exactly. Throws NotFinite when a number is not finite.
std::string warmup_csv(const WarmupRun& run);

/// The chart of temperatures, rpm and W: sources, skin and zones, fans and powers, with what happened when
/// and the temperatures at which sources give way.
std::string warmup_chart(const WarmupRun& run);

/// A header line, how long it soaks, a row for each source, patch of skin and zone, what happened when, and
/// the energy. Ends with a newline.
std::string warmup_text(const WarmupRun& run, const Look& look);

/// The summary as JSON text: what the terminal shows, in SI units, without the series. Same warm-up, same
/// bytes.
std::string warmup_json(const WarmupRun& run, const Contents& contents);

/// Writes results.json, warmup.csv and warmup.svg, whole or not at all (see ResultsFolder). Throws NotFinite
/// or FolderError. Returns the names of the files written, in a fixed order.
std::vector<std::string> write_warmup(const WarmupRun& run, const ResultsPlace& place);

}  // namespace tuft::io
