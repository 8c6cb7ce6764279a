// How far a long solve is, in words. Knows no clock and no terminal.
#pragma once

#include <string>
#include <vector>

#include "solver/flow2d/newton.hpp"

namespace tuft::io {

/// Estimates how long a solve still takes from how fast its residual falls.
class TimeLeft {
 public:
  /// A step on the finest grid ended after `seconds` with this residual; `target` is where it will stop.
  void step(double seconds, double residual, double target);
  /// A step in time ended after `seconds` at `time` of the model's own, which will stop at `until`.
  void step_in_time(double seconds, double time, double until);
  /// [s]; negative while nothing can be said.
  double seconds() const { return left_; }

 private:
  struct Step {
    double seconds, decades;  // when, and how far from the target
  };
  /// Another step so far from the target; the last `look_back` of them tell how long it takes where they
  /// gained more than `least`.
  void learn(double seconds, double to_go, std::size_t look_back, double least);

  std::vector<Step> steps_;
  double left_ = -1.0;
};

/// "cells 156 x 110, step 7, residual 3.1e-04, 6 s, about 9 s left"; negative `left`: nothing said of it.
/// Steps in time: "cells 156 x 110, step 7, at 0.35 of 60 s, residual 3.1e-10, 6 s, about 9 s left", or
/// without an end to go to: "at 0.35 s, unrest 0.2".
std::string progress_text(const flow2d::Progress& progress, double elapsed, double left);

/// "samples: 512 of 1024, 2 s, about 2 s left": so many parts of a task are done after `elapsed` seconds. No
/// time left is told before the first part is done.
std::string count_text(const std::string& parts, long done, long all, double elapsed);

}  // namespace tuft::io
