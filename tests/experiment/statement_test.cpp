// Claims on views made by chance: the margin tells the truth, and the roles are those of role_of.
#include "solver/study/statement.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "solver/study/state_summary.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

using namespace tuft;
using namespace tuft::study;
using geometry::Claim;
using geometry::ClaimKind;
using geometry::Role;

namespace {

double chance(std::uint64_t stream, std::uint64_t i) { return uncertainty::unit_uniform(stream, i); }

// Flows over seven decades, some of them nothing.
VentSummary vent_by_chance(std::uint64_t i) {
  VentSummary vent;
  const auto flow = [&](std::uint64_t stream) {
    return chance(stream, i) < 0.2 ? 0.0 : 1e-3 * std::pow(10.0, -7.0 * chance(stream + 1, i));
  };
  vent.inflow = flow(10);
  vent.outflow = flow(20);
  vent.face_velocity = std::max(vent.inflow, vent.outflow) * 400.0;
  vent.temperature_out = 300.0;
  return vent;
}

StateSummary view_by_chance(std::uint64_t i) {
  StateSummary view;
  view.solved = true;
  for (std::uint64_t v = 0; v < 3; ++v) view.vents.push_back(vent_by_chance(3 * i + v));
  for (const VentSummary& vent : view.vents) view.through_flow += vent.inflow;
  update_roles({}, view);
  view.source_temperature = {300.0 + 20.0 * chance(30, i)};
  return view;
}

geometry::Case three_vents() {
  geometry::Case content;
  content.device.vents.resize(3);
  content.device.sources.resize(1);
  return content;
}

}  // namespace

TEST_CASE("a role's margin is positive exactly where the vent has the role") {
  const geometry::RoleThresholds thresholds;
  for (std::uint64_t i = 0; i < 3000; ++i) {
    const StateSummary view = view_by_chance(i);
    for (const VentSummary& vent : view.vents) {
      int positive = 0;
      for (const Role role : {Role::intake, Role::exhaust, Role::both_ways, Role::idle}) {
        const double margin = role_margin(vent, view.through_flow, role, thresholds);
        CHECK(std::isfinite(margin));
        CHECK((margin > 0.0) == (vent.role == role));
        positive += margin > 0.0 ? 1 : 0;
      }
      CHECK(positive == 1);
    }
  }
}

TEST_CASE("statements are true where their words say so") {
  const geometry::Case content = three_vents();
  for (std::uint64_t i = 0; i < 1000; ++i) {
    const std::vector<StateSummary> views = {view_by_chance(2 * i), view_by_chance(2 * i + 1)};
    const auto role = [&](int condition, int vent) {
      return views[static_cast<std::size_t>(condition)].vents[static_cast<std::size_t>(vent)].role;
    };
    Claim claim;
    claim.vents = {0, 1};
    claim.against = 1;
    claim.kind = ClaimKind::none_breathes;
    claim.role = Role::exhaust;
    const auto out = [&](int vent) {
      return role(0, vent) == Role::exhaust || role(0, vent) == Role::both_ways;
    };
    CHECK(is_true(content, claim, views) == (!out(0) && !out(1)));
    claim.kind = ClaimKind::changes_role;
    CHECK(is_true(content, claim, views) == (role(0, 0) != role(1, 0) && role(0, 1) != role(1, 1)));
    claim.any = true;
    CHECK(is_true(content, claim, views) == (role(0, 0) != role(1, 0) || role(0, 1) != role(1, 1)));
    claim.vents = {2};
    claim.kind = ClaimKind::reverses;
    const bool turned = (role(0, 2) == Role::intake && role(1, 2) == Role::exhaust) ||
                        (role(0, 2) == Role::exhaust && role(1, 2) == Role::intake);
    CHECK(is_true(content, claim, views) == turned);
    claim.kind = ClaimKind::warms;
    claim.of = {geometry::PlaceKind::source, 0};
    claim.by = 3.0;
    CHECK(is_true(content, claim, views) ==
          (views[0].source_temperature[0] - views[1].source_temperature[0] >= 3.0));
  }
}

TEST_CASE("a fall of flow counts from its share on") {
  const geometry::Case content = three_vents();
  StateSummary before = view_by_chance(1), after = before;
  before.through_flow = 1e-3;
  Claim claim;
  claim.kind = ClaimKind::flow_falls;
  claim.against = 1;
  claim.by = 0.2;
  after.through_flow = 0.79e-3;
  CHECK(is_true(content, claim, {after, before}));
  after.through_flow = 0.81e-3;
  CHECK_FALSE(is_true(content, claim, {after, before}));
  claim.kind = ClaimKind::flow_rises;
  CHECK_FALSE(is_true(content, claim, {after, before}));
  CHECK(is_true(content, claim, {before, after}));  // 1 / 0.81 = 1.235
}

TEST_CASE("equals are neither more nor less") {
  geometry::Case content = three_vents();
  StateSummary view = view_by_chance(1);
  for (VentSummary& vent : view.vents) vent = {Role::intake, 1e-3, 0.0, 0.4, 294.0, 300.0};
  view.through_flow = 3e-3;
  Claim claim;
  claim.vents = {0};
  claim.than = {1};
  claim.against = 1;
  claim.of = {geometry::PlaceKind::source, 0};
  for (const ClaimKind kind : {ClaimKind::draws_more, ClaimKind::flow_falls, ClaimKind::flow_rises,
                               ClaimKind::warms, ClaimKind::cools}) {
    claim.kind = kind;
    CHECK_FALSE(is_true(content, claim, {view, view}));
  }
  StateSummary more = view;
  more.vents[0].inflow *= 1.001;
  more.source_temperature[0] += 0.01;
  claim.kind = ClaimKind::draws_more;
  CHECK(is_true(content, claim, {more, view}));
  claim.kind = ClaimKind::flow_rises;
  CHECK(is_true(content, claim, {more, view}));
  claim.kind = ClaimKind::warms;
  CHECK(is_true(content, claim, {more, view}));
}

TEST_CASE("no share exceeds the whole where the model's uncertainty scales one flow") {
  const geometry::Case content = three_vents();
  StateSummary view;
  view.solved = true;
  view.vents = {{Role::intake, 1e-3, 0.0, 0.4, 294.0, 300.0},
                {Role::exhaust, 0.0, 0.8e-3, 0.4, 294.0, 300.0},
                {Role::exhaust, 0.0, 0.2e-3, 0.4, 294.0, 300.0}};
  view.vents[1].outflow *= 2.0;  // 1.6 parts leave there and 0.2 elsewhere, while 1 part enters
  update_roles({}, view);
  Claim claim;
  claim.kind = ClaimKind::share;
  claim.low = 0.5;
  claim.high = 0.95;
  claim.vents = {1};
  CHECK(behind(content, claim, {view}).value == Approx(1.6 / 1.8));  // derived
  CHECK(is_true(content, claim, {view}));
  claim.vents = {0};
  CHECK(behind(content, claim, {view}).value == Approx(1.0));
}
