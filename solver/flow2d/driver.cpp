#include "solver/flow2d/driver.hpp"

#include <algorithm>
#include <cstdio>

#include "solver/flow2d/driver_level.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kSwing = 3.0;       // between the residuals of the last steps: to and fro
constexpr std::size_t kLooked = 20;  // steps looked back on

NewtonOptions rough(const NewtonOptions& options) {
  NewtonOptions out = options;
  out.residual_tolerance = std::max(1e-3, options.residual_tolerance);
  out.mass_tolerance = out.energy_tolerance = 1.0;
  return out;
}

NewtonOptions for_stage(const Stage& stage, const NewtonOptions& options) {
  NewtonOptions out = rough(options);
  out.residual_tolerance = std::max(stage.residual, options.residual_tolerance);
  out.first_courant = stage.courant;
  out.max_steps = std::min(stage.most_steps, options.max_steps);
  if (!stage.energy) out.energy_tolerance = 1e300;  // heat is not asked for yet
  return out;
}

}  // namespace

Driver::Driver(Task* task, const Strategy& strategy) : task_(*task), strategy_(strategy) {}
Driver::~Driver() = default;

Driver::Level& Driver::level_of(int level) {
  auto& made = levels_[level];
  if (made == nullptr) made = std::make_unique<Level>(task_.flow(level));
  return *made;
}

/// Runs through the stages; returns the share of inertia of the last one found, negative when none was, 1
/// where there are none to find or the way there did not matter.
double Driver::stages(Level* level, bool near, const NewtonOptions& options, Fields* fields,
                      NewtonSummary* summary) {
  const auto found = [&](const Stage& stage) {
    Fields candidate = *fields;
    *summary = level->solve(stage, Convection::upwind, for_stage(stage, options), &candidate);
    if (summary->converged()) *fields = std::move(candidate);
    return summary->converged();
  };
  if (near) {
    for (const Stage& stage : strategy_.near)
      if (found(stage)) return stage.share;
    if (strategy_.near.empty()) return 1.0;
    const Fields coarse = *fields;
    if (!strategy_.between.empty() && std::all_of(strategy_.between.begin(), strategy_.between.end(), found))
      return strategy_.between.back().share;
    *fields = coarse;
  }
  double share = -1.0;
  for (const Stage& stage : strategy_.first) {
    if (!found(stage)) break;
    share = stage.share;
  }
  // Thicker air is a help on the way; without the first share of inertia there is none.
  const bool needed = !strategy_.first.empty() && is_held(strategy_.first.front());
  return needed ? share : 1.0;
}

bool Driver::approach(int level, bool near, const NewtonOptions& options, Fields* fields) {
  Level& at = level_of(level);
  NewtonSummary summary;
  Fields found = *fields;
  const double share = stages(&at, near, options, &found, &summary);
  if (share < 0.0) return false;
  *fields = std::move(found);
  NewtonOptions steps = rough(options);
  steps.first_courant = strategy_.rough_courant;
  steps.max_steps = std::min(strategy_.rough_steps, options.max_steps);
  Fields candidate = *fields;
  Stage whole;
  whole.share = share;
  if (at.solve(whole, Convection::upwind, steps, &candidate).end != StepsEnd::diverged)
    *fields = std::move(candidate);
  return true;
}

/// Newton's steps to the end, with one first Courant number after another.
bool Driver::find_whole(Level* level, double share, const NewtonOptions& options, Fields* fields,
                        NewtonSummary* summary) {
  NewtonOptions steps = options;
  Stage whole;
  whole.share = share;
  Fields last = *fields;
  const auto found = [&](const Fields& from, double courant) {
    Fields candidate = from;
    steps.first_courant = courant;
    *summary = level->solve(whole, Convection::upwind, steps, &candidate);
    if (summary->converged()) *fields = std::move(candidate);
    if (!summary->converged() && summary->end != StepsEnd::diverged) last = std::move(candidate);
    return summary->converged();
  };
  for (const double courant : strategy_.courants)
    if (found(*fields, courant)) return true;
  if (strategy_.again.empty()) return false;
  const Fields led_nowhere = last;
  Fields on_the_way = *fields;
  NewtonSummary way;
  for (const Stage& stage : strategy_.again) {
    Fields candidate = on_the_way;
    way = level->solve(stage, Convection::upwind, for_stage(stage, options), &candidate);
    if (!way.converged()) break;
    on_the_way = std::move(candidate);
  }
  if (found(on_the_way, strategy_.courants.front())) return true;
  *fields = led_nowhere;  // where a run in time starts
  return false;
}

FoundFlow Driver::find(int level, bool near, const DriverOptions& options, Fields fields) {
  FoundFlow out;
  Level& at = level_of(level);
  out.fields = std::move(fields);
  if (near && strategy_.scheme_at_once && options.scheme != Convection::upwind) {
    NewtonOptions steps = options.newton;
    steps.first_courant = strategy_.courants.front();
    Fields candidate = out.fields;
    out.newton = at.solve({}, options.scheme, steps, &candidate);
    if (out.newton.converged()) {
      out.fields = std::move(candidate);
      out.first_order = false;
      out.end = FlowEnd::steady;
      out.message = out.newton.message;
      if (options.stable) leave_unstable(&at, options, &out);
      return out;
    }
  }
  double share = stages(&at, near, options.newton, &out.fields, &out.newton);
  const NewtonSummary way = out.newton;
  bool found = share >= 0.0 && find_whole(&at, share, options.newton, &out.fields, &out.newton);
  if ((!found || share < 1.0) && options.in_time.most_steps > 0) {
    out.message =
        "no steady state at first: " + why_no_steady_state(share < 1.0 ? way : out.newton, false) + "; ";
    if (run_in_time(&at, options, &out)) {
      if (out.end == FlowEnd::averaged) return out;
      found = true;
      share = 1.0;
    } else if (found) {  // back to the part of the inertia that was found
      Fields again = out.fields;
      Stage part;
      part.share = share;
      out.newton = at.solve(part, Convection::upwind, options.newton, &again);
    }
  }
  out.share = std::max(share, 0.0);
  out.end = !found ? FlowEnd::not_found : share == 1.0 ? FlowEnd::steady : FlowEnd::reduced;
  out.message += out.newton.message;
  if (out.end == FlowEnd::reduced)
    out.message += "; the fields returned include only part of the air's inertia";
  if (out.steady() && options.scheme != Convection::upwind) raise_order(&at, options, &out);
  if (out.steady() && options.stable) leave_unstable(&at, options, &out);
  return out;
}

void Driver::raise_order(Level* level, const DriverOptions& options, FoundFlow* found) {
  Fields candidate = found->fields;
  const NewtonSummary raised = level->solve({}, options.scheme, options.newton, &candidate);
  if (!raised.converged()) {
    found->message += "; convection of higher order: " + raised.message;
    return;
  }
  found->fields = std::move(candidate);
  found->newton = raised;
  found->first_order = false;
  found->message = raised.message;
}

FoundFlow Driver::run(const DriverOptions& options) {
  const int last = task_.n_levels() - 1;
  bool near = false;
  Fields fields;
  for (int level = 0; level < last; ++level) {
    if (!near) fields = task_.start(level);
    if (!approach(level, near, options.newton, &fields)) {
      near = false;
      break;
    }
    fields = task_.carried(level, fields);
    levels_.erase(level);
    near = true;
  }
  return find(last, near, options, near ? std::move(fields) : task_.start(last));
}

std::string why_no_steady_state(const NewtonSummary& summary, bool limited) {
  const std::vector<double>& all = summary.history;
  const std::size_t n = std::min(all.size(), kLooked);
  double low = 1e300, high = 0.0;
  for (std::size_t k = all.size() - n; k < all.size(); ++k) {
    low = std::min(low, all[k]);
    high = std::max(high, all[k]);
  }
  char text[320];
  if (summary.end == StepsEnd::diverged)
    std::snprintf(
        text, sizeof text,
        "every step from a residual of %.1e on makes it larger: a vent's or fan's law has a kink there, or "
        "there is no steady state near",
        summary.residual());
  else if (n < 4)
    std::snprintf(text, sizeof text, "the steps allowed were too few to show why");
  else if (high > kSwing * low)
    std::snprintf(
        text, sizeof text,
        "the last %zu steps oscillate (residual %.1e to %.1e): between several states, or about one "
        "that is not stable",
        n, low, high);
  else
    std::snprintf(text, sizeof text, "the last %zu steps stand still at a residual of %.1e: %s", n, high,
                  limited ? "a limiter switches, or a vent turns from in to out and back"
                          : "a vent turns from in to out and back, or the cells are too coarse");
  return std::string(text) + " (" + summary.message.substr(0, summary.message.find(". Likely causes")) + ")";
}

}  // namespace tuft::flow2d
