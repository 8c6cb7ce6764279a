#include "solver/network/controls.hpp"

namespace tuft::network {
namespace {

// Rounds of the active set; each changes at least one source for good or ends.
constexpr int kMaxRounds = 30;
constexpr double kHeatSlack = 1e-9;    // [W]
constexpr double kKelvinSlack = 1e-9;  // [K]

}  // namespace

SteadySolver::SteadySolver(const geometry::Case& content, const HeatLayout& layout, Network& net)
    : device_(content.device), layout_(layout), net_(net), solver_(net.graph) {
  for (std::size_t s = 0; s < device_.sources.size(); ++s) {
    limits_.push_back(limits_of(device_.sources[s]));
    asked_.push_back(layout_.source[s] == kNone ? 0.0 : body(layout_.source[s]).power);
  }
  outcome_.resize(device_.sources.size());
}

Steady SteadySolver::solve(const State* start) {
  Steady steady;
  steady.summary = start != nullptr ? solver_.solve_from(*start) : solver_.solve();
  free_ = solver_.state();
  if (!steady.summary.converged() && hold_all()) {
    // At full power there is no state at all, or none that can be found: begin with everything held.
    const int before = steady.summary.iterations;
    steady.summary = solver_.solve_from(start_);
    steady.summary.iterations += before;
  }
  close_limits(steady);
  return steady;
}

Steady SteadySolver::solve_close(const State& start) {
  Steady steady;
  steady.summary = solver_.solve_close(start);
  free_ = solver_.state();
  if (steady.summary.converged()) close_limits(steady);
  return steady;
}

void SteadySolver::close_limits(Steady& steady) {
  for (int round = 0; round < kMaxRounds && steady.summary.converged(); ++round) {
    start_ = solver_.state();
    if (!adjust()) break;
    const int before = steady.summary.iterations;
    steady.summary = solver_.solve_near(start_);
    steady.summary.iterations += before;
  }
  write_held_powers();
  steady.state = solver_.state();
  steady.sources = outcome_;
  steady.power = total_power(net_.graph);
}

// Changes the first source that breaks its rule; false when none does. A source is judged starved or too
// hot only once every other one that can give way does: until then its neighbours' heat is not the last
// word.
bool SteadySolver::adjust() {
  return any(&SteadySolver::give_way) || any(&SteadySolver::find_power) || shut_down_hottest();
}

// From rest, everything that can give way held at its limit. False if there is nothing.
bool SteadySolver::hold_all() {
  start_ = solver_.equations().at_rest();
  bool any_held = false;
  for (std::size_t s = 0; s < device_.sources.size(); ++s)
    any_held = (layout_.source[s] != kNone && can_give_way(s) && hold(s)) || any_held;
  return any_held;
}

bool SteadySolver::any(bool (SteadySolver::*change)(std::size_t)) {
  for (const int i : by_name(device_.sources))
    if (layout_.source[static_cast<std::size_t>(i)] != kNone && (this->*change)(static_cast<std::size_t>(i)))
      return true;
  return false;
}

// The next solve starts there too: a held temperature can't be walked to.
bool SteadySolver::hold(std::size_t s) {
  solver_.hold(layout_.source[s], limits_[s].throttles_at);
  start_.temperature[layout_.source[s]] = limits_[s].throttles_at;
  outcome_[s].state = SourceState::throttled;
  return true;
}

// Above its limit at full power, or below it at its least: held at the limit.
bool SteadySolver::give_way(std::size_t s) {
  if (!can_give_way(s)) return false;
  const double over = temperature(layout_.source[s]) - limits_[s].throttles_at;
  const SourceState state = outcome_[s].state;
  const bool wants_hold = (state == SourceState::full && over > 0.0) ||
                          (state == SourceState::at_least_power && over < -kKelvinSlack);
  return wants_hold && hold(s);
}

// Held with more than it is asked to take, or with less than its least.
bool SteadySolver::find_power(std::size_t s) {
  if (outcome_[s].state != SourceState::throttled) return false;
  const int index = layout_.source[s];
  const double held = body(index).power + solver_.equations().heat_to_hold(solver_.state(), index);
  if (held > asked_[s] + kHeatSlack) return set_power(s, SourceState::full, asked_[s]);
  if (held < least(s) - kHeatSlack) return set_power(s, SourceState::at_least_power, least(s));
  return false;
}

// How far a source that cannot help itself is past its shutdown temperature [K].
double SteadySolver::too_hot(std::size_t s) const {
  const double limit = limits_[s].shuts_down_at;
  const SourceState state = outcome_[s].state;
  const bool cannot_help_itself =
      state == SourceState::at_least_power || (state == SourceState::full && !can_give_way(s));
  return cannot_help_itself && limit > 0.0 ? temperature(layout_.source[s]) - limit : 0.0;
}

// One at a time, the one furthest past its limit (of equals the first by name): when it is off, the others
// may live.
bool SteadySolver::shut_down_hottest() {
  int hottest = kNone;
  for (int s : by_name(device_.sources)) {
    const auto at = static_cast<std::size_t>(s);
    if (layout_.source[at] == kNone || too_hot(at) <= 0.0) continue;
    if (hottest == kNone || too_hot(at) > too_hot(static_cast<std::size_t>(hottest))) hottest = s;
  }
  return hottest != kNone && set_power(static_cast<std::size_t>(hottest), SourceState::shut_down, 0.0);
}

bool SteadySolver::set_power(std::size_t s, SourceState state, double power) {
  solver_.release(layout_.source[s]);
  body(layout_.source[s]).power = power;
  outcome_[s].state = state;
  return true;
}

// A held source's power is what its balance asks for; from here on the graph says so too.
void SteadySolver::write_held_powers() {
  for (std::size_t s = 0; s < device_.sources.size(); ++s) {
    const int index = layout_.source[s];
    if (index == kNone) continue;
    if (outcome_[s].state == SourceState::throttled) {
      body(index).power += solver_.equations().heat_to_hold(solver_.state(), index);
      solver_.release(index);
    }
    outcome_[s].power = body(index).power;
  }
}

Steady solve_steady(const geometry::Case& content, const HeatLayout& layout, Network& net,
                    const State* start) {
  return SteadySolver(content, layout, net).solve(start);
}

}  // namespace tuft::network
