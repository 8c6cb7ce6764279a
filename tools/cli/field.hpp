// What `tuft field` is asked for, how far it is, and the plan layers followed in time.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>

#include "geometry/device/condition.hpp"
#include "geometry/device/device.hpp"
#include "solver/flow2d/section_plane.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/field_progress.hpp"
#include "tools/io/transient_record.hpp"

namespace tuft::cli {

struct FieldOptions {
  CaseArgument given;
  std::string condition, cells;
  OutOption out;
  SectionWish section;
  bool recirculation = false, refine = false;
  std::string until, every, from;  ///< of a transient, as typed
  bool no_files = false, quiet = false, progress = false;
};

/// A transient as asked for.
struct TransientRequest {
  double until = 0.0, every = 0.0;  ///< [s]; every 0: start and end only
  int from = -1;                    ///< condition in whose steady state it starts; -1: cold
};

/// What --until, --every and --from ask for; nothing without --until. Throws Failure (bad_input).
std::optional<TransientRequest> read_transient(const geometry::Case& content, const FieldOptions& options);

/// The side of a cell when nobody asks for one [m]: the finest step of half a millimetre that takes seconds.
double default_cell(const geometry::Device& device);

/// How long the plan layers take on cells of a size, by their number alone [s of processor time].
struct FieldTime {
  double usual = 0.0;  ///< where a steady state is found at once
  double most = 0.0;   ///< with all the steps in time that are allowed
};
FieldTime field_time(const geometry::Device& device, double cell);

/// The same as a sentence, to be said before the solve; empty where it is a matter of seconds.
std::string field_time_text(const geometry::Device& device, double cell);

/// The memory that the plan layers take at most on cells of a size [bytes].
double field_memory(const geometry::Device& device, double cell);

/// Throws Failure (no_solution), with both figures, where that is more than is free.
void require_memory(const geometry::Device& device, double cell);

/// The side of a cell [m] from the text of --cells; empty: the default. Throws Failure (bad_input) with the
/// allowed range.
double read_cell(const geometry::Device& device, const std::string& text);

/// Throws Failure (bad_input) where cells half as large as these are too small for the device.
void require_half_cell(const geometry::Device& device, double cell);

/// The plane that the text of --section names: "x=206mm", "y=40mm"; empty: nothing, so that it is chosen.
/// Throws Failure (bad_input) with what is allowed.
std::optional<flow2d::Plane> read_plane(const geometry::Device& device, const std::string& text);

/// When a line is shown.
enum class Showing { never, on_terminal, always };

/// Shows progress on standard error: on a terminal on one line that is written over, once the solve has taken
/// a second; elsewhere a line a step. Gone without a trace on a terminal.
class ProgressLine {
 public:
  /// `finest`: cells along x of the grid that the result comes from.
  ProgressLine(Showing when, int finest, double target);
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void show(const flow2d::Progress& progress);

 private:
  double elapsed() const;

  bool terminal_, shown_ = false, active_;
  int finest_;
  double target_, last_ = -1.0;
  std::chrono::steady_clock::time_point start_;
  io::TimeLeft left_;
};

/// Solves the plan layers of the run's one condition, and how they agree with the network. Throws Failure
/// (no_solution); `more` ends its message.
void solve_layers(io::FieldRun& field, Showing showing, const std::string& more);

struct TransientRun {
  TransientRequest wish;
  io::TransientRecord record;                   ///< with the network's answer and the cell
  std::optional<study::ConditionResult> start;  ///< the network's, of the condition to start from
  std::optional<io::ResultsPlace> place;        ///< nothing: no files
  Showing showing = Showing::never;
};

/// Follows, writes while it goes, and tells. An interrupt leaves a partial folder and then takes effect.
/// Throws Failure.
ExitStatus write_transient(TransientRun* run, bool quiet);

}  // namespace tuft::cli
