// Times of named jobs, kept so that ratios can be printed at the end of one run.
#pragma once

#include <omp.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <map>
#include <string>

namespace tuft::experiment {

/// Shortest time of every job so far [s].
inline std::map<std::string, double>& best_times() {
  static std::map<std::string, double> times;
  return times;
}

/// Time of the machine, or of the processor where one thread works: other work on the machine then counts
/// less.
inline double clock_now() {
  if (omp_get_max_threads() == 1) return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

/// Runs the job and keeps its time if it is the shortest so far.
template <class Job>
double timed(const std::string& name, const Job& job) {
  const double start = clock_now();
  job();
  const double seconds = clock_now() - start;
  auto [entry, is_new] = best_times().emplace(name, seconds);
  if (!is_new) entry->second = std::min(entry->second, seconds);
  return seconds;
}

}  // namespace tuft::experiment
