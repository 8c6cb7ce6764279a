#include "solver/network/transient_controls.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "solver/network/transient_system.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::network {
namespace {

constexpr double kFar = 1.0;          // value of a root function that is not watched, before its crossing
constexpr double kSameKelvin = 1e-7;  // temperatures nearer than this are the same
constexpr double kSamePower = 1e-9;   // [W]
// A sensor that cools more slowly than this has not turned [K/s]: below it the error of a step decides.
// Over an hour it lets a fan slow by what 4 mK are worth (judgement).
constexpr double kTurning = 1e-6;

std::string with_digits(double value, int digits, const char* unit) {
  char text[48];
  std::snprintf(text, sizeof text, "%.*f %s", digits, value, unit);
  return text;
}

/// "24.0 W", "2580 rpm" for revolutions a second.
std::string watts(double power) { return with_digits(power, 1, "W"); }
std::string turns(double speed) { return with_digits(std::round(60.0 * speed), 0, "rpm"); }

}  // namespace

Controls::Controls(Graph& graph, const std::vector<SourceRule>& rules, QuasiSteady& heat)
    : graph_(&graph),
      heat_(&heat),
      fans_(graph.fans.size()),
      held_(graph.nodes.size() + graph.bodies.size(), 0) {
  for (const SourceRule& rule : rules) sources_.push_back({&rule, 0.0, 0.0, SourceState::full});
}

Body* Controls::body_of(const Source& source) const {
  return source.rule->temperature < 0 ? nullptr : &body_at(*graph_, source.rule->temperature);
}

void Controls::load_inputs(const LoadInputs& load_inputs) {
  for (std::size_t i = 0; i < graph_->nodes.size(); ++i) graph_->nodes[i].power = load_inputs.node_power[i];
  for (std::size_t i = 0; i < graph_->bodies.size(); ++i) graph_->bodies[i].power = load_inputs.body_power[i];
  for (std::size_t s = 0; s < sources_.size(); ++s) {
    Source& source = sources_[s];
    source.asked = load_inputs.source_power[s];
    source.least = source.rule->limits.least(source.asked);
    apply_power(source);
  }
  for (std::size_t f = 0; f < fans_.size(); ++f) {
    const FanElement& wanted = load_inputs.fans[f];
    Fan& fan = fans_[f];
    if (fan.failed) continue;
    fan.sensor = wanted.sensor;
    if (fan.sensor == kNoSensor) {
      fan.speed = wanted.speed;
      fan.plays = false;
    } else {
      const bool followed = !fan.play_operator.rising().empty();
      fan.play_operator = PlayOperator(wanted.speed_control, wanted.hysteresis);
      fan.plays = wanted.hysteresis > 0.0;
      if (!followed && !started_) fan.speed = 0.0;  // a cold start finds its branch from below
    }
    apply(f);
  }
  started_ = true;
}

void Controls::fail(int index) {
  Fan& fan = at(fans_, index);
  fan.failed = true;
  fan.sensor = kNoSensor;
  fan.plays = false;
  fan.speed = 0.0;
  apply(static_cast<std::size_t>(index));
}

// Says to the graph what a fan does in its mode.
void Controls::apply(std::size_t index) const {
  const Fan& fan = fans_[index];
  FanElement& element = graph_->fans[index];
  const bool speed_control = fan.sensor != kNoSensor && (!fan.plays || fan.mode != PlayMode::held);
  element.sensor = speed_control ? fan.sensor : kNoSensor;
  if (speed_control)
    element.speed_control =
        fan.mode == PlayMode::falling ? fan.play_operator.falling() : fan.play_operator.rising();
  else
    element.speed = fan.speed;
  heat_->changed();
}

// Says to the graph what a source takes in its mode, and which temperatures are held.
void Controls::apply_power(const Source& source) {
  Body* body = body_of(source);
  if (body == nullptr) return;
  const bool little = source.mode == SourceState::at_least_power;
  body->power = source.mode == SourceState::shut_down ? 0.0 : little ? source.least : source.asked;
  at(held_, source.rule->temperature) = source.mode == SourceState::throttled ? 1 : 0;
  held_list_.clear();
  for (std::size_t i = 0; i < held_.size(); ++i)
    if (held_[i] != 0) held_list_.push_back(static_cast<int>(i));
  heat_->changed();
}

// Power that would leave a source's temperature where it is [W].
double Controls::needed(const Source& source) const {
  return body_of(source)->power - heat_->heat()[source.rule->temperature];
}

double Controls::sensed(const Eigen::VectorXd& temperature, int sensor) const {
  return sensor == kOutside ? graph_->ambient.temperature : temperature[sensor];
}

double Controls::sensed_rate(int sensor) const {
  if (sensor == kOutside || holds(sensor)) return 0.0;
  return heat_->heat()[sensor] / heat_->capacity()[sensor];
}

bool Controls::find_modes(Eigen::VectorXd& temperature) {
  for (std::size_t f = 0; f < fans_.size(); ++f) {
    Fan& fan = fans_[f];
    if (!fan.plays) continue;
    fan.speed = fan.play_operator.clamped(fan.speed, sensed(temperature, fan.sensor));
    fan.mode = PlayMode::held;
    apply(f);
  }
  if (!heat_->settle(temperature)) return false;
  for (Source& source : sources_)
    if (body_of(source) != nullptr) find_source_mode(source, temperature);
  if (!heat_->settle(temperature)) return false;
  for (std::size_t f = 0; f < fans_.size(); ++f)
    if (fans_[f].plays) find_fan_mode(fans_[f], sensed(temperature, fans_[f].sensor));
  for (std::size_t f = 0; f < fans_.size(); ++f) apply(f);
  return heat_->settle(temperature);
}

void Controls::find_source_mode(Source& source, Eigen::VectorXd& temperature) {
  double& own = temperature[source.rule->temperature];
  const double limit = source.rule->limits.throttles_at;
  const double power = needed(source);
  if (source.mode == SourceState::shut_down) return;
  source.mode = SourceState::full;
  if (source.rule->limits.can_give_way(source.asked)) {
    if (own > limit + kSameKelvin)
      source.mode = SourceState::at_least_power;
    else if (own >= limit - kSameKelvin && power < source.asked)
      source.mode = power < source.least ? SourceState::at_least_power : SourceState::throttled;
  }
  if (source.mode == SourceState::throttled) own = limit;
  if (source.rule->limits.ends(own, kSameKelvin)) source.mode = SourceState::shut_down;
  apply_power(source);
}

void Controls::find_fan_mode(Fan& fan, double temperature) {
  const double rate = sensed_rate(fan.sensor);
  fan.mode = PlayMode::held;
  if (temperature >= fan.play_operator.goes_up_at(fan.speed) - kSameKelvin && rate >= -kTurning)
    fan.mode = PlayMode::rising;
  else if (temperature <= fan.play_operator.goes_down_at(fan.speed) + kSameKelvin && rate <= kTurning)
    fan.mode = PlayMode::falling;
}

double Controls::given() const {
  double sum = heat_->given();
  for (int index : held_list_) sum -= heat_->heat()[index];
  return sum;
}

double Controls::power(int index) const {
  const Source& source = at(sources_, index);
  const Body* body = body_of(source);
  if (body == nullptr) return source.asked;
  return source.mode == SourceState::throttled ? needed(source) : body->power;
}

double Controls::speed(int index) const {
  const FanElement& fan = at(graph_->fans, index);
  return speed_of(fan, *graph_, heat_->state());
}

Graph Controls::as_asked() const {
  Graph graph = *graph_;
  for (const Source& source : sources_) {
    if (body_of(source) == nullptr || source.mode == SourceState::shut_down) continue;
    body_at(graph, source.rule->temperature).power = source.asked;
  }
  return graph;
}

void Controls::source_roots(const Source& source, const Eigen::VectorXd& temperature, double* values) const {
  values[0] = values[1] = -kFar;
  if (body_of(source) == nullptr || source.mode == SourceState::shut_down) return;
  const double own = temperature[source.rule->temperature];
  if (source.mode == SourceState::throttled) {
    values[0] = needed(source) - source.asked;
    values[1] = source.least - needed(source);
    return;
  }
  const double limit = source.rule->limits.throttles_at;
  if (source.rule->limits.can_give_way(source.asked))
    values[0] = source.mode == SourceState::at_least_power ? limit - own : own - limit;
  if (source.rule->limits.shuts_down_at > 0.0) values[1] = own - source.rule->limits.shuts_down_at;
}

void Controls::fan_roots(const Fan& fan, const Eigen::VectorXd& temperature, double* values) const {
  values[0] = values[1] = -kFar;
  if (!fan.plays) return;
  const double own = sensed(temperature, fan.sensor);
  if (fan.mode == PlayMode::rising) {
    values[0] = -sensed_rate(fan.sensor) - kTurning;
  } else if (fan.mode == PlayMode::falling) {
    values[0] = sensed_rate(fan.sensor) - kTurning;
  } else {
    const double up = fan.play_operator.goes_up_at(fan.speed);
    const double down = fan.play_operator.goes_down_at(fan.speed);
    if (std::isfinite(up)) values[0] = own - up;
    if (std::isfinite(down)) values[1] = down - own;
  }
}

void Controls::roots(const Eigen::VectorXd& temperature, double* values) const {
  for (std::size_t s = 0; s < sources_.size(); ++s) source_roots(sources_[s], temperature, values + 2 * s);
  double* of_fans = values + 2 * sources_.size();
  for (std::size_t f = 0; f < fans_.size(); ++f) fan_roots(fans_[f], temperature, of_fans + 2 * f);
}

bool Controls::roots_need_heat() const {
  return !held_list_.empty() || std::any_of(fans_.begin(), fans_.end(), [](const Fan& fan) {
    return fan.plays && fan.mode != PlayMode::held;
  });
}

// What lies beyond zero by less than this has not been crossed.
double Controls::slack(int root) const {
  const auto index = static_cast<std::size_t>(root / 2);
  if (index < sources_.size())
    return sources_[index].mode == SourceState::throttled ? kSamePower : kSameKelvin;
  return fans_[index - sources_.size()].mode == PlayMode::held ? kSameKelvin : kTurning;
}

int Controls::overdue(const Eigen::VectorXd& temperature) const {
  std::vector<double> values(static_cast<std::size_t>(n_roots()));
  roots(temperature, values.data());
  for (int root = 0; root < n_roots(); ++root)
    if (at(values, root) > slack(root)) return root;
  return -1;
}

void Controls::cross(int root, double time, Eigen::VectorXd& temperature, std::vector<Event>& events) {
  const auto index = static_cast<std::size_t>(root / 2);
  const int which = root % 2;
  Event event = index < sources_.size() ? cross_source(sources_[index], which, temperature)
                                        : cross_fan(index - sources_.size(), which, temperature);
  event.time = time;
  events.push_back(std::move(event));
}

Event Controls::cross_source(Source& source, int which, Eigen::VectorXd& temperature) {
  const SourceRule& rule = *source.rule;
  Event event;
  event.subject = rule.name;
  if (source.mode == SourceState::throttled) {
    source.mode = which == 0 ? SourceState::full : SourceState::at_least_power;
  } else if (which == 1) {
    source.mode = SourceState::shut_down;
  } else {
    source.mode = SourceState::throttled;
    temperature[rule.temperature] = rule.limits.throttles_at;
  }
  apply_power(source);
  switch (source.mode) {
    case SourceState::full:
      event.kind = EventKind::full_power;
      event.text = rule.name + " takes its full " + watts(source.asked) + " again";
      break;
    case SourceState::throttled:
      event.kind = EventKind::throttled;
      event.text = rule.name + " throttles: it is held at";
      event.at = rule.limits.throttles_at;
      break;
    case SourceState::at_least_power:
      event.kind = EventKind::at_least_power;
      event.text = rule.name + " is down to its least power, " + watts(source.least) + ", and gets hotter";
      break;
    case SourceState::shut_down:
      event.kind = EventKind::shut_down;
      event.text = rule.name + " shuts down at";
      event.at = rule.limits.shuts_down_at;
      break;
  }
  return event;
}

Event Controls::cross_fan(std::size_t index, int which, const Eigen::VectorXd& temperature) {
  Fan& fan = fans_[index];
  const std::string name = "fan " + graph_->fans[index].name;
  Event event;
  event.subject = graph_->fans[index].name;
  if (fan.mode == PlayMode::held) {
    fan.mode = which == 0 ? PlayMode::rising : PlayMode::falling;
    event.kind = which == 0 ? EventKind::speeds_up : EventKind::slows_down;
    event.text = name + (which == 0 ? " speeds up from " : " slows down from ") + turns(fan.speed);
  } else {
    const double own = sensed(temperature, fan.sensor);
    fan.speed = fan.mode == PlayMode::rising ? fan.play_operator.least(own) : fan.play_operator.most(own);
    fan.mode = PlayMode::held;
    event.kind = EventKind::keeps_speed;
    event.text = name + " stays at " + turns(fan.speed);
  }
  apply(index);
  return event;
}

}  // namespace tuft::network
