// What a bench measurement would show, on its way to people and files.
#pragma once

#include <string>
#include <vector>

#include "solver/experiment/bench_report.hpp"
#include "tools/io/results_place.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {

/// A finished report and where it comes from.
struct BenchRun {
  experiment::Report report;
  std::string case_file;  ///< without folders
  std::string case_sha256;
  std::string version;
};

// Words of the bench, the same in text, files and figure.
/// "shows it", "misleads", "shows nothing", "out of reach".
std::string finding_text(experiment::Finding finding);
/// shows-it, misleads, shows-nothing, out-of-reach: for files.
std::string finding_word(experiment::Finding finding);
inline const char* cause_word(experiment::Cause cause) {
  return word_among(cause, {"none", "front", "fans", "buoyancy", "buoyancy-in-height"});
}
inline const char* trap_word(experiment::TrapKind kind) {
  return word_among(
      kind, {"wrong-sign", "buoyancy", "two-ways", "weak", "stiff", "touch", "out-of-reach", "infrared"});
}
inline const char* seen_word(physics::Seen seen) {
  return word_among(seen, {"moves-clearly", "moves-hardly", "does-not-move"});
}
inline const char* part_word(experiment::Part part) { return word_among(part, {"middle", "upper", "lower"}); }
/// Whether a strip leans [m] too little to be told.
bool hangs_still(double lean);
/// How far it leans [m], to whichever side, as a number.
std::string lean_number(double lean, geometry::UnitSystem units);
/// What to do, in one sentence: pose, support, load of a set-up.
std::string setup_text(const experiment::Report& report, const experiment::SetUp& setup);
/// The infrared thermometer's words: what it sees and what it never does.
std::string infrared_text(const experiment::Report& report);

/// The air at one of the distances it was computed for [m]; null where that is none.
const experiment::AirPoint* air_at(const std::vector<experiment::AirPoint>& air, double distance);

/// The whole report as text for a terminal; the answer stands first.
std::string bench_text(const BenchRun& run, const Look& look);

/// bench.csv: a row a vent; strips.csv: a row for each vent, part and tell-tale. RFC 4180.
std::string bench_csv(const BenchRun& run);
std::string tell_tales_csv(const BenchRun& run);

/// results.json of `tuft bench`, with the section `bench` (docs/results.md). Throws NotFinite.
std::string bench_json(const BenchRun& run, const Contents& contents);

/// The device in use and at the bench, side by side, with strips as they would hang.
std::string bench_figure(const BenchRun& run);

/// Writes results.json, bench.csv, strips.csv, bench.svg and bench.png into a folder, whole or not at
/// all.
std::vector<std::string> write_bench(const BenchRun& run, const ResultsPlace& place);

/// A row a vent: roles, flows and heads in use and at the bench, the air before it, what would be found.
std::string vents_table(const experiment::Report& report, const Look& look);
/// Air before the vents that the section cuts, by the laws and read off it; empty without a section.
std::string section_table(const experiment::Report& report, const Look& look);
/// What copy paper, wool, thread and the best of the kit would show at each vent.
std::string strips_table(const experiment::Report& report, const Look& look);
/// The kit, the one that shows the slowest air first.
std::string ranking_table(const experiment::Report& report, const Look& look);
/// What anemometers would show, and how they choke what they measure.
std::string instruments_text(const experiment::Report& report, const Look& look);

}  // namespace tuft::io
