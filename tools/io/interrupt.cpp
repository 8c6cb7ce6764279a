#include "tools/io/interrupt.hpp"

#include <atomic>

namespace tuft::output {
namespace {

// A signal handler can reach nothing else. Blocking the signals would do without, but only in one thread, and
// the solver's worker threads would still be ended by them.
std::atomic<int> noted_signal{0};
static_assert(std::atomic<int>::is_always_lock_free, "a signal handler may only touch lock-free values");

void note(int number) { noted_signal = number; }

}  // namespace

NotedInterrupts::NotedInterrupts() {
  noted_signal = 0;
  struct sigaction action {};
  action.sa_handler = note;
  sigemptyset(&action.sa_mask);
  action.sa_flags = SA_RESTART;
  for (std::size_t i = 0; i < kNoted.size(); ++i) {
    sigaction(kNoted[i], nullptr, &before_[i]);
    if (before_[i].sa_handler != SIG_IGN) sigaction(kNoted[i], &action, nullptr);
  }
}

NotedInterrupts::~NotedInterrupts() {
  for (std::size_t i = 0; i < kNoted.size(); ++i) sigaction(kNoted[i], &before_[i], nullptr);
  const int number = noted_signal.exchange(0);
  if (number != 0 || aside_ != 0) raise(number != 0 ? number : aside_);
}

void NotedInterrupts::set_aside() { aside_ = noted_signal.exchange(0); }

bool NotedInterrupts::pending() const { return noted_signal != 0; }

}  // namespace tuft::output
