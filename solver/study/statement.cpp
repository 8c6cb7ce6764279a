#include "solver/study/statement.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tuft::study {
namespace {

using geometry::Claim;
using geometry::ClaimKind;
using geometry::Device;
using geometry::Role;
using geometry::RoleThresholds;

// Where a logarithm of a ratio stops: beyond e^20 nothing is told apart.
constexpr double kFarthest = 20.0;
// Smallest distance from a line between roles that counts: there the role itself decides.
constexpr double kNearest = 1e-12;
// "More" and "less" without an amount ask for a difference that solves don't leave over by themselves, so
// that equals are neither: in logarithms of flows [-] and in temperatures [K] (judgements).
constexpr double kSameFlow = 1e-6, kSameTemperature = 1e-4;

constexpr std::array<Role, 4> kRoles = {Role::intake, Role::exhaust, Role::both_ways, Role::idle};

double log_ratio(double above, double below) {
  if (above <= 0.0) return below <= 0.0 ? 0.0 : -kFarthest;
  if (below <= 0.0) return kFarthest;
  return std::clamp(std::log(above / below), -kFarthest, kFarthest);
}

// Log of how many times more moves than the thresholds of the idle role ask for.
double motion(const VentSummary& vent, double through_flow, const RoleThresholds& thresholds) {
  const double fast = std::max(log_ratio(share_of(vent, through_flow), thresholds.idle_share),
                               log_ratio(vent.face_velocity, thresholds.idle_velocity));
  return std::min(log_ratio(vent.face_velocity, thresholds.still_velocity), fast);
}

// asinh of `part` of the larger flow, measured in flows at which the vent would be idle: near 0 as the part
// itself, far away as its logarithm, either sign.
double signed_log(double part, double motion) {
  return std::clamp(std::asinh(std::exp(motion) * part), -kFarthest, kFarthest);
}

// Before the role itself has its say at the line.
double smooth_role_margin(const VentSummary& vent, double moving, Role role, double ratio) {
  if (role == Role::idle) return -moving;
  const double larger = std::max(vent.inflow, vent.outflow);
  if (larger <= 0.0) return -kFarthest;
  const double in = vent.inflow / larger, out = vent.outflow / larger;
  // How much more than the both-ways line leaves room for, in parts of the larger flow.
  double part = 0.0;
  if (role == Role::intake) part = in - out / ratio;
  if (role == Role::exhaust) part = out - in / ratio;
  if (role == Role::both_ways) part = std::min(in, out) / ratio - 1.0;
  return std::min(signed_log(part, moving), moving);
}

// The margin of what is said of each vent: all of them, or any.
template <typename Of>
double over_vents(const Claim& claim, bool any, const Of& of) {
  double out = any ? -kFarthest : kFarthest;
  for (const int vent : claim.vents) out = any ? std::max(out, of(vent)) : std::min(out, of(vent));
  return out;
}

// True for exactly one role, so the roles differ where one holds now and did not then.
double change_margin(const VentSummary& now, double flow_now, const VentSummary& then, double flow_then,
                     const RoleThresholds& thresholds) {
  double out = -kFarthest;
  for (const Role role : kRoles)
    out = std::max(out, std::min(role_margin(now, flow_now, role, thresholds),
                                 -role_margin(then, flow_then, role, thresholds)));
  return out;
}

double reversal_margin(const VentSummary& now, double flow_now, const VentSummary& then, double flow_then,
                       const RoleThresholds& thresholds) {
  const auto is = [&](Role a, Role b) {
    return std::min(role_margin(now, flow_now, a, thresholds), role_margin(then, flow_then, b, thresholds));
  };
  return std::max(is(Role::intake, Role::exhaust), is(Role::exhaust, Role::intake));
}

// Positive where something moves at the vents looked at.
double movement(const RoleThresholds& thresholds, const std::vector<int>& vents, double flow,
                const StateSummary& view) {
  const double nothing = thresholds.idle_share * view.through_flow / thresholds.margin;
  if (vents.empty()) return view.through_flow > 0.0 ? kFarthest : -kFarthest;
  double fastest = 0.0;
  for (const int vent : vents) fastest = std::max(fastest, vent_at(view, vent).face_velocity);
  return std::min(log_ratio(flow, nothing), log_ratio(fastest, thresholds.still_velocity));
}

double comparison_movement(const RoleThresholds& thresholds, const Claim& claim,
                           const std::vector<StateSummary>& views) {
  const StateSummary& view = summary_at(views, claim.when);
  if (claim.kind == ClaimKind::draws_more || claim.kind == ClaimKind::gives_more) {
    const bool inflow = claim.kind == ClaimKind::draws_more;
    std::vector<int> both = claim.vents;
    both.insert(both.end(), claim.than.begin(), claim.than.end());
    const double flow = std::max(total_flow(claim.vents, view, inflow), total_flow(claim.than, view, inflow));
    return movement(thresholds, both, flow, view);
  }
  const StateSummary& then = summary_at(views, claim.against);
  return std::max(movement(thresholds, claim.vents, carried(claim.vents, view), view),
                  movement(thresholds, claim.vents, carried(claim.vents, then), then));
}

double flow_margin(const RoleThresholds& thresholds, const Claim& claim,
                   const std::vector<StateSummary>& views) {
  const StateSummary& view = summary_at(views, claim.when);
  double out = 0.0;
  if (claim.kind == ClaimKind::draws_more || claim.kind == ClaimKind::gives_more) {
    const bool inflow = claim.kind == ClaimKind::draws_more;
    out =
        log_ratio(total_flow(claim.vents, view, inflow), claim.factor * total_flow(claim.than, view, inflow));
    if (claim.factor == 1.0) out -= kSameFlow;
  } else {
    const double now = carried(claim.vents, view);
    const double then = carried(claim.vents, summary_at(views, claim.against));
    out = claim.kind == ClaimKind::flow_falls ? log_ratio((1.0 - claim.by) * then, now)
                                              : log_ratio(now, (1.0 + claim.by) * then);
    if (claim.by == 0.0) out -= kSameFlow;
  }
  return std::min(out, comparison_movement(thresholds, claim, views));
}

double share_margin(const Claim& claim, const StateSummary& view) {
  const double share = carried_share(claim.vents, view);
  double out = kFarthest;
  if (claim.low > 0.0) out = std::min(out, log_ratio(share, claim.low));
  if (claim.high < 1.0) out = std::min(out, log_ratio(claim.high, share));
  return out;
}

double heat_margin(const Device& device, const Claim& claim, const std::vector<StateSummary>& views) {
  const double now = temperature_of(device, claim.of, summary_at(views, claim.when));
  if (claim.kind == ClaimKind::temperature) return std::min(now - claim.low, claim.high - now);
  const double then = temperature_of(device, claim.of, summary_at(views, claim.against));
  return (claim.kind == ClaimKind::warms ? now - then : then - now) -
         (claim.by > 0.0 ? claim.by : kSameTemperature);
}

double role_claim_margin(const RoleThresholds& thresholds, const Claim& claim, const StateSummary& view) {
  const auto has = [&](int vent, Role role) {
    return role_margin(vent_at(view, vent), view.through_flow, role, thresholds);
  };
  if (claim.kind == ClaimKind::role)
    return over_vents(claim, claim.any, [&](int vent) { return has(vent, claim.role); });
  if (claim.kind == ClaimKind::none_has_role)
    return over_vents(claim, false, [&](int vent) { return -has(vent, claim.role); });
  return over_vents(claim, false,
                    [&](int vent) { return -std::max(has(vent, claim.role), has(vent, Role::both_ways)); });
}

}  // namespace

double role_margin(const VentSummary& vent, double through_flow, Role role,
                   const RoleThresholds& thresholds) {
  const double moving = motion(vent, through_flow, thresholds);
  const double out = smooth_role_margin(vent, moving, role, thresholds.both_ways_ratio);
  return role_of(vent, through_flow, thresholds) == role ? std::max(out, kNearest) : std::min(out, -kNearest);
}

bool nothing_moves(const RoleThresholds& thresholds, const Claim& claim,
                   const std::vector<StateSummary>& views) {
  return comparison_movement(thresholds, claim, views) < 0.0;
}

double margin(const RoleThresholds& thresholds, const Device& device, const Claim& claim,
              const std::vector<StateSummary>& views) {
  const StateSummary& now = summary_at(views, claim.when);
  const auto two = [&](const auto& of) {
    const StateSummary& then = summary_at(views, claim.against);
    return over_vents(claim, claim.any, [&](int vent) {
      return of(vent_at(now, vent), now.through_flow, vent_at(then, vent), then.through_flow, thresholds);
    });
  };
  switch (claim.kind) {
    case ClaimKind::role:
    case ClaimKind::none_has_role:
    case ClaimKind::none_breathes:
      return role_claim_margin(thresholds, claim, now);
    case ClaimKind::changes_role:
      return two(change_margin);
    case ClaimKind::reverses:
      return two(reversal_margin);
    case ClaimKind::draws_more:
    case ClaimKind::gives_more:
    case ClaimKind::flow_falls:
    case ClaimKind::flow_rises:
      return flow_margin(thresholds, claim, views);
    case ClaimKind::share:
      return share_margin(claim, now);
    case ClaimKind::temperature:
    case ClaimKind::warms:
    case ClaimKind::cools:
      break;
  }
  return heat_margin(device, claim, views);
}

double margin(const geometry::Case& content, const Claim& claim, const std::vector<StateSummary>& views) {
  return margin(content.thresholds, content.device, claim, views);
}

bool is_true(const geometry::Case& content, const Claim& claim, const std::vector<StateSummary>& views) {
  return margin(content, claim, views) >= 0.0;
}

bool can_be_told(const geometry::Case& content, const Claim& claim, const std::vector<StateSummary>& views) {
  const std::vector<int> needed = geometry::conditions_of(claim);
  const bool stagnant = std::any_of(needed.begin(), needed.end(), [&](int condition) {
    const StateSummary& view = summary_at(views, condition);
    if (view.flows_by_field && !geometry::is_about_heat(claim.kind)) return false;
    return is_stagnant(view.through_still_air);
  });
  if (!stagnant) return true;
  const bool below = claim.kind == ClaimKind::temperature && claim.low <= 0.0;
  return below && is_true(content, claim, views);
}

bool is_about_roles(ClaimKind kind) {
  return kind == ClaimKind::role || kind == ClaimKind::none_has_role || kind == ClaimKind::none_breathes ||
         kind == ClaimKind::changes_role || kind == ClaimKind::reverses;
}

bool is_solved(const Claim& claim, const std::vector<StateSummary>& views) {
  const std::vector<int> needed = geometry::conditions_of(claim);
  return std::all_of(needed.begin(), needed.end(),
                     [&](int condition) { return summary_at(views, condition).solved; });
}

}  // namespace tuft::study
