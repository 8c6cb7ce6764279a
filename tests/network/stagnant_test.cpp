// Boxes that hardly any air passes: what the network's temperatures are worth there, and which claims they
// decide.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/study/predict.hpp"
#include "solver/study/state_summary.hpp"
#include "tests/support/open_box.hpp"

using namespace tuft;
using geometry::ClaimKind;
using study::Verdict;

namespace {

// The open box with heat in its air.
geometry::Case warm_open_box(double angle) {
  geometry::Case c = test::open_box(0.3, angle);
  geometry::Source board;
  board.name = "board";
  board.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  c.device.sources = {board};
  geometry::SourcePower power;
  power.source = 0;
  power.power = 6.0;
  c.loads[0].powers = {power};
  return c;
}

geometry::Claim claim_of(ClaimKind kind) {
  geometry::Claim claim;
  claim.kind = kind;
  claim.of = {geometry::PlaceKind::zone, 0};
  claim.when = 0;
  return claim;
}

geometry::Claim between(double low, double high) {
  geometry::Claim claim = claim_of(ClaimKind::temperature);
  claim.low = low;
  claim.high = high;
  return claim;
}

Verdict verdict_on(const geometry::Claim& claim, geometry::Case c) {
  c.claims = {claim};
  return study::judge(c, 0, {study::predict(c, 0)}).verdict;
}

constexpr double kRoom = 294.15;

}  // namespace

TEST_CASE("stagnant: insulated and face down, the network's temperature is an upper bound and says so") {
  const study::ConditionResult result = study::predict(warm_open_box(180.0), 0);
  REQUIRE(result.report.converged);
  CHECK(study::is_stagnant(result.through_still_air));
  CHECK(result.zones[0].temperature > kRoom + 100.0);
  // On end, or leaning over by 60 degrees, the air carries the heat.
  CHECK_FALSE(study::is_stagnant(study::predict(warm_open_box(90.0), 0).through_still_air));
  CHECK_FALSE(study::is_stagnant(study::predict(warm_open_box(150.0), 0).through_still_air));
}

TEST_CASE("stagnant: only that something stays below a temperature is decided") {
  const geometry::Case down = warm_open_box(180.0);
  const double network = study::predict(down, 0).zones[0].temperature;
  CHECK(verdict_on(between(0.0, network + 50.0), down) == Verdict::holds);
  CHECK(verdict_on(between(0.0, network - 50.0), down) == Verdict::undecided);
  CHECK(verdict_on(between(kRoom + 20.0, HUGE_VAL), down) == Verdict::undecided);
  CHECK(verdict_on(between(kRoom, network + 50.0), down) == Verdict::undecided);
  geometry::Claim idle = claim_of(ClaimKind::role);
  idle.vents = {test::kMiddle};
  idle.role = geometry::Role::idle;
  CHECK(verdict_on(idle, down) == Verdict::undecided);
  // The same questions where air passes.
  const geometry::Case upright = warm_open_box(90.0);
  CHECK(verdict_on(between(0.0, kRoom + 50.0), upright) == Verdict::holds);
  CHECK(verdict_on(between(kRoom + 20.0, HUGE_VAL), upright) == Verdict::fails);
  geometry::Claim draws = claim_of(ClaimKind::role);
  draws.vents = {test::kMiddle};
  draws.role = geometry::Role::intake;
  CHECK(verdict_on(draws, upright) == Verdict::holds);
}
