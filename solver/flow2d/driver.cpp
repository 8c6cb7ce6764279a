#include "solver/flow2d/driver.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <stdexcept>

namespace tuft::flow2d {
namespace {

constexpr int kPolishSteps = 30;     // of Newton from where a run in time has come, at least
constexpr double kPolish = 1e3;      // first Courant number of those
constexpr double kSlowGrowth = 0.1;  // of a growth over the rate at which the air passes (judgement)
constexpr double kQuiet = 2e-2;      // rate of change at which they are tried first
constexpr double kQuieter = 0.2;     // of that at which they were tried in vain
constexpr double kPassed = 1.0;      // passages before which no air is taken to have come to rest
constexpr double kSwing = 3.0;       // between the residuals of the last steps: to and fro
constexpr std::size_t kLooked = 20;  // steps looked back on
constexpr double kFollowed = 0.3;    // of the time in which a disturbance grows e-fold: the longest step
constexpr double kFolds = 5.0;  // e-folds from that until a disturbance is as large as it gets (judgement)
constexpr double kSwingPassages = 24.0;  // of a run that follows a swing, at least
constexpr double kUsualPassages = 80.0;  // of another run, without being told
constexpr double kOfSwing = 1.0 / 30.0;  // of the time of a swing: damped by 1 % in each by F29 (derived)
constexpr double kPush = 0.02;           // of the fastest air or the largest difference of temperatures

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

bool is_held(const Stage& stage) { return !stage.energy; }

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

SingleGridTask::SingleGridTask(const std::vector<Problem*>& grids) {
  for (Problem* problem : grids) {
    flows_.emplace_back();
    flows_.back().layers = {problem};
  }
}

Fields SingleGridTask::start(int level) { return {{still_state(*flow(level).layers[0])}, {}}; }

Fields SingleGridTask::carried(int level, const Fields& fields) {
  const Problem &from = *flow(level).layers[0], &to = *flow(level + 1).layers[0];
  State out = interpolated(from, fields.layers[0], to);
  if (!to.energy) out.temperature.fill(to.fluid.temperature);
  return {{std::move(out)}, {}};
}

Strategy thick_air_first() {
  Strategy out;
  for (const double thicker : {256.0, 64.0, 16.0, 4.0})
    out.first.push_back({1.0, thicker, true, 1e-3, 1e4, 20});
  // On a finer grid, when its flow was not found at once.
  for (const double thicker : {16.0, 6.0, 3.0, 2.0, 1.4})
    out.again.push_back({1.0, thicker, true, 1e-3, 1e4, 20});
  // Bold first steps lead astray where the interpolated start has a jet beside a wall.
  out.rough_courant = 5.0;
  out.rough_steps = 40;
  out.courants = {5.0};
  return out;
}

Strategy bold_from_coarse() {
  Strategy out = thick_air_first();
  out.rough_courant = 1e5;
  out.courants = {1e5, 5.0};
  out.scheme_at_once = true;
  return out;
}

/// A grid's flow with its solver, for one stage and scheme at a time.
class Driver::Level {
 public:
  explicit Level(const Flow& flow) : flow_(flow) {
    for (const Problem* p : flow.layers) {
      const std::string fault = p->problem();
      if (!fault.empty()) throw std::invalid_argument(fault);
      if (flow.coupling_terms == nullptr && !p->coupled.empty())
        throw std::invalid_argument(
            "coupled is given: the problem exchanges air with something that is not there");
      factors_.push_back(p->momentum_factor);
      energy_.push_back(p->energy);
    }
  }

  const Flow& flow() const { return flow_; }

  NewtonSummary solve(const Stage& stage, Convection scheme, const NewtonOptions& options, Fields* fields) {
    set(stage, scheme);
    if (stage.thicker == 1.0) return solver().solve(options, fields);
    // What a problem's air is made of its residual takes once.
    std::vector<Problem> thick;
    for (const Problem* p : flow_.layers) thick.push_back(*p);
    Flow thicker = flow_;
    for (std::size_t l = 0; l < thick.size(); ++l) {
      thick[l].fluid.viscosity *= stage.thicker;
      thick[l].fluid.conductivity *= stage.thicker;
      thicker.layers[l] = &thick[l];
    }
    return NewtonSolver(thicker).solve(options, fields);
  }

  /// The problems with all the air's inertia and heat.
  void set(const Stage& stage, Convection scheme) {
    if (solver_ == nullptr && is_held(stage)) solver();  // its unknowns hold the temperatures
    for (std::size_t l = 0; l < flow_.layers.size(); ++l) {
      Problem& p = *flow_.layers[l];
      p.momentum_factor = stage.share * factors_[l];
      p.momentum_scheme = p.energy_scheme = scheme;
      p.energy = stage.energy && energy_[l];
    }
  }

  /// *fields += factor * mode, as Growth has it.
  void push(const std::vector<double>& mode, double factor, Fields* fields) {
    solver().system().add(mode, factor, fields);
  }

  /// How disturbances of steady fields, found with this convection, go on.
  Growth growth(Convection scheme, const Fields& steady) {
    set({}, scheme);
    return growth_of(steady, &solver());
  }

 private:
  NewtonSolver& solver() {
    if (solver_ == nullptr) solver_ = std::make_unique<NewtonSolver>(flow_);
    return *solver_;
  }

  const Flow flow_;
  std::vector<double> factors_;
  std::vector<char> energy_;
  std::unique_ptr<NewtonSolver> solver_;
};

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
