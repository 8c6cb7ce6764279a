// Roles, claims and comparisons on results written by hand.
#include "solver/study/state_summary.hpp"

#include <catch2/catch.hpp>

#include "solver/study/predict.hpp"

using namespace tuft;
using namespace tuft::study;
using geometry::Claim;
using geometry::ClaimKind;
using geometry::Role;

namespace {

VentResult vent(int index, double inflow, double outflow, double share, double velocity) {
  VentResult v;
  v.vent = index;
  v.inflow = inflow;
  v.outflow = outflow;
  v.share = share;
  v.face_velocity = velocity;
  return v;
}

geometry::Case two_vents() {
  geometry::Case content;
  content.device.vents.resize(2);
  content.device.vents[0].name = "first";
  content.device.vents[1].name = "second";
  return content;
}

ConditionResult solved(std::vector<VentResult> vents) {
  ConditionResult result;
  result.name = "use";
  result.report.converged = true;
  result.through_flow = 2e-3;
  result.ambient_density = 1.2;
  result.vents = std::move(vents);
  for (VentResult& v : result.vents) v.role = role_of(v, {});
  return result;
}

Verdict verdict_of(geometry::Case content, const Claim& claim, const std::vector<ConditionResult>& results) {
  content.claims = {claim};
  return judge(content, 0, results).verdict;
}

}  // namespace

TEST_CASE("role by thresholds") {
  const geometry::RoleThresholds t;
  CHECK(role_of(vent(0, 1e-3, 0.0, 0.5, 0.4), t) == Role::intake);
  CHECK(role_of(vent(0, 0.0, 1e-3, 0.5, 0.4), t) == Role::exhaust);
  CHECK(role_of(vent(0, 1e-3, 0.3e-3, 0.5, 0.4), t) == Role::both_ways);
  CHECK(role_of(vent(0, 1e-3, 0.1e-3, 0.5, 0.4), t) == Role::intake);
  // Idle needs both a small share and a small velocity: a slow wide intake with a large share works.
  CHECK(role_of(vent(0, 1e-5, 0.0, 0.02, 0.04), t) == Role::idle);
  CHECK(role_of(vent(0, 1e-5, 0.0, 0.02, 0.06), t) == Role::intake);
  CHECK(role_of(vent(0, 1e-5, 0.0, 0.04, 0.04), t) == Role::intake);
  // Below the velocity of the quietest room's air, the share does not count.
  CHECK(role_of(vent(0, 1e-5, 0.0, 0.9, 0.0004), t) == Role::idle);
  CHECK(role_of(vent(0, 0.0, 0.0, 0.0, 0.0), t) == Role::idle);
}

TEST_CASE("a role near a threshold is possible both ways") {
  const geometry::RoleThresholds t;
  const auto far = possible_roles(vent(0, 1e-3, 0.0, 0.5, 0.4), t);
  CHECK(far == std::array<bool, 4>{true, false, false, false});
  const auto near_both = possible_roles(vent(0, 1e-3, 0.16e-3, 0.5, 0.4), t);
  CHECK(near_both == std::array<bool, 4>{true, false, true, false});
  const auto near_idle = possible_roles(vent(0, 1e-5, 0.0, 0.025, 0.04), t);
  CHECK(near_idle == std::array<bool, 4>{true, false, false, true});
}

TEST_CASE("claims about roles hold, fail or are undecided") {
  const auto content = two_vents();
  const auto results = std::vector{solved({vent(0, 1e-3, 0.0, 0.5, 0.4), vent(1, 1e-3, 0.16e-3, 0.5, 0.4)})};
  Claim claim;
  claim.vents = {0};
  claim.role = Role::intake;
  CHECK(verdict_of(content, claim, results) == Verdict::holds);
  claim.role = Role::exhaust;
  CHECK(verdict_of(content, claim, results) == Verdict::fails);
  claim.vents = {1};
  claim.role = Role::intake;
  CHECK(verdict_of(content, claim, results) == Verdict::undecided);
  claim.vents = {0, 1};
  CHECK(verdict_of(content, claim, results) == Verdict::undecided);
  claim.any = true;
  CHECK(verdict_of(content, claim, results) == Verdict::holds);
  claim.any = false;
  claim.kind = ClaimKind::none_has_role;
  claim.role = Role::exhaust;
  CHECK(verdict_of(content, claim, results) == Verdict::holds);
  claim.role = Role::intake;
  CHECK(verdict_of(content, claim, results) == Verdict::fails);
}

TEST_CASE("comparisons and shares are not told when too close") {
  const auto content = two_vents();
  const auto results = std::vector{solved({vent(0, 1.0e-3, 0.0, 0.5, 0.4), vent(1, 0.5e-3, 0.0, 0.25, 0.4)})};
  Claim claim;
  claim.kind = ClaimKind::draws_more;
  claim.vents = {0};
  claim.than = {1};
  claim.factor = 1.5;
  CHECK(verdict_of(content, claim, results) == Verdict::holds);
  claim.factor = 2.5;
  CHECK(verdict_of(content, claim, results) == Verdict::fails);
  claim.factor = 2.05;
  CHECK(verdict_of(content, claim, results) == Verdict::undecided);
  claim.kind = ClaimKind::share;
  claim.low = 0.4;
  claim.high = 0.6;
  CHECK(verdict_of(content, claim, results) == Verdict::holds);
  claim.low = 0.6;
  claim.high = 1.0;
  CHECK(verdict_of(content, claim, results) == Verdict::fails);
  claim.low = 0.49;
  CHECK(verdict_of(content, claim, results) == Verdict::undecided);
}

TEST_CASE("a claim about a condition without a solution is undecided, and says why") {
  auto content = two_vents();
  ConditionResult failed;
  failed.name = "bench";
  failed.report.reason = "too hot";
  Claim claim;
  claim.vents = {0};
  content.claims = {claim};
  const ClaimResult result = judge(content, 0, {failed});
  CHECK(result.verdict == Verdict::undecided);
  CHECK(result.because == "condition \"bench\" has no solution: too hot");
}

TEST_CASE("comparing two conditions names the change and the head behind it") {
  const auto content = two_vents();
  auto from = solved({vent(0, 1e-3, 0.0, 0.5, 0.4), vent(1, 1e-4, 0.0, 0.1, 0.1)});
  auto to = solved({vent(0, 1e-3, 0.0, 0.5, 0.4), vent(1, 1e-4, 0.9e-4, 0.1, 0.1)});
  to.vents[1].span_head = 0.06;
  to.vents[1].fan_head = -0.007;
  from.vents[1].fan_head = -0.007;
  const auto changes = compare(content, from, to);
  REQUIRE(changes.size() == 2);
  CHECK(!changes[0].role_changes);
  CHECK(!changes[0].size_changes);
  CHECK(changes[1].role_changes);
  CHECK(changes[1].because ==
        "the buoyancy head across its own height goes from 0 Pa to +0.0600 Pa, against a fan head of "
        "-0.0070 Pa");
}

TEST_CASE("nothing against nothing is no more") {
  const auto content = two_vents();
  auto results = std::vector{solved({vent(0, 0.0, 0.0, 0.0, 0.0), vent(1, 0.0, 0.0, 0.0, 0.0)})};
  results[0].through_flow = 0.0;
  Claim claim;
  claim.kind = ClaimKind::draws_more;
  claim.vents = {0};
  claim.than = {1};
  CHECK(verdict_of(content, claim, results) == Verdict::undecided);
}
