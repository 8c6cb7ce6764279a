// Ctrl-C and its like, waited for.
#pragma once

#include <csignal>

namespace tuft::cli {

/// The signals that end a program as something to wait for or to poll, for this thread and those it starts
/// later.
class StopSignals {
 public:
  StopSignals();
  ~StopSignals();
  StopSignals(const StopSignals&) = delete;
  StopSignals& operator=(const StopSignals&) = delete;

  /// Readable when one has come.
  int descriptor() const { return descriptor_; }
  /// Takes the signal that made it readable, so that it does not strike when the mask goes.
  void take() const;
  /// Waits for one, and takes it.
  void wait() const;

 private:
  sigset_t before_{};
  int descriptor_ = -1;
};

}  // namespace tuft::cli
