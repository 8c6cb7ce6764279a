// States that are not stable are left; runs in time (docs/field.md, F31, F35).
#include <algorithm>
#include <cstdio>

#include "solver/flow2d/driver_level.hpp"

namespace tuft::flow2d {
namespace {

constexpr int kPolishSteps = 30;     // of Newton from where a run in time has come, at least
constexpr double kPolish = 1e3;      // first Courant number of those
constexpr double kSlowGrowth = 0.1;  // of a growth over the rate at which the air passes (judgement)
constexpr double kQuiet = 2e-2;      // rate of change at which they are tried first
constexpr double kQuieter = 0.2;     // of that at which they were tried in vain
constexpr double kPassed = 1.0;      // passages before which no air is taken to have come to rest
constexpr double kFollowed = 0.3;    // of the time in which a disturbance grows e-fold: the longest step
constexpr double kFolds = 5.0;  // e-folds from that until a disturbance is as large as it gets (judgement)
constexpr double kSwingPassages = 24.0;  // of a run that follows a swing, at least
constexpr double kUsualPassages = 80.0;  // of another run, without being told
constexpr double kOfSwing = 1.0 / 30.0;  // of the time of a swing: damped by 1 % in each by F29 (derived)
constexpr double kPush = 0.02;           // of the fastest air or the largest difference of temperatures

/// A state in which a disturbance grows is no answer. One that grows so slowly that the air passes many times
/// meanwhile is kept unless all are to be left: the cells decide its sign (mini-desktop, lying, on cells of 3
/// to 8 mm). So is one that the air swings about: the mean of the swings takes some five times as long.
bool is_left(const Growth& growth, const DriverOptions& options) {
  if (!growth.grows() || options.leave_all) return growth.grows();
  return growth.leads_away() && growth.rate * options.in_time.march.passage >= kSlowGrowth;
}

/// Passages of the air in a run in whose first half a disturbance grows to its size.
double passages_to_grow(const Growth& growth, const DriverOptions& options) {
  return 2.0 * kFolds / (growth.rate * options.in_time.march.passage);
}

}  // namespace

/// Whether the steady state found is one that air stays in; where it is not, it is left along the disturbance
/// that grows fastest, and a run in time from there shows what the air does instead.
void Driver::leave_unstable(Level* level, const DriverOptions& options, FoundFlow* found) {
  const Convection scheme = found->first_order ? Convection::upwind : options.scheme;
  if (!found->growth.known) found->growth = level->growth(scheme, found->fields);
  if (!is_left(found->growth, options)) return;
  if (found->growth.swings()) return follow_swing(level, options, found);
  found->left_growth = found->growth.rate;
  char text[160];
  std::snprintf(text, sizeof text,
                "a steady state that is not stable (a disturbance grows at %.2g 1/s) was left; ",
                found->left_growth);
  found->message = text;
  if (options.in_time.most_steps == 0) {
    found->end = FlowEnd::not_found;
    found->message += "no run in time was asked for";
    return;
  }
  const Fields unstable = found->fields;
  level->push(found->growth.mode, kPush, &found->fields);
  // Longer steps would hold the disturbance down.
  DriverOptions closely = options;
  double& longest = closely.in_time.march.longest;
  longest = std::min(longest, kFollowed / found->growth.rate);
  const double needed = passages_to_grow(found->growth, options);
  if (needed > kUsualPassages) closely.in_time.passages = needed;
  if (run_in_time(level, closely, found)) {
    found->message += found->newton.message;
  } else if (found->end != FlowEnd::averaged) {
    found->end = FlowEnd::not_found;
    found->fields = unstable;
    found->message += "no stable state was found";
  }
}

/// From a steady state that the air swings about, disturbed as it swings: the means of a run in time, or the
/// state in which that comes to rest. The steady state stays the answer where neither is found.
void Driver::follow_swing(Level* level, const DriverOptions& options, FoundFlow* found) {
  const Growth swing = found->growth;
  const Fields steady = found->fields;
  const NewtonSummary newton = found->newton;
  const std::string message = found->message;
  char text[160];
  std::snprintf(text, sizeof text,
                "the air swings about a steady state (at %.2g Hz, growing at %.2g 1/s), which was left; ",
                swing.frequency, swing.rate);
  found->message = text;
  level->push(swing.mode, kPush, &found->fields);
  DriverOptions closely = options;
  double& longest = closely.in_time.march.longest;
  longest = std::min({longest, kFollowed / swing.rate, kOfSwing / swing.frequency});
  closely.in_time.passages = std::max(kSwingPassages, passages_to_grow(swing, options));
  if (run_in_time(level, closely, found)) {
    found->left_growth = std::max(found->left_growth, swing.rate);
    if (found->end != FlowEnd::averaged) found->message += found->newton.message;
    return;
  }
  found->end = FlowEnd::steady;
  found->fields = steady;
  found->growth = swing;
  found->newton = newton;
  found->left_growth = 0.0;
  found->message = message + "; " + found->message;
}

/// A run in time from the best there is. True: a steady state was found from where it came, or means. Leaves
/// the fields alone where it finds nothing.
bool Driver::run_in_time(Level* level, const DriverOptions& options, FoundFlow* found) {
  const Convection scheme = found->first_order ? Convection::upwind : options.scheme;
  const auto find_steady = [&](const Fields& now) {
    NewtonOptions steps = options.newton;
    steps.max_steps = std::max(steps.max_steps, kPolishSteps);
    steps.first_courant = kPolish;
    Fields candidate = now;
    const NewtonSummary tried = level->solve({}, scheme, steps, &candidate);
    if (!tried.converged()) return false;
    const Growth growth = options.stable ? level->growth(scheme, candidate) : Growth();
    if (is_left(growth, options)) {
      found->left_growth = std::max(found->left_growth, growth.rate);
      return false;
    }
    found->growth = growth;
    found->fields = std::move(candidate);
    found->newton = tried;
    return true;
  };
  level->set({}, scheme);
  if (options.in_time.monitor)
    found->monitor = options.in_time.monitor(found->fields, options.in_time.passages);
  March march(level->flow(), found->fields, options.in_time.march);
  double trigger = kQuiet;
  const double not_before = std::max(kPassed, 0.25 * options.in_time.passages);
  bool rests = false, failed = false;
  while (found->marched_steps < options.in_time.most_steps) {
    const MarchStep step = march.step(1e9);
    failed = !step.good;
    if (failed) break;
    ++found->marched_steps;
    found->marched = march.time();
    found->mass = std::max(found->mass, step.solved.balance.mass);
    found->energy = std::max(found->energy, step.solved.balance.energy);
    const double passed = found->monitor != nullptr ? found->monitor->passed(march, step)
                                                    : step.step / options.in_time.march.passage;
    const double rate_of_change = passed > 0.0 ? step.change / passed : step.change;
    found->passages += passed;
    if (options.newton.observer) {
      const Grid& cells = level->flow().layers.front()->grid;
      Progress progress{cells.nx(), cells.ny(), found->marched_steps, step.solved.residual, 0.0, 0, false};
      progress.time = march.time();
      progress.rate_of_change = rate_of_change;
      options.newton.observer(progress);
    }
    if (rate_of_change < trigger && found->passages > not_before) {
      rests = find_steady(march.fields());
      if (rests) break;
      trigger = kQuieter * rate_of_change;
    }
    if (found->monitor != nullptr && found->monitor->take(march, step)) break;
  }
  if (!rests && !failed) rests = find_steady(march.fields());
  char text[240];
  std::snprintf(text, sizeof text, "then %d steps in time, %.3g s", found->marched_steps, found->marched);
  found->message += text;
  if (rests) {
    found->message += ", came near rest, and Newton's steps from there ";
    return true;
  }
  if (failed || found->monitor == nullptr || !found->monitor->is_mean()) {
    found->message +=
        failed ? ", after which no step was found, however short; " : ", too short a run for a mean; ";
    return false;
  }
  found->end = FlowEnd::averaged;
  found->fields = found->monitor->mean();
  return true;
}

}  // namespace tuft::flow2d
