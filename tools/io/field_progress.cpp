#include "tools/io/field_progress.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

constexpr std::size_t kLookBack = 4;  // steps that tell how fast it goes
constexpr std::size_t kLookBackInTime = 10;

}  // namespace

void TimeLeft::step(double seconds, double residual, double target) {
  left_ = -1.0;
  if (!(residual > 0.0)) return;
  const double decades = std::max(0.0, std::log10(residual / target));
  // A rise begins a new stage: what was learnt of the old one does not count.
  if (!steps_.empty() && decades > steps_.back().decades + 1.0) steps_.clear();
  learn(seconds, decades, kLookBack, 0.1);
}

void TimeLeft::step_in_time(double seconds, double time, double until) {
  left_ = -1.0;
  // Time to go takes the place of decades: steps that grow make the estimate a safe one.
  learn(seconds, until - time, kLookBackInTime, 0.0);
}

void TimeLeft::learn(double seconds, double to_go, std::size_t look_back, double least) {
  steps_.push_back({seconds, to_go});
  if (steps_.size() < 2) return;
  const Step& before = steps_[steps_.size() - std::min(steps_.size(), look_back)];
  const double gained = before.decades - to_go, took = seconds - before.seconds;
  if (gained > least && took > 0.0) left_ = to_go * took / gained;
}

std::string progress_text(const flow2d::Progress& progress, double elapsed, double left) {
  std::string text = fmt::format("cells {} x {}, step {}, ", progress.nx, progress.ny, progress.step);
  if (progress.time >= 0.0 && progress.until > 0.0)
    text += fmt::format("at {:.3g} of {:.4g} s, ", progress.time, progress.until);
  else if (progress.time >= 0.0)
    text += fmt::format("at {:.3g} s, unrest {:.1g}, ", progress.time, progress.rate_of_change);
  text += fmt::format("residual {:.1e}, {}", progress.residual, elapsed_text(elapsed));
  if (left >= 0.0) text += fmt::format(", about {} left", elapsed_text(std::max(left, 1.0)));
  return text;
}

std::string count_text(const std::string& parts, long done, long all, double elapsed) {
  std::string text = fmt::format("{}: {} of {}, {}", parts, done, all, elapsed_text(elapsed));
  if (done <= 0) return text;
  const double left = elapsed * static_cast<double>(all - done) / static_cast<double>(done);
  return text + fmt::format(", about {} left", elapsed_text(std::max(left, 1.0)));
}

}  // namespace tuft::io
