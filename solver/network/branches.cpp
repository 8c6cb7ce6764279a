#include "solver/network/branches.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>
#include <utility>

#include "solver/network/continuation.hpp"
#include "solver/network/initial_states.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::network {
namespace {

using numerics::kPi;
// What a person could tell apart (judgement): air that moves a millimetre a second faster through some
// opening, or a thousandth of the largest flow more where flows are large; a twentieth of a kelvin.
constexpr double kFlowTolerance = 1e-3;
constexpr double kSpeedTolerance = 1e-3;        // [m/s]
constexpr double kLeastBranchFlow = 1e-6;       // of the network's scale
constexpr double kTemperatureTolerance = 0.05;  // [K]
constexpr double kKick = 0.02;                  // along the mode of an unstable state
constexpr int kTiltSteps = 12;                  // of a half turn
constexpr int kSpeedSteps = 8;                  // from still to the condition's speed
constexpr int kTracePoints = 150;               // at most, in each direction of each parameter
constexpr double kHighestFactor = 3.0;          // of speed and power in a trace
constexpr std::size_t kMostBranches = 12;       // from which on nothing more is tried
constexpr std::size_t kMostLateFans = 12;       // started late each for itself
constexpr const char* kNotTraced = "what would tip it was not traced";

double largest(const Eigen::VectorXd& x) { return x.lpNorm<Eigen::Infinity>(); }

// Flow in each element that nobody could tell from none [kg/s]. A fan is as wide as what it draws through.
Eigen::VectorXd traces_of(const network::Graph& graph) {
  const network::Equations equations(graph);
  Eigen::VectorXd trace(equations.n_flows());
  double widest = 0.0;
  for (int e = 0; e < equations.n_openings(); ++e) {
    const double area = at(graph.openings, e).area;
    widest = std::max(widest, area);
    trace[e] = kSpeedTolerance * equations.ambient_density() * area;
  }
  trace.tail(equations.n_fans()).setConstant(kSpeedTolerance * equations.ambient_density() * widest);
  return trace;
}

bool same_state(const State& a, const State& b, const Eigen::VectorXd& traces) {
  const double share = kFlowTolerance * std::max(largest(a.flow), largest(b.flow));
  for (Eigen::Index e = 0; e < a.flow.size(); ++e)
    if (std::abs(a.flow[e] - b.flow[e]) > std::max(share, traces[e])) return false;
  return largest(a.temperature - b.temperature) <= kTemperatureTolerance;
}

class Search {
 public:
  Search(const ModelAt& model_at, const geometry::Case& content, const BranchOptions& options)
      : model_at_(model_at), content_(content), options_(options), base_(model_at({})) {
    least_flow_ = kLeastBranchFlow * Equations(base_.net.graph).scales().flow;
    traces_ = traces_of(base_.net.graph);
    is_large_ = is_large(Equations(base_.net.graph));
  }

  Branches run() {
    if (!start_cold()) return out_;
    const State cold = cold_branch().steady.state;
    Model limited = base_;
    apply_outcomes(content_, cold_branch().steady.sources, limited);
    try_starts(starts_around(limited, cold));
    start_fans_late();
    if (options_.sweeps) sweep(cold);
    if (is_large_) leave_out("whether a state of so large a network swings was not looked for");
    go_on_from_states();
    put_in_order();
    return out_;
  }

 private:
  // From the states that the starts led to: first without traces where those depend on what is found.
  void go_on_from_states() {
    if (options_.traces) return work_through(true);
    const Branches begun = out_;
    const bool said_full = said_full_, all_known = all_known_;
    work_through(false);
    if (!options_.traces_of_several || count_stable() < 2) return;
    if (is_large_) return leave_out(kNotTraced);
    const int spent = out_.solves;
    out_ = begun;
    out_.solves = spent;
    said_full_ = said_full;
    all_known_ = all_known;
    work_through(true);
  }

  // The list grows meanwhile.
  void work_through(bool traces) {
    if (traces && is_large_) leave_out(kNotTraced);
    for (std::size_t i = 0; i < out_.branches.size() && !is_full(); ++i) {
      if (!out_.branches[i].stability.stable) push_out(i);
      if (traces && !is_large_ && out_.branches[i].stability.stable) trace_all(i);
    }
  }

  int count_stable() const {
    return static_cast<int>(std::count_if(out_.branches.begin(), out_.branches.end(),
                                          [](const Branch& b) { return b.stability.stable; }));
  }

  void leave_out(const std::string& what) { out_.left_out += (out_.left_out.empty() ? "" : "; ") + what; }

  // Devices of many like vents have as many states as there are choices of vents that draw.
  bool is_full() {
    if (out_.branches.size() < kMostBranches) return false;
    if (!said_full_) leave_out("the search ended after " + std::to_string(kMostBranches) + " states");
    return said_full_ = true;
  }

  void try_starts(const Starts& all) {
    if (all.driven < all.loops)
      leave_out("of " + std::to_string(all.loops) + " ways round, " + std::to_string(all.driven) +
                " were driven");
    for (const Start& start : all.starts) {
      if (is_full()) return;
      try_start(start.state, start.how);
    }
  }

  const Branch& cold_branch() const {
    return *std::find_if(out_.branches.begin(), out_.branches.end(),
                         [](const Branch& b) { return b.cold_start; });
  }

  Steady solved(Model& model, const State* start) {
    ++out_.solves;
    return solve_steady(content_, model.layout, model.net, start);
  }

  bool start_cold() {
    Model model = base_;
    ++out_.solves;
    const Steady steady = solve_from_cold(content_, model);
    out_.summary = steady.summary;
    if (!steady.summary.converged()) {
      out_.words = steady.summary.message;
      return false;
    }
    std::size_t at = add(steady, "a cold start");
    if (!out_.branches[at].stability.stable) {
      // The solve came to rest where a device would not. Its own time from cold says where that goes; the
      // nudge decides where two ways are equal.
      const Branch unstable = out_.branches[at];
      State rest = Equations(base_.net.graph).at_rest();
      nudge(unstable, 1e-3, rest);
      at = relaxed(unstable, rest, "a cold start").value_or(at);
    }
    out_.branches[at].cold_start = true;
    return true;
  }

  // The branch of a solve's result, a new one if there is none yet.
  std::size_t add(const Steady& steady, const std::string& how) {
    for (std::size_t i = 0; i < out_.branches.size(); ++i) {
      if (!same_state(out_.branches[i].steady.state, steady.state, traces_)) continue;
      auto& list = out_.branches[i].reached_by;
      if (std::find(list.begin(), list.end(), how) == list.end()) list.push_back(how);
      return i;
    }
    Branch branch;
    branch.steady = steady;
    Model model = base_;
    branch.held = apply_outcomes(content_, steady.sources, model);
    newton(model, branch.held, branch.steady.state);
    Equations equations(model.net.graph);
    for (const auto& [temperature, value] : branch.held) equations.hold(temperature, value);
    equations.evaluate(branch.steady.state);
    branch.stability = stability(equations, branch.steady.state);
    if (!branch.stability.known && std::exchange(all_known_, false))
      leave_out("whether a disturbance grows was not found out for every state");
    branch.reached_by = {how};
    out_.branches.push_back(branch);
    return out_.branches.size() - 1;
  }

  void try_start(const State& start, const std::string& how) {
    Model model = base_;
    const Steady steady = solved(model, &start);
    if (!steady.summary.converged()) return;
    const std::size_t at = add(steady, how);
    if (!out_.branches[at].stability.stable) relaxed(Branch(out_.branches[at]), start, how);
  }

  // Follows the transient from a state, the limits as in `like`, and what it ends in with limits closed.
  std::optional<std::size_t> relaxed(const Branch& like, State from, const std::string& how) {
    Model model = base_;
    const Held held = apply_outcomes(content_, like.steady.sources, model);
    if (!relax(model, held, from)) return std::nullopt;
    Model closed = base_;
    const Steady steady = solved(closed, &from);
    if (!steady.summary.converged()) return std::nullopt;
    return add(steady, how);
  }

  void nudge(const Branch& unstable, double factor, State& x) const {
    const State& at = unstable.steady.state;
    const double flow = std::max(largest(at.flow), least_flow_);
    const State& mode = unstable.stability.mode;
    const double size = std::max(largest(mode.flow) / flow, largest(mode.temperature) / 10.0);
    if (!(size > 0.0)) return;
    x.flow += factor / size * mode.flow;
    x.temperature += factor / size * mode.temperature;
  }

  void push_out(std::size_t index) {
    const Branch unstable = out_.branches[index];
    for (const double sign : {1.0, -1.0}) {
      State x = unstable.steady.state;
      nudge(unstable, sign * kKick, x);
      relaxed(unstable, x, "pushed out of an unstable state");
    }
  }

  bool has_fans() const {
    return std::any_of(base_.net.graph.fans.begin(), base_.net.graph.fans.end(),
                       [](const FanElement& fan) { return fan.speed > 0.0; });
  }

  // All fans still until everything is warm, then on; and each fan so for itself where there are several.
  void start_fans_late() {
    if (!has_fans() || is_full()) return;
    Model still = model_at_(with({}, ContinuationParameter::fan_speed, 0.0));
    const Steady warm = solved(still, nullptr);
    if (warm.summary.converged()) try_start(warm.state, "fans started late");
    const std::size_t n = base_.net.graph.fans.size();
    if (n > kMostLateFans)
      leave_out("of " + std::to_string(n) + " fans, " + std::to_string(kMostLateFans) + " were started late");
    for (std::size_t f = 0; f < std::min(n, kMostLateFans) && n > 1 && !is_full(); ++f) {
      Model one = base_;
      FanElement& fan = one.net.graph.fans[f];
      fan.speed = 0.0;
      fan.sensor = kNoSensor;
      const Steady without = solved(one, nullptr);
      if (without.summary.converged()) try_start(without.state, "'" + fan.name + "' started late");
    }
  }

  // Walks from one setting to the next, each solve from the state before, and ends at the condition.
  void walk(const std::vector<Setting>& way, const State* start, const std::string& how) {
    Model before = base_;
    State x = start != nullptr ? *start : Equations(base_.net.graph).at_rest();
    bool known = start != nullptr;
    for (const Setting& setting : way) {
      Model here = model_at_(setting);
      if (known) x = carried_over(before.net.graph, x, here.net.graph);
      const Steady steady = solved(here, known ? &x : nullptr);
      if (!steady.summary.converged()) continue;
      x = steady.state;
      known = true;
      before = std::move(here);
    }
    if (known) try_start(carried_over(before.net.graph, x, base_.net.graph), how);
  }

  void sweep(const State& cold) {
    if (base_.net.graph.ambient.gravity.norm() > 0.0) {
      for (const double side : {1.0, -1.0}) {
        std::vector<Setting> way;
        const int n = kTiltSteps;
        for (int i = 1; i < 2 * n; ++i)
          way.push_back(with({}, ContinuationParameter::tilt, side * kPi * (i <= n ? i : 2 * n - i) / n));
        walk(way, &cold,
             side > 0.0 ? "turned over and back in one direction"
                        : "turned over and back in the other direction");
      }
    }
    if (!has_fans()) return;
    std::vector<Setting> up, down;
    for (int i = 0; i < kSpeedSteps; ++i) {
      const double share = static_cast<double>(i) / kSpeedSteps;
      up.push_back(with({}, ContinuationParameter::fan_speed, share));
      down.push_back(with({}, ContinuationParameter::fan_speed, 2.0 - share));
    }
    walk(up, nullptr, "fans sped up from rest");
    walk(down, nullptr, "fans slowed down from twice the speed");
  }

  Family family_of(const Branch& branch, ContinuationParameter parameter) const {
    Family family;
    family.held = branch.held;
    const std::vector<SourceOutcome> sources = branch.steady.sources;
    family.at = [this, sources, parameter](double value) {
      Model model = model_at_(with({}, parameter, value));
      apply_outcomes(content_, sources, model);
      return model;
    };
    family.belongs = [this, sources, parameter](double value, const Equations& equations, const State& x) {
      return sources.empty() ||
             outcomes_stand(content_, sources, model_at_(with({}, parameter, value)), equations, x);
    };
    return family;
  }

  void trace_all(std::size_t index) {
    const Branch branch = out_.branches[index];
    const auto& graph = base_.net.graph;
    const bool powered = branch.steady.power != 0.0;
    if (has_fans()) trace_knob(index, branch, ContinuationParameter::fan_speed);
    if (powered) trace_knob(index, branch, ContinuationParameter::power);
    if (powered && graph.ambient.gravity.norm() > 0.0) trace_knob(index, branch, ContinuationParameter::tilt);
  }

  void trace_knob(std::size_t index, const Branch& branch, ContinuationParameter parameter) {
    const double here = value({}, parameter);
    TraceOptions options;
    options.low = parameter == ContinuationParameter::tilt ? -kPi : 0.0;
    options.high = parameter == ContinuationParameter::tilt ? kPi : kHighestFactor;
    options.max_points = kTracePoints;
    for (const bool rising : {true, false}) {
      const Trace found = trace(family_of(branch, parameter), branch.steady.state, here, rising, options);
      if (!found.folds.empty())
        out_.branches[index].turning_points.push_back(
            {parameter, found.folds[0].parameter, found.folds[0].parameter - here});
      for (const CurvePoint& point : found.returns) {
        Steady steady = branch.steady;
        steady.state = point.state;
        add(steady, "followed from another state past a turning point");
      }
    }
  }

  void put_in_order() {
    auto& list = out_.branches;
    std::stable_sort(list.begin(), list.end(), [](const Branch& a, const Branch& b) {
      return std::pair{!a.cold_start, !a.stability.stable} < std::pair{!b.cold_start, !b.stability.stable};
    });
    out_.stable = count_stable();
    const State& cold = list.front().steady.state;
    for (Branch& branch : list) {
      const State& x = branch.steady.state;
      const double trace_flow = 1e-3 * largest(x.flow);
      for (Eigen::Index e = 0; e < x.flow.size(); ++e)
        if (x.flow[e] * cold.flow[e] < 0.0 && std::abs(x.flow[e]) > trace_flow)
          branch.turned.push_back(flow_name(base_.net.graph, e));
      branch.words = words_of(branch);
    }
    std::ostringstream text;
    if (out_.stable == 1) text << "One stable steady state was found.";
    if (out_.stable > 1)
      text << out_.stable << " stable steady states exist; a cold start reaches the first.";
    if (out_.stable == 0) text << "No stable steady state was found.";
    out_.words = text.str();
  }

  static std::string joined(const std::vector<std::string>& names, const char* quote) {
    std::string text;
    for (std::size_t i = 0; i < names.size(); ++i) text += (i > 0 ? ", " : "") + (quote + names[i]) + quote;
    return text;
  }

  // The first three; what is left is counted.
  static std::string few_of(const std::vector<std::string>& ways) {
    const std::size_t shown = std::min<std::size_t>(ways.size(), 3);
    std::string text = joined({ways.begin(), ways.begin() + static_cast<std::ptrdiff_t>(shown)}, "");
    if (ways.size() > shown) text += " and " + std::to_string(ways.size() - shown) + " other ways";
    return text;
  }

  static std::string words_of(const Branch& branch) {
    std::ostringstream text;
    text << (branch.stability.stable ? "Stable" : "Unstable: no device stays in it") << "; reached by "
         << few_of(branch.reached_by) << ".";
    if (!branch.turned.empty())
      text << " Compared with the cold start, the flow is reversed in " << joined(branch.turned, "'") << ".";
    for (const TurningPoint& turning_point : branch.turning_points)
      text << " It ceases to exist " << tip_words(turning_point) << ".";
    if (!branch.stability.place.empty() && branch.stability.stable)
      text << " Its least stable quantity is "
           << (branch.stability.place_is_flow ? "the flow through '" : "the temperature of '")
           << branch.stability.place << "'.";
    return text.str();
  }

  const ModelAt& model_at_;
  const geometry::Case& content_;
  const BranchOptions& options_;
  Model base_;
  double least_flow_ = 0.0;
  Eigen::VectorXd traces_;
  bool is_large_ = false, said_full_ = false, all_known_ = true;
  Branches out_;
};

}  // namespace

std::string tip_words(const TurningPoint& turning_point) {
  std::ostringstream text;
  text.precision(3);
  if (turning_point.parameter == ContinuationParameter::tilt)
    text << "when tilted by " << turning_point.change * 180.0 / kPi << " degrees";
  else
    text << (turning_point.parameter == ContinuationParameter::power ? "at " : "at fan speeds of ")
         << turning_point.value
         << (turning_point.parameter == ContinuationParameter::power ? " times the power"
                                                                     : " times those here");
  return text.str();
}

Branches find_branches(const ModelAt& model_at, const geometry::Case& content, const BranchOptions& options) {
  return Search(model_at, content, options).run();
}

Branches find_branches(const geometry::Case& content, const geometry::Condition& condition,
                       const BranchOptions& options) {
  const Network net = assemble(content, condition);
  return find_branches(models_of(content, condition, tilt_axis(net.graph)), content, options);
}

}  // namespace tuft::network
