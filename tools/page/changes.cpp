#include "tools/page/changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/io/numbers.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::page {
namespace {

using study::ConditionResult;
using study::VentResult;

constexpr double kFlowStep = 0.01;        // of the through-flow
constexpr double kTemperatureStep = 0.1;  // [K]

const ConditionResult* find(const io::Run& run, const std::string& name) {
  for (const ConditionResult& result : run.conditions)
    if (result.name == name) return &result;
  return nullptr;
}

const std::string& vent_name(const io::Run& run, const VentResult& vent) {
  return io::at(run.content.device.vents, vent.vent).name;
}

const VentResult* find_vent(const io::Run& run, const ConditionResult& result, const std::string& name) {
  for (const VentResult& vent : result.vents)
    if (vent_name(run, vent) == name) return &vent;
  return nullptr;
}

std::string flow_words(const io::Run& run, const VentResult& vent, const ConditionResult& result) {
  const double larger = std::max(vent.inflow, vent.outflow);
  return io::flow_text(io::room_volume_flow(larger, result), run.content.units) +
         (vent.inflow >= vent.outflow ? " in" : " out");
}

/// Compares one condition of two runs.
class Pair {
 public:
  Pair(const io::Run& before, const ConditionResult& old, const io::Run& after, const ConditionResult& fresh,
       std::vector<std::string>& lines)
      : before_(before), old_(old), after_(after), fresh_(fresh), lines_(lines) {}

  void compare() {
    if (old_.report.converged != fresh_.report.converged) {
      add(fresh_.report.converged ? "has a solution now"
                                  : "has no solution any more: " + io::printable(fresh_.report.reason));
      return;
    }
    if (!fresh_.report.converged) return;
    for (const VentResult& vent : fresh_.vents) compare_vent(vent);
    for (const VentResult& vent : old_.vents) {
      const bool leak = io::at(before_.content.device.vents, vent.vent).is_leak;
      const std::string& name = vent_name(before_, vent);
      if (!leak && find_vent(after_, fresh_, name) == nullptr) add(io::printable(name) + " is gone");
    }
    compare_flow("through-flow", old_.through_flow, fresh_.through_flow);
    compare_named(old_.sources, fresh_.sources, "", [](const auto& source) { return source.temperature; });
    compare_named(old_.parts, fresh_.parts, "", [](const auto& part) { return part.temperature; });
    compare_skin();
    compare_named(old_.zones, fresh_.zones, "air in ", [](const auto& zone) { return zone.temperature; });
  }

 private:
  void add(const std::string& what) { lines_.push_back(io::printable(fresh_.name) + ": " + what); }

  void compare_vent(const VentResult& vent) {
    const std::string& name = vent_name(after_, vent);
    if (io::at(after_.content.device.vents, vent.vent).is_leak) return;
    const VentResult* was = find_vent(before_, old_, name);
    const std::string shown = io::printable(name);
    if (was == nullptr) {
      add(fmt::format("{} is new: {}, {}", shown, io::role_text(vent.role),
                      flow_words(after_, vent, fresh_)));
      return;
    }
    if (was->role != vent.role) {
      add(fmt::format("{} is {} now, was {} ({}, was {})", shown, io::role_text(vent.role),
                      io::role_text(was->role), flow_words(after_, vent, fresh_),
                      flow_words(after_, *was, old_)));
      return;
    }
    const double now = std::max(vent.inflow, vent.outflow), then = std::max(was->inflow, was->outflow);
    const double step = kFlowStep * std::max(old_.through_flow, fresh_.through_flow);
    if (std::abs(now - then) > step)
      add(fmt::format("{} {}, was {}", shown, flow_words(after_, vent, fresh_),
                      flow_words(after_, *was, old_)));
  }

  void compare_flow(const std::string& what, double then, double now) {
    if (std::abs(now - then) <= kFlowStep * std::max(then, now)) return;
    add(fmt::format("{} {}, was {}", what,
                    io::flow_text(io::room_volume_flow(now, fresh_), after_.content.units),
                    io::flow_text(io::room_volume_flow(then, old_), after_.content.units)));
  }

  void compare_temperature(const std::string& what, double then, double now) {
    if (std::abs(now - then) < kTemperatureStep || then <= 0.0 || now <= 0.0) return;
    add(fmt::format("{} {}, was {}", io::printable(what), io::temperature_text(now, after_.content.units),
                    io::temperature_text(then, after_.content.units)));
  }

  template <typename Named, typename Temperature>
  void compare_named(const std::vector<Named>& then, const std::vector<Named>& now, const std::string& what,
                     Temperature temperature) {
    for (const Named& each : now)
      for (const Named& other : then)
        if (other.name == each.name)
          compare_temperature(what + each.name, temperature(other), temperature(each));
  }

  void compare_skin() {
    const auto name = [](const io::Run& run, const study::SkinResult& skin) {
      return io::at(run.content.device.skins, skin.skin).name;
    };
    for (const study::SkinResult& now : fresh_.skins)
      for (const study::SkinResult& then : old_.skins)
        if (name(after_, now) == name(before_, then))
          compare_temperature("skin " + name(after_, now), then.temperature, now.temperature);
  }

  const io::Run& before_;
  const ConditionResult& old_;
  const io::Run& after_;
  const ConditionResult& fresh_;
  std::vector<std::string>& lines_;
};

const geometry::Claim& claim_of(const io::Run& run, const study::ClaimResult& result) {
  return io::at(run.content.claims, result.claim);
}

study::Verdict verdict_of(const io::Run& run, const study::ClaimResult& result) {
  const experiment::ClaimProbability* probability = io::probability_of(run, result.claim);
  return probability == nullptr ? result.verdict : io::verdict_of(*probability);
}

void compare_claims(const io::Run& before, const io::Run& after, std::vector<std::string>& lines) {
  for (const study::ClaimResult& now : after.claims) {
    const std::string& id = claim_of(after, now).id;
    const auto same = [&](const study::ClaimResult& claim) { return claim_of(before, claim).id == id; };
    const auto then = std::find_if(before.claims.begin(), before.claims.end(), same);
    const std::string shown = "claim " + io::printable(id);
    if (then == before.claims.end()) {
      lines.push_back(fmt::format("{} is new: {}", shown, io::told(after, now)));
    } else if (verdict_of(before, *then) != verdict_of(after, now)) {
      lines.push_back(fmt::format("{} {} now, before: {}. {}", shown, io::told(after, now),
                                  io::told(before, *then), io::printable(now.because)));
    }
  }
}

}  // namespace

std::vector<std::string> changes(const io::Run& before, const io::Run& after) {
  std::vector<std::string> lines;
  for (const ConditionResult& result : after.conditions) {
    const ConditionResult* old = find(before, result.name);
    if (old != nullptr) {
      Pair(before, *old, after, result, lines).compare();
    } else {
      lines.push_back(io::printable(result.name) + ": a new condition" +
                      (result.report.converged ? "" : ", without a solution"));
    }
  }
  for (const ConditionResult& result : before.conditions)
    if (find(after, result.name) == nullptr) lines.push_back(io::printable(result.name) + ": gone");
  compare_claims(before, after, lines);
  return lines;
}

}  // namespace tuft::page
