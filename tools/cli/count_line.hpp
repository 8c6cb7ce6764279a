// How far a long task of many equal parts is, on one line of the terminal.
#pragma once

#include <chrono>
#include <string>

namespace tuft::cli {

/// Shows on standard error, where that is a terminal, how many parts are done, once the task has taken a
/// second. Gone without a trace.
class CountLine {
 public:
  /// `parts`: what is counted, such as "samples"; not `wanted`: nothing is ever shown.
  CountLine(std::string parts, bool wanted);
  ~CountLine();
  CountLine(const CountLine&) = delete;
  CountLine& operator=(const CountLine&) = delete;

  /// A count that is lower than the one before, or of another whole, begins a new round.
  void show(long done, long all);

 private:
  using Clock = std::chrono::steady_clock;

  std::string parts_;
  bool active_, shown_ = false;
  long last_done_ = 0, last_all_ = 0;
  Clock::time_point start_, round_;    // of the task, and of its present round
  Clock::time_point heard_, written_;  // last
};

}  // namespace tuft::cli
