#include "tests/random/invariants.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace tuft::test {
namespace {

using study::ConditionResult;
using study::VentResult;

// Flows below it are none: what round-off leaves in air that nothing moves [kg/s].
constexpr double kNone = 1e-15;

// All numbers of a result's list, in the order of its fields.
struct Numbers {
  std::vector<double> all;

  void operator()(const numerics::ResultField&, const double& value) { all.push_back(value); }
  void operator()(const numerics::ResultField&, const numerics::MaybeNumber& value) {
    if (value.applies) all.push_back(value.value);
  }
  template <class Other>
  void operator()(const numerics::ResultField&, const Other&) {}
};

template <class Thing>
std::vector<double> numbers_of(const Thing& thing) {
  Numbers numbers;
  for_each_field(thing, numbers);
  return numbers.all;
}

std::vector<double> numbers_of(const VentResult& vent) {
  Numbers numbers;
  for_each_field(vent, numbers);
  numbers.all.push_back(static_cast<double>(vent.role));
  numbers.all.push_back(vent.firm + 2.0 * vent.unsure + 4.0 * vent.shut);
  return numbers.all;
}

std::string quoted_name(const std::string& name) { return "'" + name + "'"; }

// The role by the definition (R2), from flows alone.
geometry::Role role_by_flows(const VentResult& vent, double through, const geometry::RoleThresholds& line) {
  const double larger = std::max(vent.inflow, vent.outflow), smaller = std::min(vent.inflow, vent.outflow);
  const bool idle = vent.face_velocity < line.still_velocity ||
                    (larger < line.idle_share * through && vent.face_velocity < line.idle_velocity);
  if (idle) return geometry::Role::idle;
  if (smaller >= line.both_ways_ratio * larger) return geometry::Role::both_ways;
  return vent.inflow > vent.outflow ? geometry::Role::intake : geometry::Role::exhaust;
}

template <class List>
void check_finite(const List& list, const char* what, Faults& faults) {
  for (const auto& thing : list)
    for (const double number : numbers_of(thing))
      if (!std::isfinite(number)) faults.push_back(fmt::format("a {} has a number that is none", what));
}

void check_numbers(const ConditionResult& result, Faults& faults) {
  check_finite(result.vents, "vent", faults);
  check_finite(result.zones, "zone", faults);
  check_finite(result.fans, "fan", faults);
  check_finite(result.fins, "stack of fins", faults);
  check_finite(result.sources, "source", faults);
  check_finite(result.parts, "part", faults);
  check_finite(result.skins, "patch of skin", faults);
  check_finite(result.lid_edges, "lid's edge", faults);
  for (const double number : {result.through_flow, result.power, result.balance.mass, result.balance.energy,
                              result.heat.with_air, result.heat.through_skin, result.states.growth})
    if (!std::isfinite(number)) faults.push_back("a sum is no number");
}

void check_balances(const ConditionResult& result, Faults& faults) {
  if (result.balance.mass > 1e-9) faults.push_back(fmt::format("mass is off by {}", result.balance.mass));
  if (result.balance.energy > 1e-8) faults.push_back(fmt::format("heat is off by {}", result.balance.energy));
  double in = 0.0, out = 0.0, power = 0.0;
  for (const VentResult& vent : result.vents) {
    in += vent.inflow;
    out += vent.outflow;
    if (vent.inflow < 0.0 || vent.outflow < 0.0) faults.push_back("a gross flow below zero");
  }
  for (const study::SourceResult& source : result.sources) {
    power += source.power;
    if (source.power < 0.0 || source.power > source.asked * (1.0 + 1e-12))
      faults.push_back("a source takes another power than asked: " + source.name);
  }
  if (std::abs(in - out) > 1e-9 * in + kNone) faults.push_back(fmt::format("{} kg/s in and {} out", in, out));
  if (std::abs(in - result.through_flow) > 1e-12 * in) faults.push_back("the through-flow is another sum");
  if (std::abs(power - result.power) > 1e-12 * power) faults.push_back("the power is another sum");
  const double left = result.heat.with_air + result.heat.through_skin;
  if (std::abs(left - power) > 1e-6 * power + 1e-9)
    faults.push_back(fmt::format("{} W of {} W leave the device", left, power));
}

// A lap has a temperature of its own (N6), and cools a device in a hotter room.
constexpr double kLap = 306.0;

void check_temperatures(const geometry::Case& content, const ConditionResult& result, Faults& faults) {
  const geometry::Condition& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  const bool on_lap =
      content.supports[static_cast<std::size_t>(condition.support)].kind == geometry::SupportKind::lap;
  const double room = result.ambient_temperature, coldest = (on_lap ? std::min(room, kLap) : room) - 1e-6;
  const auto check = [&](double temperature, const std::string& name) {
    if (temperature < coldest)
      faults.push_back(fmt::format("{} is {} K colder than the room", quoted_name(name),
                                   result.ambient_temperature - temperature));
  };
  for (const auto& zone : result.zones) check(zone.temperature, zone.name);
  for (const auto& fins : result.fins) check(fins.temperature, fins.name);
  for (const auto& part : result.parts) check(part.temperature, part.name);
  for (const auto& source : result.sources)
    if (source.has_temperature) check(source.temperature, source.name);
  for (const auto& skin : result.skins) check(skin.temperature, "skin");
}

void check_roles(const geometry::Case& content, const ConditionResult& result, Faults& faults) {
  for (const VentResult& vent : result.vents) {
    const geometry::Role role = role_by_flows(vent, result.through_flow, content.thresholds);
    const std::string& name = content.device.vents[static_cast<std::size_t>(vent.vent)].name;
    if (!vent.shut && role != vent.role)
      faults.push_back(fmt::format("{} is called {}, and its flows say {}", quoted_name(name),
                                   role_word(vent.role), role_word(role)));
    if (vent.shut && vent.inflow + vent.outflow > 0.0) faults.push_back(name + " is shut, and breathes");
  }
}

const VentResult* vent_named(const geometry::Case& content, const ConditionResult& result,
                             const std::string& name) {
  for (const VentResult& vent : result.vents)
    if (content.device.vents[static_cast<std::size_t>(vent.vent)].name == name) return &vent;
  return nullptr;
}

bool same_bits(const std::vector<double>& one, const std::vector<double>& other) {
  return one.size() == other.size() &&
         (one.empty() || std::memcmp(one.data(), other.data(), one.size() * sizeof(double)) == 0);
}

template <class Thing>
void compare_named(const std::vector<Thing>& one, const std::vector<Thing>& other, Faults& faults) {
  for (const Thing& thing : one) {
    const auto same =
        std::find_if(other.begin(), other.end(), [&](const Thing& t) { return t.name == thing.name; });
    if (same == other.end() || !same_bits(numbers_of(thing), numbers_of(*same)))
      faults.push_back("other numbers of " + quoted_name(thing.name));
  }
}

void compare_flow(double one, double other, const std::string& what, double unit, double tolerance,
                  Faults& faults) {
  if (std::abs(one - other) > tolerance * unit + kNone)
    faults.push_back(fmt::format("{}: {} and {} of the through-flow", what, one / unit, other / unit));
}

bool both_solved(const ConditionResult& one, const ConditionResult& other, Faults& faults) {
  if (one.report.converged != other.report.converged)
    faults.push_back(
        fmt::format("one has a solution, the other none: {}{}", one.report.reason, other.report.reason));
  return one.report.converged && other.report.converged;
}

}  // namespace

Faults faults_of(const geometry::Case& content, const ConditionResult& result) {
  Faults faults;
  if (!result.report.converged) {
    if (result.report.reason.empty()) faults.push_back("no solution, and no reason");
    return faults;
  }
  check_numbers(result, faults);
  check_balances(result, faults);
  check_temperatures(content, result, faults);
  check_roles(content, result, faults);
  return faults;
}

Faults different_bits(const geometry::Case& content, const ConditionResult& result,
                      const geometry::Case& other, const ConditionResult& other_result) {
  Faults faults;
  if (result.report.reason != other_result.report.reason) faults.push_back("another reason");
  if (!both_solved(result, other_result, faults)) return faults;
  for (const VentResult& vent : result.vents) {
    const std::string& name = content.device.vents[static_cast<std::size_t>(vent.vent)].name;
    const VentResult* same = vent_named(other, other_result, name);
    if (same == nullptr || !same_bits(numbers_of(vent), numbers_of(*same)))
      faults.push_back("other numbers of " + quoted_name(name));
  }
  compare_named(result.zones, other_result.zones, faults);
  compare_named(result.fans, other_result.fans, faults);
  compare_named(result.fins, other_result.fins, faults);
  compare_named(result.sources, other_result.sources, faults);
  compare_named(result.parts, other_result.parts, faults);
  if (!same_bits(
          {result.states.growth, result.heat.with_air, double(result.states.stable)},
          {other_result.states.growth, other_result.heat.with_air, double(other_result.states.stable)}))
    faults.push_back("other sums or states");
  return faults;
}

Faults different_flows(const geometry::Case& content, const ConditionResult& result,
                       const geometry::Case& other, const ConditionResult& other_result, double tolerance,
                       const std::function<std::string(const std::string&)>& rename) {
  Faults faults;
  if (!both_solved(result, other_result, faults)) return faults;
  for (const VentResult& vent : result.vents) {
    const std::string& name = content.device.vents[static_cast<std::size_t>(vent.vent)].name;
    const VentResult* same = vent_named(other, other_result, rename(name));
    if (same == nullptr) {
      faults.push_back(quoted_name(name) + " is missing");
      continue;
    }
    compare_flow(vent.inflow, same->inflow, name + " in", result.through_flow, tolerance, faults);
    compare_flow(vent.outflow, same->outflow, name + " out", result.through_flow, tolerance, faults);
  }
  return faults;
}

Faults different_halves(const geometry::Case& content, const ConditionResult& result,
                        const geometry::Case& other, const ConditionResult& other_result,
                        const std::string& vent, const std::string& suffix, double tolerance) {
  Faults faults;
  if (!both_solved(result, other_result, faults)) return faults;
  for (const VentResult& whole : result.vents) {
    const std::string& name = content.device.vents[static_cast<std::size_t>(whole.vent)].name;
    double in = 0.0, out = 0.0;
    for (const std::string& part : {name, name == vent ? name + suffix : std::string()}) {
      const VentResult* half = vent_named(other, other_result, part);
      if (half == nullptr) continue;
      in += half->inflow;
      out += half->outflow;
    }
    compare_flow(whole.inflow, in, name + " in", result.through_flow, tolerance, faults);
    compare_flow(whole.outflow, out, name + " out", result.through_flow, tolerance, faults);
  }
  return faults;
}

}  // namespace tuft::test
