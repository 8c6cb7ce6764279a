// How far a long solve is, on one line.
#pragma once

#include <chrono>

#include "tools/io/field_progress.hpp"

namespace tuft::program {

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

  void show(const field::Progress& progress);

 private:
  double elapsed() const;

  bool terminal_, shown_ = false, active_;
  int finest_;
  double target_, last_ = -1.0;
  std::chrono::steady_clock::time_point start_;
  output::TimeLeft left_;
};

}  // namespace tuft::program
