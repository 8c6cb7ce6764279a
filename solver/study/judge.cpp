#include <algorithm>
#include <array>

#include "solver/study/predict.hpp"
#include "solver/study/roles.hpp"
#include "solver/study/words.hpp"

namespace tuft::study {
namespace {

using geometry::Case;
using geometry::Claim;
using geometry::ClaimKind;
using geometry::Role;

// A comparison or a share nearer than this factor to its limit cannot be told with nominal values
// (judgement).
constexpr double kCloseCall = 1.1;

constexpr std::array<Role, 4> kRoles = {Role::intake, Role::exhaust, Role::both_ways, Role::idle};

const char* spoken(Role role) { return role == Role::both_ways ? "both ways" : geometry::role_word(role); }

std::string name_of(const Case& content, int vent) {
  return content.device.vents[static_cast<std::size_t>(vent)].name;
}

// Why a number near its limit gives no verdict.
std::string close_call() {
  return " (within a factor " + digits(kCloseCall) + " of the limit, too close to tell)";
}

// "grille is intake (62 % of the through-flow)".
std::string state_of(const Case& content, const VentResult& vent) {
  return name_of(content, vent.vent) + " is " + spoken(vent.role) + " (" + percent(vent.share) +
         " of the through-flow, " + digits(100.0 * vent.face_velocity) + " cm/s" +
         (vent.firm ? "" : ", near a threshold") + ")";
}

std::string states_of(const Case& content, const std::vector<int>& vents, const ConditionResult& result) {
  std::vector<std::string> words;
  for (int vent : vents) words.push_back(state_of(content, result.vents[static_cast<std::size_t>(vent)]));
  return listed(words);
}

// Whether one vent has a role: surely, surely not, or within the margin.
Verdict has_role(const Case& content, const VentResult& vent, Role role) {
  const auto possible = possible_roles(vent, content.thresholds);
  if (!possible[static_cast<std::size_t>(role)]) return Verdict::fails;
  return std::count(possible.begin(), possible.end(), true) == 1 ? Verdict::holds : Verdict::cannot_tell;
}

Verdict opposite(Verdict verdict) {
  if (verdict == Verdict::cannot_tell) return verdict;
  return verdict == Verdict::holds ? Verdict::fails : Verdict::holds;
}

// All hold -> holds; one fails -> fails; else cannot tell. With `any` the other way round.
Verdict combine(const std::vector<Verdict>& verdicts, bool any) {
  const Verdict settles = any ? Verdict::holds : Verdict::fails;
  Verdict out = opposite(settles);
  for (Verdict verdict : verdicts) {
    if (verdict == settles) return settles;
    if (verdict == Verdict::cannot_tell) out = verdict;
  }
  return out;
}

// value >= limit, with doubt near it.
Verdict at_least(double value, double limit) {
  if (value >= limit * kCloseCall) return Verdict::holds;
  return value < limit / kCloseCall ? Verdict::fails : Verdict::cannot_tell;
}

double total(const ConditionResult& result, const std::vector<int>& vents, bool inflow) {
  double sum = 0.0;
  for (int vent : vents) {
    const VentResult& entry = result.vents[static_cast<std::size_t>(vent)];
    sum += inflow ? entry.inflow : entry.outflow;
  }
  return sum;
}

std::string litres(double mass_flow, const ConditionResult& result) {
  return digits(1000.0 * mass_flow / result.ambient_density) + " L/s";
}

void judge_roles(const Case& content, const Claim& claim, const ConditionResult& result, ClaimResult& out) {
  std::vector<Verdict> verdicts;
  const bool none = claim.kind == ClaimKind::none_has_role;
  for (int vent : claim.vents) {
    const Verdict verdict = has_role(content, result.vents[static_cast<std::size_t>(vent)], claim.role);
    verdicts.push_back(none ? opposite(verdict) : verdict);
  }
  out.verdict = combine(verdicts, claim.any && !none);
  out.because = states_of(content, claim.vents, result);
}

// Nothing moves at any of the vents compared.
bool all_still(const Case& content, const Claim& claim, const ConditionResult& result) {
  const auto still = [&](int vent) {
    return result.vents[static_cast<std::size_t>(vent)].face_velocity < content.thresholds.still_velocity;
  };
  return std::all_of(claim.vents.begin(), claim.vents.end(), still) &&
         std::all_of(claim.than.begin(), claim.than.end(), still);
}

void judge_more(const Case& content, const Claim& claim, const ConditionResult& result, ClaimResult& out) {
  const bool inflow = claim.kind == ClaimKind::draws_more;
  const double ours = total(result, claim.vents, inflow);
  const double theirs = total(result, claim.than, inflow);
  out.verdict = at_least(ours, claim.factor * theirs);
  // Flows that are as good as nothing decide nothing.
  const double nothing = content.thresholds.idle_share * result.through_flow / content.thresholds.margin;
  if ((ours <= nothing && theirs <= nothing) || all_still(content, claim, result))
    out.verdict = Verdict::cannot_tell;
  std::vector<std::string> us, them;
  for (int vent : claim.vents) us.push_back(name_of(content, vent));
  for (int vent : claim.than) them.push_back(name_of(content, vent));
  const bool one = us.size() == 1;
  const char* verb = inflow ? (one ? " takes in " : " take in ") : (one ? " lets out " : " let out ");
  out.because = listed(us) + verb + litres(ours, result) + ", " + listed(them) + " " + litres(theirs, result);
  if (theirs > 0.0)
    out.because += ": " + digits(ours / theirs) + " times as much; claimed: at least " + digits(claim.factor);
  if (out.verdict == Verdict::cannot_tell) out.because += close_call();
}

void judge_share(const Case& content, const Claim& claim, const ConditionResult& result, ClaimResult& out) {
  const double flow = std::max(total(result, claim.vents, true), total(result, claim.vents, false));
  const double share = result.through_flow > 0.0 ? flow / result.through_flow : 0.0;
  const Verdict enough = claim.low > 0.0 ? at_least(share, claim.low) : Verdict::holds;
  const Verdict not_over = claim.high < 1.0 ? opposite(at_least(share, claim.high)) : Verdict::holds;
  out.verdict = combine({enough, not_over}, false);
  std::vector<std::string> words;
  for (int vent : claim.vents) words.push_back(name_of(content, vent));
  std::string claimed;
  if (claim.low > 0.0 && claim.high < 1.0)
    claimed = percent(claim.low) + " to " + percent(claim.high);
  else
    claimed = claim.low > 0.0 ? "at least " + percent(claim.low) : "at most " + percent(claim.high);
  out.because = listed(words) + (words.size() == 1 ? " carries " : " carry ") + percent(share) +
                " of the through-flow; claimed: " + claimed;
  if (out.verdict == Verdict::cannot_tell) out.because += close_call();
}

// A vent's change is sure when no role is possible in both conditions, and surely none when only one is.
Verdict changes(const Case& content, const VentResult& a, const VentResult& b) {
  const auto before = possible_roles(a, content.thresholds);
  const auto after = possible_roles(b, content.thresholds);
  int common = 0, all = 0;
  for (Role role : kRoles) {
    const auto r = static_cast<std::size_t>(role);
    common += before[r] && after[r] ? 1 : 0;
    all += before[r] || after[r] ? 1 : 0;
  }
  if (common == 0) return Verdict::holds;
  return all == 1 ? Verdict::fails : Verdict::cannot_tell;
}

void judge_change(const Case& content, const Claim& claim, const std::vector<ConditionResult>& results,
                  ClaimResult& out) {
  const ConditionResult& now = results[static_cast<std::size_t>(claim.when)];
  const ConditionResult& against = results[static_cast<std::size_t>(claim.against)];
  std::vector<Verdict> verdicts;
  for (int vent : claim.vents) {
    const auto v = static_cast<std::size_t>(vent);
    verdicts.push_back(changes(content, against.vents[v], now.vents[v]));
  }
  out.verdict = combine(verdicts, claim.any);
  out.because = "in " + now.name + ": " + states_of(content, claim.vents, now) + "; in " + against.name +
                ": " + states_of(content, claim.vents, against);
}

}  // namespace

ClaimResult judge(const Case& content, int index, const std::vector<ConditionResult>& results) {
  const Claim& claim = content.claims[static_cast<std::size_t>(index)];
  ClaimResult out;
  out.claim = index;
  for (int condition : {claim.when, claim.against}) {
    if (condition < 0) continue;
    const ConditionResult& result = results[static_cast<std::size_t>(condition)];
    if (result.report.converged) continue;
    out.because = "condition " + result.name + " has no solution: " + result.report.reason;
    return out;
  }
  const ConditionResult& result = results[static_cast<std::size_t>(claim.when)];
  switch (claim.kind) {
    case ClaimKind::role:
    case ClaimKind::none_has_role:
      judge_roles(content, claim, result, out);
      break;
    case ClaimKind::draws_more:
    case ClaimKind::gives_more:
      judge_more(content, claim, result, out);
      break;
    case ClaimKind::share:
      judge_share(content, claim, result, out);
      break;
    case ClaimKind::changes_role:
      judge_change(content, claim, results, out);
      break;
  }
  return out;
}

}  // namespace tuft::study
