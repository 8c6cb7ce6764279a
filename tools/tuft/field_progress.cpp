#include "tools/tuft/field_progress.hpp"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "tools/output/numbers.hpp"
#include "tools/output/warmup.hpp"
#include "tools/tuft/console.hpp"

namespace tuft::program {
namespace {

constexpr double kQuiet = 1.0;     // a solve that takes less needs no line [s]
constexpr double kBetween = 0.25;  // between two writings of the line [s]
constexpr std::size_t kLookBack = 4;

std::string exponent(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1e", value);
  return text;
}

}  // namespace

void TimeLeft::step(double seconds, double residual, double target) {
  if (!(residual > 0.0)) return;
  const double decades = std::max(0.0, std::log10(residual / target));
  // A rise begins a new stage: what was learnt of the old one does not count.
  if (!steps_.empty() && decades > steps_.back().decades + 1.0) steps_.clear();
  steps_.push_back({seconds, decades});
  left_ = -1.0;
  if (steps_.size() < 2) return;
  const Step& before = steps_[steps_.size() - std::min(steps_.size(), kLookBack)];
  const double gained = before.decades - decades, took = seconds - before.seconds;
  if (gained > 0.1 && took > 0.0) left_ = decades * took / gained;
}

std::string progress_text(const field::Progress& progress, double elapsed, double left) {
  std::string text = "cells " + std::to_string(progress.nx) + " x " + std::to_string(progress.ny) +
                     ", step " + std::to_string(progress.step) + ", residual " + exponent(progress.residual) +
                     ", " + output::elapsed_text(elapsed);
  if (left >= 0.0) text += ", about " + output::elapsed_text(std::max(left, 1.0)) + " left";
  return text;
}

ProgressLine::ProgressLine(bool wanted, int finest, double target)
    : terminal_(isatty(STDERR_FILENO) != 0),
      active_(wanted || terminal_),
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
  if (progress.nx == finest_) left_.step(now, progress.residual, target_);
  if (terminal_ && (now < kQuiet || now - last_ < kBetween)) return;
  last_ = now;
  shown_ = true;
  const std::string text = progress_text(progress, now, progress.nx == finest_ ? left_.seconds() : -1.0);
  complain(terminal_ ? "\r\x1b[K" + text : text + "\n");
}

}  // namespace tuft::program
