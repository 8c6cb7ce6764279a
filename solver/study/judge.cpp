// Claims judged on the case as written: the statement's own truth, and whether it stands clear of its line.
#include <cmath>

#include "solver/study/claim_words.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/statement.hpp"
#include "solver/study/words.hpp"

namespace tuft::study {
namespace {

using geometry::Case;
using geometry::Claim;
using geometry::ClaimKind;

// A comparison, share or change of flow nearer than this factor to its limit cannot be told with nominal
// values, nor a temperature nearer than so many kelvin (judgements).
constexpr double kCloseCall = 1.1;
constexpr double kCloseKelvin = 2.0;

bool is_about_roles(ClaimKind kind) {
  return kind == ClaimKind::role || kind == ClaimKind::none_has_role || kind == ClaimKind::none_breathes ||
         kind == ClaimKind::changes_role || kind == ClaimKind::reverses;
}

bool is_comparison(ClaimKind kind) {
  return kind == ClaimKind::draws_more || kind == ClaimKind::gives_more || kind == ClaimKind::flow_falls ||
         kind == ClaimKind::flow_rises;
}

// Whether the claim stays as it is when the lines between the roles move by their margin.
Verdict judge_roles(const Case& content, const Claim& claim, const std::vector<View>& views) {
  const double by = content.thresholds.margin;
  int settings = 0, yes = 0;
  for (const double idle : {1.0 / by, 1.0, by}) {
    for (const double ratio : {1.0 / by, 1.0, by}) {
      geometry::RoleThresholds moved = content.thresholds;
      moved.still_velocity *= idle;
      moved.idle_share *= idle;
      moved.idle_velocity *= idle;
      moved.both_ways_ratio *= ratio;
      ++settings;
      yes += margin(moved, content.device, claim, views) >= 0.0 ? 1 : 0;
    }
  }
  if (yes == settings) return Verdict::holds;
  return yes == 0 ? Verdict::fails : Verdict::cannot_tell;
}

Verdict judge_numbers(const Case& content, const Claim& claim, const std::vector<View>& views) {
  if (is_comparison(claim.kind) && nothing_moves(content.thresholds, claim, views))
    return Verdict::cannot_tell;
  const double close = geometry::is_about_heat(claim.kind) ? kCloseKelvin : std::log(kCloseCall);
  const double distance = margin(content, claim, views);
  if (distance >= close) return Verdict::holds;
  return distance < -close ? Verdict::fails : Verdict::cannot_tell;
}

// Why a number near its limit gives no verdict.
std::string close_call(const Claim& claim) {
  const std::string within =
      geometry::is_about_heat(claim.kind) ? digits(kCloseKelvin) + " K" : "a factor " + digits(kCloseCall);
  return " (within " + within + " of the limit, too close to tell)";
}

}  // namespace

ClaimResult judge(const Case& content, int index, const std::vector<ConditionResult>& results) {
  const Claim& claim = content.claims[static_cast<std::size_t>(index)];
  ClaimResult out;
  out.claim = index;
  std::vector<View> views(results.size());
  for (const int condition : geometry::conditions_of(claim)) {
    const ConditionResult& result = results[static_cast<std::size_t>(condition)];
    if (!result.report.converged) {
      out.because = "condition " + quoted(result.name) + " has no solution: " + result.report.reason;
      return out;
    }
    views[static_cast<std::size_t>(condition)] = view_of(result);
  }
  const bool roles = is_about_roles(claim.kind);
  out.verdict = roles ? judge_roles(content, claim, views) : judge_numbers(content, claim, views);
  out.because = seen_of(content, claim, results);
  if (!roles && out.verdict == Verdict::cannot_tell) out.because += close_call(claim);
  return out;
}

}  // namespace tuft::study
