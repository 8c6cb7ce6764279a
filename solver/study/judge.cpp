// Claims judged on the case as written: the statement's own truth, whether it stands clear of its line, and
// what is seen of it in numbers.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdio>

#include "solver/numerics/constants.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/statement.hpp"
#include "solver/study/words.hpp"

namespace tuft::study {

namespace {

using geometry::Case;
using geometry::Claim;
using geometry::ClaimKind;
using geometry::PlaceKind;

std::vector<std::string> names_of(const Case& content, const std::vector<int>& vents) {
  std::vector<std::string> words;
  for (const int vent : vents) words.push_back(content.device.vents[vent].name);
  return words;
}

// "grille is intake (62 % of the through-flow, 26 cm/s)".
std::string state_of(const Case& content, const VentResult& vent) {
  if (vent.shut) return content.device.vents[vent.vent].name + " is shut";
  return content.device.vents[vent.vent].name + " is " + spoken(vent.role) + " (" + percent(vent.share) +
         " of the through-flow, " + speed(vent.face_velocity, content.units) +
         (vent.firm ? "" : ", near a threshold") + ")";
}

std::string states_of(const Case& content, const std::vector<int>& vents, const ConditionResult& result) {
  std::vector<std::string> words;
  for (const int vent : vents) words.push_back(state_of(content, result.vents[vent]));
  return listed(words);
}

std::string seen_comparison(const Case& content, const Claim& claim, const ConditionResult& result) {
  const bool inflow = claim.kind == ClaimKind::draws_more;
  const StateSummary view = summary_of(result);
  const double ours = total_flow(claim.vents, view, inflow);
  const double theirs = total_flow(claim.than, view, inflow);
  const bool one = claim.vents.size() == 1;
  const char* verb = inflow ? (one ? " takes in " : " take in ") : (one ? " lets out " : " let out ");
  std::string text = listed(names_of(content, claim.vents)) + verb +
                     volume_flow(ours, result.ambient_density, content.units) + ", " +
                     listed(names_of(content, claim.than)) + " " +
                     volume_flow(theirs, result.ambient_density, content.units);
  if (theirs > 0.0)
    text += ": " + digits(ours / theirs) + " times as much; claimed: " + asked_by(claim, content.units);
  return text;
}

std::string seen_share(const Case& content, const Claim& claim, const ConditionResult& result) {
  const double share = carried_share(claim.vents, summary_of(result));
  return listed(names_of(content, claim.vents)) + (claim.vents.size() == 1 ? " carries " : " carry ") +
         percent(share) + " of the through-flow; claimed: " + asked_by(claim, content.units);
}

std::string seen_flows(const Case& content, const Claim& claim, const ConditionResult& now,
                       const ConditionResult& then) {
  const double here = carried(claim.vents, summary_of(now)), there = carried(claim.vents, summary_of(then));
  const std::string who =
      claim.vents.empty() ? "through the device" : "through " + listed(names_of(content, claim.vents));
  std::string text = who + " go " + volume_flow(here, now.ambient_density, content.units) + " in " +
                     quoted(now.name) + " and " + volume_flow(there, then.ambient_density, content.units) +
                     " in " + quoted(then.name);
  if (there > 0.0) {
    const double change = here / there - 1.0;
    text += ": " + percent(std::abs(change)) + (change < 0.0 ? " less" : " more");
  }
  return text + "; claimed: " + asked_by(claim, content.units);
}

std::string seen_heat(const Case& content, const Claim& claim, const std::vector<ConditionResult>& results) {
  const auto at = [&](int condition) -> const ConditionResult& { return results[condition]; };
  const double now = temperature_of(content.device, claim.of, summary_of(at(claim.when)));
  const std::string who = name_of(content.device, claim.of);
  if (claim.kind == ClaimKind::temperature)
    return who + " is at " + temperature(now, content.units) + "; claimed: " + asked_by(claim, content.units);
  const double then = temperature_of(content.device, claim.of, summary_of(at(claim.against)));
  return who + " is at " + temperature(now, content.units) + " in " + quoted(at(claim.when).name) +
         " and at " + temperature(then, content.units) + " in " + quoted(at(claim.against).name) + ": " +
         difference(std::abs(now - then), content.units) + (now < then ? " less" : " more") +
         "; claimed: " + asked_by(claim, content.units);
}

std::string fixed(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f", value);
  return text;
}

}  // namespace

std::string temperature(double kelvin, UnitSystem units) {
  const geometry::ShownUnit unit = geometry::temperature_unit(units);
  return fixed(unit.of(kelvin)) + " " + unit.name;
}

std::string difference(double kelvin, UnitSystem units) {
  const geometry::ShownUnit unit = geometry::temperature_unit(units);
  return fixed(unit.of_difference(kelvin)) + " " + unit.name;
}

std::string name_of(const geometry::Device& device, const geometry::Place& of) {
  const char* const before = of.kind == PlaceKind::zone   ? "the air in "
                             : of.kind == PlaceKind::fins ? "the metal of "
                             : of.kind == PlaceKind::vent ? "the air of "
                                                          : "";
  return before + geometry::place_name(device, of);
}

std::string asked_by(const Claim& claim, UnitSystem units) {
  const auto at_least = [](const std::string& amount, const char* what) {
    return (amount.empty() ? std::string() : "at least " + amount + " ") + what;
  };
  switch (claim.kind) {
    case ClaimKind::draws_more:
    case ClaimKind::gives_more:
      return "at least " + digits(claim.factor);
    case ClaimKind::share:
      if (claim.low > 0.0 && claim.high < 1.0) return percent(claim.low) + " to " + percent(claim.high);
      return claim.low > 0.0 ? "at least " + percent(claim.low) : "at most " + percent(claim.high);
    case ClaimKind::flow_falls:
      return at_least(claim.by > 0.0 ? percent(claim.by) : "", "less");
    case ClaimKind::flow_rises:
      return at_least(claim.by > 0.0 ? percent(claim.by) : "", "more");
    case ClaimKind::temperature:
      if (claim.low > 0.0 && std::isfinite(claim.high))
        return temperature(claim.low, units) + " to " + temperature(claim.high, units);
      return claim.low > 0.0 ? "above " + temperature(claim.low, units)
                             : "below " + temperature(claim.high, units);
    case ClaimKind::warms:
      return at_least(claim.by > 0.0 ? difference(claim.by, units) : "", "more");
    case ClaimKind::cools:
      return at_least(claim.by > 0.0 ? difference(claim.by, units) : "", "less");
    case ClaimKind::role:
    case ClaimKind::none_has_role:
    case ClaimKind::none_breathes:
    case ClaimKind::changes_role:
    case ClaimKind::reverses:
      break;
  }
  return "";
}

namespace {

// The numbers behind a claim. @pre the claim's conditions are solved.
std::string seen_of(const Case& content, const Claim& claim, const std::vector<ConditionResult>& results) {
  const ConditionResult& now = results[claim.when];
  const auto then = [&]() -> const ConditionResult& { return results[claim.against]; };
  switch (claim.kind) {
    case ClaimKind::role:
    case ClaimKind::none_has_role:
    case ClaimKind::none_breathes:
      return states_of(content, claim.vents, now);
    case ClaimKind::draws_more:
    case ClaimKind::gives_more:
      return seen_comparison(content, claim, now);
    case ClaimKind::share:
      return seen_share(content, claim, now);
    case ClaimKind::changes_role:
    case ClaimKind::reverses:
      return "in " + quoted(now.name) + ": " + states_of(content, claim.vents, now) + "; in " +
             quoted(then().name) + ": " + states_of(content, claim.vents, then());
    case ClaimKind::flow_falls:
    case ClaimKind::flow_rises:
      return seen_flows(content, claim, now, then());
    case ClaimKind::temperature:
    case ClaimKind::warms:
    case ClaimKind::cools:
      break;
  }
  return seen_heat(content, claim, results);
}

// A comparison, share or change of flow nearer than this factor to its limit is undecided with nominal
// values, nor a temperature nearer than so many kelvin (judgements).
constexpr double kCloseCall = 1.1;
constexpr double kCloseKelvin = 2.0;

bool is_comparison(ClaimKind kind) {
  return kind == ClaimKind::draws_more || kind == ClaimKind::gives_more || kind == ClaimKind::flow_falls ||
         kind == ClaimKind::flow_rises;
}

// Whether the claim stays as it is when the lines between the roles move by their margin.
Verdict judge_roles(const Case& content, const Claim& claim, const std::vector<StateSummary>& views) {
  const std::vector<geometry::RoleThresholds> settings = moved_thresholds(content.thresholds);
  const auto yes = std::count_if(settings.begin(), settings.end(), [&](const auto& moved) {
    return margin(moved, content.device, claim, views) >= 0.0;
  });
  if (yes == static_cast<std::ptrdiff_t>(settings.size())) return Verdict::holds;
  return yes == 0 ? Verdict::fails : Verdict::undecided;
}

Verdict judge_numbers(const Case& content, const Claim& claim, const std::vector<StateSummary>& views) {
  if (is_comparison(claim.kind) && nothing_moves(content.thresholds, claim, views)) return Verdict::undecided;
  const double close = geometry::is_about_heat(claim.kind) ? kCloseKelvin : std::log(kCloseCall);
  const double distance = margin(content, claim, views);
  if (distance >= close) return Verdict::holds;
  return distance < -close ? Verdict::fails : Verdict::undecided;
}

constexpr const char* kOnlyBounds =
    " (hardly any air passes, and much of the heat leaves through still air: the temperatures are upper "
    "bounds, the "
    "flows tell nothing)";

// Why a number near its limit gives no verdict.
std::string close_call(const Claim& claim, UnitSystem units) {
  const std::string within = geometry::is_about_heat(claim.kind) ? difference(kCloseKelvin, units)
                                                                 : "a factor " + digits(kCloseCall);
  return " (within " + within + " of the limit, too close to decide)";
}

}  // namespace

ClaimResult judge(const Case& content, int index, const std::vector<ConditionResult>& results) {
  const Claim& claim = content.claims[index];
  ClaimResult out;
  out.claim = index;
  std::vector<StateSummary> views(results.size());
  for (const int condition : geometry::conditions_of(claim)) {
    const ConditionResult& result = results[condition];
    if (!result.report.converged) {
      out.because = "condition " + quoted(result.name) + " has no solution: " + result.report.reason;
      return out;
    }
    views[condition] = summary_of(result);
  }
  const bool roles = is_about_roles(claim.kind);
  out.verdict = roles ? judge_roles(content, claim, views) : judge_numbers(content, claim, views);
  out.because = seen_of(content, claim, results);
  if (!can_be_told(content, claim, views)) {
    out.verdict = Verdict::undecided;
    out.because += kOnlyBounds;
  } else if (!roles && out.verdict == Verdict::undecided) {
    out.because += close_call(claim, content.units);
  }
  return out;
}

}  // namespace tuft::study
