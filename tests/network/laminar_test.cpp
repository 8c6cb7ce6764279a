// Where a flow is faster than its laminar law, the result says so, with the Reynolds number of that flow.
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "solver/physics/air.hpp"
#include "solver/study/predict.hpp"
#include "tests/network/chassis.hpp"

using namespace tuft;
using network::LaminarKind;
using study::ConditionResult;

namespace {

constexpr int kFansCold = 3, kInAir = 0, kOnTable = 1;

// All air that goes through the fins leaves by the outlet; cold, so that it has the room's viscosity.
double fin_reynolds(const geometry::Case& content, const ConditionResult& result) {
  const geometry::FinStack& fins = content.device.fin_stacks.front();
  const double flow = result.vents[testing::kOutlet].outflow;
  const double hydraulic = 2.0 * *fins.gap * *fins.height / (*fins.gap + *fins.height);
  return flow * hydraulic /
         (*fins.count * *fins.gap * *fins.height * physics::viscosity(result.ambient_temperature));
}

const study::RangeExceeded* find(const ConditionResult& result, LaminarKind kind) {
  for (const auto& range : result.beyond_laminar) {
    if (range.kind == kind) return &range;
  }
  return nullptr;
}

ConditionResult solve(geometry::Case& content, int support, double faster) {
  geometry::Value& speed = content.loads[kFansCold].fans.front().speed;
  speed = *speed * faster;
  const int condition = testing::add_condition(content, "flat", support, kFansCold);
  ConditionResult result = study::predict(content, condition);
  REQUIRE(result.report.converged);
  return result;
}

}  // namespace

TEST_CASE("a slim chassis keeps within the laminar range") {
  geometry::Case content = testing::test_chassis();
  const ConditionResult result = solve(content, kOnTable, 1.0);
  CHECK(fin_reynolds(content, result) < 2300.0);
  CHECK(result.beyond_laminar.empty());
}

TEST_CASE("fins with few wide channels leave it, at the Reynolds number of their flow") {
  int beyond = 0, within = 0;
  for (const double count : {2.0, 4.0, 8.0, 16.0, 32.0}) {
    INFO(count << " channels");
    geometry::Case content = testing::test_chassis();
    content.device.fin_stacks.front().count = count;
    content.device.fin_stacks.front().gap = 5e-3;
    const ConditionResult result = solve(content, kInAir, 1.0);
    const double expected = fin_reynolds(content, result);
    const study::RangeExceeded* range = find(result, LaminarKind::fins);
    CHECK((range != nullptr) == (expected > 2300.0));  // the limit of docs/theory.md
    if (range == nullptr) {
      ++within;
      continue;
    }
    ++beyond;
    CHECK(range->name == content.device.fin_stacks.front().name);
    CHECK(range->limit == 2300.0);
    CHECK(range->reynolds == Approx(expected).epsilon(1e-6));
  }
  CHECK(beyond > 0);
  CHECK(within > 0);
}

TEST_CASE("a gap that a strong fan draws through leaves it, each way named once") {
  geometry::Case content = testing::test_chassis();
  content.device.fin_stacks.front().gap = 5e-3;
  const ConditionResult slow = solve(content, kOnTable, 0.05);
  CHECK(find(slow, LaminarKind::gap) == nullptr);
  const ConditionResult result = solve(content, kOnTable, 120.0);  // solve() multiplies what is there
  const study::RangeExceeded* range = find(result, LaminarKind::gap);
  REQUIRE(range != nullptr);
  CHECK(range->name == content.device.vents[testing::kGrille].name);
  CHECK(range->limit == 1500.0);
  CHECK(range->reynolds > 1500.0);
  // The ways to the edges go by the vent's name; the one to the other vent in the same gap by both names.
  std::set<std::string> names;
  int gaps = 0;
  for (const auto& each : result.beyond_laminar) {
    if (each.kind != LaminarKind::gap) continue;
    ++gaps;
    names.insert(each.name);
  }
  CHECK(static_cast<int>(names.size()) == gaps);
  // Air is incompressible here and the fan far from stalling: more speed, more flow, a larger number.
  const ConditionResult faster = solve(content, kOnTable, 1.5);
  const study::RangeExceeded* more = find(faster, LaminarKind::gap);
  REQUIRE(more != nullptr);
  CHECK(more->reynolds > range->reynolds);
}
