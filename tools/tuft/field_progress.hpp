// How far a long solve is, on one line.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "solver/field/newton.hpp"

namespace tuft::program {

/// Estimates how long a solve still takes from how fast its residual falls. Values only: knows no clock.
class TimeLeft {
 public:
  /// A step on the finest grid ended after `seconds` with this residual; `target` is where it will stop.
  void step(double seconds, double residual, double target);
  /// [s]; negative while nothing can be said.
  double seconds() const { return left_; }

 private:
  struct Step {
    double seconds, decades;  // when, and how far from the target
  };
  std::vector<Step> steps_;
  double left_ = -1.0;
};

/// "cells 156 x 110, step 7, residual 3.1e-04, 6 s, about 9 s left".
std::string progress_text(const field::Progress& progress, double elapsed, double left);

/// Shows progress on standard error: on a terminal on one line that is written over, once the solve has taken
/// a second; elsewhere, only when asked for, a line at a time. Gone without a trace on a terminal.
class ProgressLine {
 public:
  /// `finest`: cells along x of the grid that the result comes from.
  ProgressLine(bool wanted, int finest, double target);
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
  TimeLeft left_;
};

}  // namespace tuft::program
