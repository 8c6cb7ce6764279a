#include "tools/cli/progress_line.hpp"

#include <unistd.h>

#include <string>

#include "tools/cli/console.hpp"

namespace tuft::program {
namespace {

constexpr double kQuiet = 1.0;     // a solve that takes less needs no line [s]
constexpr double kBetween = 0.25;  // between two writings of the line [s]

}  // namespace

ProgressLine::ProgressLine(Showing when, int finest, double target)
    : terminal_(isatty(STDERR_FILENO) != 0),
      active_(when == Showing::always || (when == Showing::on_terminal && terminal_)),
      finest_(finest),
      target_(target),
      start_(std::chrono::steady_clock::now()) {}

ProgressLine::~ProgressLine() {
  if (shown_ && terminal_) complain("\r\x1b[K");
}

double ProgressLine::elapsed() const {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
}

void ProgressLine::show(const field::Progress& progress) {
  if (!active_) return;
  const double now = elapsed();
  const bool in_time = progress.time >= 0.0;
  const bool counts = progress.nx == finest_ && (!in_time || progress.until > 0.0);
  if (counts && in_time) left_.step_in_time(now, progress.time, progress.until);
  if (counts && !in_time) left_.step(now, progress.residual, target_);
  if (terminal_ && (now < kQuiet || now - last_ < kBetween)) return;
  last_ = now;
  shown_ = true;
  const std::string text = output::progress_text(progress, now, counts ? left_.seconds() : -1.0);
  complain(terminal_ ? "\r\x1b[K" + text : text + "\n");
}

}  // namespace tuft::program
