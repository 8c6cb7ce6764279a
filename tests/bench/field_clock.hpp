// Times of named jobs, kept so that ratios can be printed at the end of one run.
#pragma once

#include <algorithm>
#include <chrono>
#include <map>
#include <string>

namespace tuft::bench {

/// Shortest time of every job so far [s].
inline std::map<std::string, double>& best_times() {
  static std::map<std::string, double> times;
  return times;
}

/// Runs the job and keeps its time if it is the shortest so far.
template <class Job>
double timed(const std::string& name, const Job& job) {
  const auto start = std::chrono::steady_clock::now();
  job();
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  auto [entry, is_new] = best_times().emplace(name, seconds);
  if (!is_new) entry->second = std::min(entry->second, seconds);
  return seconds;
}

}  // namespace tuft::bench
