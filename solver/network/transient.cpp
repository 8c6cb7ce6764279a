#include "solver/network/transient.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/network/integrator.hpp"
#include "solver/network/transient_controls.hpp"
#include "solver/network/transient_system.hpp"
#include "solver/numerics/checks.hpp"

namespace tuft::network {

namespace {

constexpr double kEnergyNoise = 1e-3;  // error of the energies that never matters [J]
constexpr double kSameInstant = 1e-9;  // [s] and relative
constexpr double kLongestStep = 20.0;  // between two times of the history [s]
constexpr int kMostEvents = 2000;      // a control that hunts faster than the clock ends the transient
constexpr int kMostAtOnce = 50;        // events at one instant

void require_sizes(const Setup& setup, const LoadInputs& load_inputs) {
  const Graph& graph = setup.graph;
  const bool fits = load_inputs.node_power.size() == graph.nodes.size() &&
                    load_inputs.body_power.size() == graph.bodies.size() &&
                    load_inputs.fans.size() == graph.fans.size() &&
                    load_inputs.source_power.size() == setup.sources.size();
  if (!fits) throw std::invalid_argument("a drive does not match its network");
}

const Setup& checked(const Setup& setup, const TransientOptions& options) {
  numerics::require_positive(options.relative, "relative error");
  numerics::require_positive(options.absolute, "absolute error");
  numerics::require_positive(options.until, "end time");
  require_sizes(setup, setup.load_inputs);
  for (const Change& change : setup.changes) {
    numerics::require_not_negative(change.time, "time of a change");
    if (change.load_inputs) require_sizes(setup, *change.load_inputs);
  }
  if (setup.start.size() != static_cast<Eigen::Index>(setup.graph.nodes.size() + setup.graph.bodies.size()))
    throw std::invalid_argument("a start needs a temperature for every node and body");
  for (double temperature : setup.start) numerics::require_positive(temperature, "temperature of the start");
  return setup;
}

class Run {
 public:
  Run(const Setup& setup, const TransientOptions& options)
      : setup_(checked(setup, options)),
        options_(options),
        graph_(setup.graph),
        heat_(graph_),
        controls_(graph_, setup.sources, heat_),
        system_(heat_, controls_, graph_.ambient.temperature),
        distance_(system_, controls_),
        integrator_(system_, bounds(), controls_.n_roots()),
        changes_(setup.changes) {
    std::stable_sort(changes_.begin(), changes_.end(),
                     [](const Change& a, const Change& b) { return a.time < b.time; });
    temperature_ = setup.start;
    y_ = Eigen::VectorXd::Zero(temperature_.size() + 2);
    name_tracks();
  }

  TransientResult go() {
    if (begin()) {
      while (!ended()) advance();
    }
    close();
    return std::move(transient_);
  }

  End end() const { return {controls_.as_asked(), heat_.state()}; }

 private:
  Bounds bounds() const {
    Bounds b;
    b.relative = options_.relative;
    b.absolute = Eigen::VectorXd::Constant(heat_.size() + 2, options_.absolute);
    b.absolute.tail(2).setConstant(kEnergyNoise);
    b.longest_step = kLongestStep;
    return b;
  }

  void name_tracks() {
    History& history = transient_.history;
    for (const Node& node : graph_.nodes) history.temperature.push_back({node.name, {}});
    for (const Body& body : graph_.bodies) history.temperature.push_back({body.name, {}});
    for (const Watched& vent : setup_.vents) {
      history.inflow.push_back({vent.name, {}});
      history.outflow.push_back({vent.name, {}});
    }
    for (const FanElement& fan : graph_.fans) history.fan_speed.push_back({fan.name, {}});
    for (const SourceRule& source : setup_.sources) history.power.push_back({source.name, {}});
  }

  bool begin() {
    if (setup_.flow) heat_.start_from(*setup_.flow);
    controls_.load_inputs(setup_.load_inputs);
    if (!find_modes()) return false;
    record();
    restart();
    return true;
  }

  bool fail(const std::string& why) {
    transient_.ending = Ending::failed;
    transient_.message = why + " (after " + std::to_string(t_) + " s)";
    failed_ = true;
    return false;
  }

  bool find_modes() {
    if (!controls_.find_modes(temperature_)) return fail("no flow was found at these temperatures");
    heat_.accept();
    return true;
  }

  void restart() {
    y_.head(temperature_.size()) = temperature_.array() - graph_.ambient.temperature;
    integrator_.restart(t_, y_);
    distance_.forget();
  }

  bool due(double time) const { return time <= t_ + kSameInstant * (1.0 + t_); }

  bool ended() {
    if (failed_) return true;
    make_changes();
    if (failed_) return true;
    if (due(options_.until)) {
      transient_.ending = Ending::time_up;
      return true;
    }
    if (next_ < changes_.size() && changes_[next_].time <= options_.until) return false;
    if (!is_steady()) return false;
    transient_.ending = Ending::steady;
    return true;
  }

  bool is_steady() {
    if (options_.steady_within <= 0.0) return false;
    return distance_.within(options_.steady_within);
  }

  // What was to happen by now.
  void make_changes() {
    bool any = false;
    for (; next_ < changes_.size() && due(changes_[next_].time); ++next_) {
      const Change& change = changes_[next_];
      if (change.load_inputs) controls_.load_inputs(*change.load_inputs);
      if (change.failing) controls_.fail(*change.failing);
      transient_.events.push_back({t_, EventKind::change, "", change.text});
      any = true;
    }
    if (!any || !find_modes() || !catch_up()) return;
    record();
    restart();
  }

  void advance() {
    const double stop =
        next_ < changes_.size() ? std::min(changes_[next_].time, options_.until) : options_.until;
    const Integrator::Outcome outcome = integrator_.advance(stop, t_, y_);
    if (outcome == Integrator::Outcome::failed) {
      stumble();
      return;
    }
    stumbled_ = false;
    temperature_ = system_.temperatures(y_);
    if (!heat_.settle(temperature_)) {
      fail("no flow was found at these temperatures");
      return;
    }
    heat_.accept();
    record();
    const std::size_t before = transient_.events.size();
    for (int root : integrator_.fired()) controls_.cross(root, t_, temperature_, transient_.events);
    if (!catch_up() || transient_.events.size() == before) return;
    const bool jumps =
        std::any_of(transient_.events.begin() + static_cast<std::ptrdiff_t>(before), transient_.events.end(),
                    [](const Event& event) { return event.kind <= EventKind::shut_down; });
    if (jumps) record();
    restart();
  }

  // Events that follow from others at once, or that a step passed without a root.
  bool catch_up() {
    for (int round = 0; round < kMostAtOnce; ++round) {
      if (!heat_.settle(temperature_)) return fail("no flow was found at these temperatures");
      const int root = controls_.overdue(temperature_);
      if (root < 0) break;
      controls_.cross(root, t_, temperature_, transient_.events);
    }
    heat_.accept();
    if (static_cast<int>(transient_.events.size()) > kMostEvents)
      return fail("the controls hunt: more than " + std::to_string(kMostEvents) + " events");
    return true;
  }

  // No step could be made: once more from here with a short one, in case the flow has jumped.
  void stumble() {
    const std::string why = integrator_.message();
    if (stumbled_ || !heat_.settle(temperature_)) {
      fail("no step could be made: " + why);
      return;
    }
    stumbled_ = true;
    heat_.accept();
    restart();
  }

  void record() {
    History& history = transient_.history;
    history.time.push_back(t_);
    for (std::size_t i = 0; i < history.temperature.size(); ++i)
      history.temperature[i].values.push_back(temperature_[static_cast<Eigen::Index>(i)]);
    for (std::size_t v = 0; v < setup_.vents.size(); ++v) {
      double in = 0.0, out = 0.0;
      for (int opening : setup_.vents[v].openings) {
        in += heat_.equations().element(opening).backward;
        out += heat_.equations().element(opening).forward;
      }
      history.inflow[v].values.push_back(in);
      history.outflow[v].values.push_back(out);
    }
    for (std::size_t f = 0; f < history.fan_speed.size(); ++f)
      history.fan_speed[f].values.push_back(controls_.speed(static_cast<int>(f)));
    for (std::size_t s = 0; s < history.power.size(); ++s)
      history.power[s].values.push_back(controls_.power(static_cast<int>(s)));
  }

  void close() {
    const Eigen::Index n = temperature_.size();
    EnergyBalance& energy_balance = transient_.energy_balance;
    energy_balance.given = y_[n];
    energy_balance.left = y_[n + 1];
    energy_balance.stored = heat_.capacity().dot(temperature_ - setup_.start);
    const double size = std::max(
        {std::abs(energy_balance.given), std::abs(energy_balance.left), std::abs(energy_balance.stored)});
    energy_balance.error =
        size > 0.0 ? std::abs(energy_balance.given - energy_balance.left - energy_balance.stored) / size
                   : 0.0;
    if (!failed_) {
      transient_.distance = distance_.fresh();
      transient_.growth = fastest_growth(system_, controls_);
    }
  }

  const Setup& setup_;
  TransientOptions options_;
  Graph graph_;
  QuasiSteady heat_;
  Controls controls_;
  System system_;
  Distance distance_;
  Integrator integrator_;
  std::vector<Change> changes_;
  std::size_t next_ = 0;
  double t_ = 0.0;
  Eigen::VectorXd temperature_, y_;
  TransientResult transient_;
  bool failed_ = false, stumbled_ = false;
};

}  // namespace

TransientResult run_transient(const Setup& setup, const TransientOptions& options, End* end) {
  Run run(setup, options);
  TransientResult transient = run.go();
  if (end != nullptr) *end = run.end();
  return transient;
}

}  // namespace tuft::network
