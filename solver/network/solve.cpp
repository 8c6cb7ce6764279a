#include "solver/network/solve.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/fan_speed.hpp"
#include "solver/numerics/checks.hpp"

namespace tuft::network {
namespace {

constexpr double kNewton = 1e12;  // pseudo-time step from which on a step is a Newton step
constexpr double kShortest = 1e-9;
constexpr int kMostIterations =
    2000;  // Newton and pseudo-time steps together; one random network in 5,000 takes over 400
// A residual below this that so many steps do not lessen is round-off, and no failure.
constexpr double kRoundOff = 1e-10;
constexpr int kVainSteps = 8;
constexpr double kFirstFlowStep = 1e3;
constexpr double kFirstWarmStep = 1e3;     // in node time constants
constexpr double kTypicalHead = 0.05;      // share of the network's pressure scale an opening starts at
constexpr double kCloser = 0.9;            // a step that brings the residual down to this share is welcome
constexpr double kLinearEnough = 0.5;      // a step may leave this share of the residual it started from
constexpr double kAimedShare = 0.25;       // ... and this is aimed at
constexpr double kLargestWarming = 200.0;  // in one step [K]: keeps the warm-up near its true path
constexpr double kFlowSharper = 100.0;     // flow settles this much faster than warmth
constexpr int kLeapSteps = 12;             // a leap that needs more than these is none
constexpr int kLeapRounds = 4;
constexpr double kRoughFlow = 1e-4;  // the flow a leap starts from need be no better than this
constexpr double kWarmEnough = 5.0;  // [K]: Newton's method does the rest
constexpr int kLeapHeats = 3;        // of which so many warm at the cold flow
constexpr double kLeapCloser = 0.5;  // every later one brings the residual down to this share at least
// A step with the factors of the one before costs half of one with its own. It leaves about the share that
// the one before left; where no more than two such steps are wanted they are the cheaper way to the end (by
// measurement on samples of cases/).
constexpr double kFactorsServe = 3e-2;
// The last step of all goes with kept factors where these leave no more than this share: of a residual within
// the tolerance that is round-off. The masses do not mind, as the slopes are kept with the factors.
constexpr double kFactorsPolish = 1e-3;
constexpr double kFollowedStays = 0.6;  // the same with fans that follow, from the middle of their tables
constexpr double kFlowStays = 0.25;     // a flow may move by this share of its cold value and of the scale

}  // namespace

Solver::Solver(const Graph& graph)
    : equations_(graph),
      step_(equations_),
      x_(equations_.at_rest()),
      trial_(x_),
      cold_(x_),
      warm_(x_),
      speeds_(graph.fans.size(), 0.0) {}

Summary Solver::solve(const Options& options) { return solve_from(switched_on(), options); }

// Ambient temperature, every element at a flow that costs it a typical pressure: at rest the slopes are those
// of creeping flow, far too small to start Newton's method from.
State Solver::switched_on() const {
  State x = equations_.at_rest();
  const Graph& graph = equations_.graph();
  const double density = equations_.ambient_density();
  for (int e = 0; e < equations_.n_openings(); ++e) {
    const Opening& opening = at(graph.openings, e);
    const physics::SideState air{density, physics::viscosity(graph.ambient.temperature)};
    const double head = kTypicalHead * equations_.scales().pressure;
    x.flow[e] = opening.area * physics::early_flux(physics::strip_law(opening.law, air, air), head);
  }
  for (int f = 0; f < equations_.n_fans(); ++f) {
    const FanElement& fan = at(graph.fans, f);
    x.flow[equations_.n_openings() + f] = half_delivery(fan, fan.speed);
  }
  return x;
}

Summary Solver::solve_from(const State& start, const Options& options) {
  Summary summary;
  x_ = start;
  summary.message = connection_fault(equations_.graph());
  if (!summary.message.empty()) {
    summary.stop = StopReason::disconnected;
    return summary;
  }
  const bool frozen = options.frozen_temperature;
  bool done = !frozen && leap(options, summary);
  if (!done) {
    x_ = start;
    equations_.evaluate(x_);
    balance_mass();
    done = march(true, kFirstFlowStep, options, summary) &&
           (frozen || march(false, kFirstWarmStep, options, summary));
  }
  if (done) polish(frozen, options, summary);
  return summary;
}

Summary Solver::solve_near(const State& start, const Options& options) {
  const Summary summary = solve_close(start, options);
  return summary.converged() ? summary : solve_from(start, options);
}

Summary Solver::solve_close(const State& start, const Options& options) {
  Summary summary;
  summary.message = "Newton's method does not get there from the start";
  x_ = start;
  equations_.evaluate(x_);
  if (newton(options, summary)) polish(false, options, summary);
  return summary;
}

// To the steady state in a few steps, where flows hardly change by the warmth: the flow, the temperatures
// that belong to it, then Newton's method. Fans that follow a temperature may need the flow anew at what they
// do then. False if that comes to nothing.
bool Solver::leap(const Options& options, Summary& summary) {
  Options rough = options;
  rough.tolerance = std::max(options.tolerance, kRoughFlow);
  const bool followed = warm_sensors();
  equations_.evaluate(x_);
  balance_mass();
  for (int round = 0; round < (followed ? kLeapRounds : 1); ++round) {
    if (!march(true, round == 0 ? kFirstFlowStep : kNewton, rough, summary)) return false;
    cold_ = x_;
    note_speeds();
    if (!warm_at_this_flow(summary)) return false;
    if (round + 1 < kLeapRounds && speeds_changed()) continue;
    warm_ = x_;
    if (newton(options, summary)) return flows_stayed(cold_, followed ? kFollowedStays : kFlowStays);
    x_ = warm_;
    equations_.evaluate(x_);
  }
  return false;
}

void Solver::note_speeds() {
  for (std::size_t f = 0; f < speeds_.size(); ++f) {
    const FanElement& fan = equations_.graph().fans[f];
    if (fan.sensor >= 0) speeds_[f] = speed_of(fan, equations_.graph(), x_);
  }
}

// True if a fan would now run twice as fast or half as fast as it did when the flow was found.
bool Solver::speeds_changed() const {
  for (std::size_t f = 0; f < speeds_.size(); ++f) {
    const FanElement& fan = equations_.graph().fans[f];
    if (fan.sensor < 0) continue;
    const double now = speed_of(fan, equations_.graph(), x_);
    if (now > 2.0 * speeds_[f] || speeds_[f] > 2.0 * now) return true;
  }
  return false;
}

bool Solver::warm_at_this_flow(Summary& summary) {
  for (int i = 0; i < kLeapHeats; ++i) {
    ++summary.iterations;
    if (!step_.compute_heat(equations_, x_)) return false;
    const double warming = step_.correction().temperature.cwiseAbs().maxCoeff();
    if (warming > kLargestWarming) return false;
    x_.temperature += step_.correction().temperature;
    equations_.evaluate(x_);
    if (warming < kWarmEnough) break;
  }
  return true;
}

// Fans that follow a temperature start from the middle of their tables, where their slope is felt, at a flow
// to match. False where there is none.
bool Solver::warm_sensors() {
  bool any = false;
  for (int f = 0; f < equations_.n_fans(); ++f) {
    const FanElement& fan = at(equations_.graph().fans, f);
    if (fan.sensor < 0) continue;
    x_.temperature[fan.sensor] = 0.5 * (fan.speed_control.x().front() + fan.speed_control.x().back());
    x_.flow[equations_.n_openings() + f] = half_delivery(fan, speed_of(fan, equations_.graph(), x_));
    any = true;
  }
  return any;
}

double Solver::half_delivery(const FanElement& fan, double speed) const {
  return 0.5 * equations_.ambient_density() * fan.curve.free_delivery() * speed / fan.curve.speed();
}

bool Solver::newton(const Options& options, Summary& summary) {
  double norm = step_.norm(equations_, x_, false);
  share_left_ = 1.0;
  for (int i = 0; i < kLeapSteps && norm > options.tolerance; ++i) {
    ++summary.iterations;
    const double before = norm;
    if (share_left_ <= kFactorsServe && norm * share_left_ * share_left_ <= options.tolerance) {
      const StepOutcome outcome = try_step(false, 10.0 * kNewton, 1.0, norm, UseFactors::last);
      if (!outcome.accepted || norm > kLeapCloser * before) share_left_ = 1.0;
      continue;
    }
    if (!try_step(false, 10.0 * kNewton, 1.0, norm).accepted || norm > kLeapCloser * before) return false;
    share_left_ = norm / before;
  }
  if (!(norm <= options.tolerance)) return false;
  summary.stop = StopReason::converged;
  summary.residual = norm;
  summary.message.clear();
  return x_.temperature.size() == 0 || x_.temperature.maxCoeff() < kHottest;
}

bool Solver::flows_stayed(const State& cold, double share) const {
  const double trace = 0.1 * share * equations_.scales().flow;
  for (Eigen::Index e = 0; e < x_.flow.size(); ++e)
    if (std::abs(x_.flow[e] - cold.flow[e]) > share * std::abs(cold.flow[e]) + trace) return false;
  return true;
}

// One more Newton step takes what the tolerance left to round-off: openings without resistance turn a
// harmless pressure residual into a visible flow. It counts as long as it leaves the residual within the
// tolerance: where that is round-off already, it says nothing of the masses, and a start at a flow far above
// all that comes after leaves its round-off in them.
void Solver::polish(bool frozen, const Options& options, Summary& summary) {
  double norm = summary.residual;
  if (norm == 0.0) return;
  const bool kept = !frozen && share_left_ <= kFactorsPolish;
  try_step(frozen, kNewton, std::max(options.tolerance / norm, 1.0), norm,
           kept ? UseFactors::last : UseFactors::own);
  summary.residual = norm;
  ++summary.iterations;
}

// One Newton step of the flow, whatever it does to the pressures: from then on every node's mass is balanced,
// and every later step keeps it so. Pseudo-time needs such a start, as inertia would forbid to mend it.
void Solver::balance_mass() {
  if (!step_.compute(equations_, x_, Inertia{}, true)) {
    x_.flow.setZero();  // at rest it is balanced as well
    equations_.evaluate(x_);
    return;
  }
  x_.flow += step_.correction().flow;
  x_.pressure += step_.correction().pressure;
  equations_.evaluate(x_);
}

// One implicit step of length `step`; kept in x_, with `norm` renewed, when its linearisation leaves less
// than `allowed` of the residual it started from. Returns the factor by which the next step should differ.
Solver::StepOutcome Solver::try_step(bool frozen, double step, double allowed, double& norm,
                                     UseFactors factors) {
  Inertia inertia;
  const Scales& scales = equations_.scales();
  inertia.heat = 1.0 / std::min(step, kNewton);
  if (step < kNewton) inertia.flow = scales.pressure / scales.flow / (step * kFlowSharper);
  const bool solved = factors == UseFactors::last ? step_.compute_with_last_factors(equations_, x_)
                                                  : step_.compute(equations_, x_, inertia, frozen);
  if (!solved) return {false, 0.1};
  const State& change = step_.correction();
  const double warming = change.temperature.size() > 0 ? change.temperature.cwiseAbs().maxCoeff() : 0.0;
  if (warming > kLargestWarming) return {false, std::clamp(0.8 * kLargestWarming / warming, 0.05, 0.5)};
  trial_.flow = x_.flow + change.flow;
  trial_.pressure = x_.pressure + change.pressure;
  trial_.temperature = x_.temperature + change.temperature;
  equations_.evaluate(trial_);
  const double before = norm;
  const LinearStep::StepNorms norms = step_.step_norms(equations_, trial_, inertia, frozen);
  const double after = norms.steady;
  const double share = norms.left / before;
  const bool closer = after <= kCloser * before;
  if (!closer && !(share <= allowed)) {
    equations_.evaluate(x_);
    return {false, 0.1};
  }
  std::swap(x_, trial_);
  norm = after;
  if (closer) return {true, std::clamp(before / std::max(after, 1e-300), 2.0, 30.0)};
  return {true, std::clamp(kAimedShare / std::max(share, 1e-300), 0.5, 3.0)};
}

bool Solver::march(bool frozen, double first_step, const Options& options, Summary& summary) {
  double step = first_step;
  share_left_ = 1.0;  // its factors are of other steps
  double norm = step_.norm(equations_, x_, frozen);
  double least = norm;
  int vain = 0;
  while (norm > options.tolerance && !(norm <= kRoundOff && vain >= kVainSteps)) {
    if (summary.iterations++ >= kMostIterations || step < kShortest) {
      summary.stop = StopReason::stalled;
      summary.residual = norm;
      summary.message = worst_place(frozen);
      return false;
    }
    const StepOutcome outcome = try_step(frozen, step, kLinearEnough, norm);
    step = std::min(step * outcome.factor, 10.0 * kNewton);
    vain = norm <= kCloser * least ? 0 : vain + 1;
    least = std::min(least, norm);
    if (!outcome.accepted) continue;
    if (!frozen && equations_.n_temperatures() > 0 && x_.temperature[hottest()] > kHottest) {
      summary.stop = StopReason::runaway;
      summary.residual = norm;
      summary.message = "'" + temperature_name(equations_.graph(), hottest()) + "' gets hotter than " +
                        std::to_string(static_cast<int>(kHottest)) +
                        " K: too little carries its heat away; "
                        "give it less power, or a way for its heat";
      return false;
    }
  }
  summary.stop = StopReason::converged;
  summary.residual = norm;
  summary.message.clear();
  return true;
}

int Solver::hottest() const {
  Eigen::Index node = 0;
  x_.temperature.maxCoeff(&node);
  return static_cast<int>(node);
}

std::string Solver::worst_place(bool frozen) const {
  const Graph& graph = equations_.graph();
  const Eigen::VectorXd share = equations_.residual(x_).cwiseAbs().cwiseQuotient(equations_.residual_scale());
  const int flows = equations_.n_flows();
  double worst = -1.0;
  std::string place;
  const auto take = [&](double value, const char* balance, const std::string& name) {
    if (value <= worst) return;
    worst = value;
    place = balance + name + "'";
  };
  for (int e = 0; e < flows; ++e) take(share[e], "the pressure balance of '", flow_name(graph, e));
  for (int i = 0; i < equations_.n_temperatures() && !frozen; ++i)
    take(share[flows + equations_.n_nodes() + i], "the heat balance of '", temperature_name(graph, i));
  return "no steady state was found; the largest residual left, " + numerics::short_text(worst) +
         " of its scale, is in " + place +
         "; change what is written there: a value or a curve far from what is usual";
}

}  // namespace tuft::network
