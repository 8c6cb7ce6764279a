// Why a measurement there would mislead, in sentences with the numbers behind them.
#include <algorithm>
#include <cmath>

#include "solver/experiment/look.hpp"
#include "solver/study/words.hpp"

namespace tuft::experiment {
namespace {

using geometry::Role;
using geometry::UnitSystem;
using study::digits;

constexpr double kFelt = 0.5;       // chance from which a hand feels something
constexpr double kDriftGone = 0.5;  // share of a drift that is left when it counts as gone (judgement)

std::string doing(Role role, bool shut) {
  if (shut) return "is shut";
  const char* const words[] = {"takes air in", "lets air out", "breathes both ways", "does next to nothing"};
  return words[static_cast<int>(role)];
}

void add_sign(const Scene& scene, const VentSummary& view, std::vector<Pitfall>& pitfalls) {
  if (!view.change.role_changes) return;
  const study::VentResult& use = vent_of(scene.use, view.vent);
  const study::VentResult& here = vent_of(scene.bench, view.vent);
  const auto step = [&](double from, double to) {
    return " from " + study::pascals(from) + " to " + study::pascals(to);
  };
  std::string text = "in " + study::quoted(scene.use.name) + " it " +
                     doing(view.change.from, view.change.shut_from) + ", but here it " +
                     doing(view.change.to, view.change.shut_to) + ": the fan head goes" +
                     step(use.fan_head, here.fan_head) + ", the buoyancy head" +
                     step(use.buoyancy_head, here.buoyancy_head) + ", and the span head over its own height" +
                     step(use.span_head, here.span_head);
  if (view.cause == Cause::front) text += "; " + view.change.because;
  pitfalls.push_back({TrapKind::wrong_sign, text});
}

// Gross outflow is what drifts out of an opening that should not blow; buoyancy is named where it goes cold.
void add_buoyancy(const Scene& scene, const VentSummary& view, std::vector<Pitfall>& pitfalls) {
  const bool by_warmth = view.cause == Cause::buoyancy || view.cause == Cause::buoyancy_in_height;
  if (!by_warmth || !(view.change.role_changes || view.change.size_changes)) return;
  const study::VentResult& here = vent_of(scene.bench, view.vent);
  const double by_warm_air = std::abs(here.buoyancy_head) + 0.5 * std::abs(here.span_head);
  if (scene.content.device.fans.empty()) {
    pitfalls.push_back(
        {TrapKind::buoyancy, "warm air alone moves it (up to " + digits(by_warm_air) +
                                 " Pa here). Warm air rises, so the flow changes when the device is turned"});
    return;
  }
  std::string text = "buoyancy is the cause, not the fans: up to " + digits(by_warm_air) +
                     " Pa by warm air against " + digits(std::abs(here.fan_head)) + " Pa by the fans";
  if (scene.cold.report.converged) {
    const study::VentResult& cold = vent_of(scene.cold, view.vent);
    const double drift = here.outflow > 0.0 ? cold.outflow / here.outflow : 1.0;
    text += "; with the device cold and the fans as they are it " + doing(cold.role, cold.shut);
    if (here.outflow > 0.0 && here.role != Role::exhaust)
      text += drift < kDriftGone
                  ? ", and the outward drift is gone (" + study::percent(drift) + " of it left)"
                  : ", with " + study::percent(drift) + " of the outward drift left";
  }
  pitfalls.push_back({TrapKind::buoyancy, text});
}

void add_two_ways(const VentSummary& view, std::vector<Pitfall>& pitfalls) {
  if (view.change.to != Role::both_ways) return;
  pitfalls.push_back({TrapKind::two_ways,
                      "air leaves through one part of it and enters through another at the same time; a "
                      "strip shows only the part that it hangs before"});
}

void add_weak(const VentSummary& view, UnitSystem units, std::vector<Pitfall>& pitfalls) {
  if (view.disturbers.empty() || view.change.to == Role::idle) return;
  double signal = 0.0;
  for (const AirPoint& point : view.air)
    if (point.distance == kUsualDistance) signal = point.speed;
  std::vector<std::string> louder;
  for (const DisturberView& one : view.disturbers)
    if (one.signal_over < 1.0) louder.push_back(one.name + " (up to " + study::speed(one.high, units) + ")");
  if (louder.empty()) return;
  pitfalls.push_back({TrapKind::weak, "its air moves " + study::speed(signal, units) + " at " +
                                          study::length(kUsualDistance, units) + ", less than " +
                                          study::listed(louder)});
}

const TellTaleView* shown(const VentSummary& view, const std::string& name) {
  const TellTaleView* best = nullptr;
  for (const TellTaleView& one : view.tell_tales)
    if (one.cut->name == name && one.usable && (best == nullptr || std::abs(one.lean) > std::abs(best->lean)))
      best = &one;
  return best;
}

void add_stiff(const VentSummary& view, UnitSystem units, std::vector<Pitfall>& pitfalls) {
  const TellTaleView* paper = shown(view, "paper-150");
  const TellTaleView* wool = shown(view, "wool-150");
  if (paper == nullptr || wool == nullptr || view.change.to == Role::idle) return;
  const bool still = paper->seen == physics::Seen::not_at_all && wool->seen == physics::Seen::not_at_all;
  if (!still) return;
  const TellTaleView* best = nullptr;
  for (const TellTaleView& one : view.tell_tales)
    if (one.usable && one.cut->advised && (best == nullptr || one.over > best->over)) best = &one;
  if (best == nullptr) return;
  const bool answers = best->seen != physics::Seen::not_at_all;
  pitfalls.push_back(
      {TrapKind::stiff,
       "copy paper and knitting wool hang still (" + study::length(std::abs(paper->lean), units) + " and " +
           study::length(std::abs(wool->lean), units) + "); " +
           (answers ? "a " + best->cut->words + " leans " + study::length(std::abs(best->lean), units)
                    : "the best of the kit leans " + study::length(std::abs(best->lean), units) +
                          ", too little to be seen")});
}

void add_touch(const Scene& scene, const VentSummary& view, std::vector<Pitfall>& pitfalls) {
  if (!view.hand.possible || view.hand.detection < kFelt) return;
  const bool outwards_here = view.hand.signal > 0.0;
  const bool outwards_in_use = view.change.from == Role::exhaust;
  if (outwards_here == outwards_in_use) return;
  const std::string felt = view.hand.value < 0.0 ? "warmth" : "a cool draught";
  pitfalls.push_back({TrapKind::touch, "a hand feels " + felt + " (" + digits(std::abs(view.hand.value)) +
                                           " W/m²) and can't tell which way the air goes; in " +
                                           study::quoted(scene.use.name) + " it " +
                                           doing(view.change.from, view.change.shut_from)});
}

}  // namespace

std::vector<Pitfall> pitfalls_of(const Scene& scene, const VentSummary& view) {
  const UnitSystem units = scene.content.units;
  std::vector<Pitfall> pitfalls;
  add_sign(scene, view, pitfalls);
  add_buoyancy(scene, view, pitfalls);
  const study::VentResult& here = vent_of(scene.bench, view.vent);
  if (out_of_reach(here, kUsualDistance)) {
    pitfalls.push_back(
        {TrapKind::out_of_reach, here.shut ? "it is shut here, so there is nothing to see"
                                           : "it lies " + study::length(here.gap, units) +
                                                 " from what it faces, so nothing can be held before it"});
    return pitfalls;
  }
  add_two_ways(view, pitfalls);
  add_weak(view, units, pitfalls);
  add_stiff(view, units, pitfalls);
  add_touch(scene, view, pitfalls);
  return pitfalls;
}

}  // namespace tuft::experiment
