// Ctrl-C while files are being written: noted, so that half a folder can be taken away first.
#pragma once

#include <signal.h>

#include <array>

namespace tuft::output {

/// While one of these lives, SIGINT, SIGTERM and SIGHUP are only noted. When it goes, the handling from
/// before is back in place and a signal that came meanwhile is raised again. Signals that were ignored stay
/// ignored. One at a time: the note is the process's own, as signals are.
class NotedInterrupts {
 public:
  NotedInterrupts();
  ~NotedInterrupts();
  NotedInterrupts(const NotedInterrupts&) = delete;
  NotedInterrupts& operator=(const NotedInterrupts&) = delete;

  /// True when a signal came.
  bool pending() const;
  /// Forgets the signal for now, so that what there is can still be saved; it is raised again all the same
  /// when this goes.
  void set_aside();

 private:
  int aside_ = 0;
  static constexpr std::array<int, 3> kNoted = {SIGINT, SIGTERM, SIGHUP};
  std::array<struct sigaction, kNoted.size()> before_{};
};

}  // namespace tuft::output
