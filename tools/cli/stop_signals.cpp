#include "tools/cli/stop_signals.hpp"

#include <poll.h>
#include <sys/signalfd.h>
#include <unistd.h>

#include <initializer_list>

namespace tuft::cli {

StopSignals::StopSignals() {
  sigset_t wanted;
  sigemptyset(&wanted);
  for (const int number : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&wanted, number);
  pthread_sigmask(SIG_BLOCK, &wanted, &before_);
  descriptor_ = signalfd(-1, &wanted, SFD_CLOEXEC);
}

StopSignals::~StopSignals() {
  if (descriptor_ >= 0) close(descriptor_);
  pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

void StopSignals::take() const {
  signalfd_siginfo info{};
  if (read(descriptor_, &info, sizeof info) < 0) return;
}

void StopSignals::wait() const {
  pollfd ready{descriptor_, POLLIN, 0};
  while (poll(&ready, 1, -1) <= 0) {
  }
  take();
}

}  // namespace tuft::cli
