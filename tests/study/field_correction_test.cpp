// The field's answer as a correction of the network's: what it keeps, where it decides, where it does not.
#include "solver/study/field_correction.hpp"

#include <catch2/catch.hpp>

#include "solver/study/field_need.hpp"

using namespace tuft;
using namespace tuft::study;
using geometry::Role;

namespace {

// Three vents. The network lets the middle one breathe both ways, the field lets it draw. Flows in g/s.
geometry::Case three_vents() {
  geometry::Case content;
  content.device.vents.resize(3);
  content.conditions.resize(1);
  content.conditions[0].name = "stood";
  return content;
}

FieldComparison middle_differs() {
  FieldComparison out;
  out.vents.resize(3);
  const auto put = [&](int v, Role network, double in, double from, Role field, double in_f, double out_f) {
    VentComparison& row = out.vents[static_cast<std::size_t>(v)];
    row.vent = v;
    row.network = {network, true, in, from, 0.0, std::max(in, from), 294.0, 300.0};
    row.field = {field, true, in_f, out_f, 0.0, std::max(in_f, out_f), 294.0, 302.0};
    row.roles_differ = network != field;
    row.temperature = 2.0;
  };
  put(0, Role::intake, 2.0, 0.0, Role::intake, 1.0, 0.0);
  put(1, Role::both_ways, 1.0, 1.0, Role::intake, 0.8, 0.0);
  put(2, Role::exhaust, 0.0, 2.0, Role::exhaust, 0.0, 1.8);
  return out;
}

StateSummary network_state() {
  StateSummary state;
  state.solved = true;
  state.through_flow = 3.0;
  state.vents = {{Role::intake, 2.0, 0.0, 2.0, 294.0, 300.0},
                 {Role::both_ways, 1.0, 1.0, 1.0, 294.0, 300.0},
                 {Role::exhaust, 0.0, 2.0, 2.0, 294.0, 300.0}};
  return state;
}

double net_of(const StateSummary& state) {
  double sum = 0.0;
  for (const VentSummary& vent : state.vents) sum += vent.inflow - vent.outflow;
  return sum;
}

}  // namespace

TEST_CASE("weight 0 is the network's answer, weight 1 the field's, and mass balances in between") {
  const FieldCorrection correction = correction_of(three_vents(), 0, middle_differs(), {});
  for (const double weight : {0.0, 0.3, 0.7, 1.0}) {
    CAPTURE(weight);
    StateSummary state = network_state();
    apply(correction, weight, {}, state);
    CHECK(net_of(state) == Approx(0.0).margin(1e-12));
    CHECK(state.vents[1].outflow == Approx(1.0 - weight));
    CHECK(state.vents[2].temperature_out == Approx(300.0 + 2.0 * weight));
    if (weight == 0.0) CHECK(state.vents[1].role == Role::both_ways);
    if (weight == 1.0) CHECK(state.vents[1].role == Role::intake);
  }
}

TEST_CASE("a field without support leaves both answers possible; one that is refined and stable decides") {
  const geometry::Case content = three_vents();
  const FieldCorrection open = correction_of(content, 0, middle_differs(), {true, 0.01, false});
  CHECK_FALSE(open.backed);
  CHECK(open.weight.low == 0.0);
  CHECK(open.weight.high == 1.0);
  CHECK(open.roles_differ == std::vector<int>{1});
  const FieldCorrection decides = correction_of(content, 0, middle_differs(), {true, 0.01, true});
  CHECK(decides.backed);
  CHECK(decides.weight.low == Approx(0.75));
  CHECK(decides.weight.high == Approx(1.25));
  // Cells that still change the flow by half of what the field changes: half the way either side. The largest
  // change is 1 g/s of 3 g/s.
  const FieldCorrection rough = correction_of(content, 0, middle_differs(), {true, 0.5 / 3.0, true});
  CHECK(rough.weight.low == Approx(0.5));
  CHECK(rough.weight.high == Approx(1.5));
  // All of what the weight allows keeps the field's role.
  for (const double weight : {decides.weight.low, decides.weight.high}) {
    StateSummary state = network_state();
    apply(decides, weight, {}, state);
    CHECK(state.vents[1].role != Role::exhaust);
    CHECK(state.vents[2].role == Role::exhaust);
  }
}

TEST_CASE("agreement is equal roles and flows within a hundredth of the through-flow") {
  FieldComparison same = middle_differs();
  for (VentComparison& row : same.vents) {
    row.field = row.network;
    row.roles_differ = false;
  }
  CHECK(agrees(three_vents(), same));
  same.vents[0].field.inflow += 0.02 * 3.0;
  CHECK_FALSE(agrees(three_vents(), same));
  CHECK_FALSE(agrees(three_vents(), middle_differs()));
}

TEST_CASE("a network in which nothing flows has nothing to correct") {
  FieldComparison still = middle_differs();
  for (VentComparison& row : still.vents) row.network.inflow = 0.0;
  CHECK_THROWS_AS(correction_of(three_vents(), 0, still, {}), std::invalid_argument);
}

TEST_CASE("the network is unsure where warm air decides, air goes both ways, or a threshold is near") {
  VentResult vent;
  vent.firm = true;
  vent.inflow = 1.0;
  vent.fan_head = -5.0;
  vent.buoyancy_head = 1.0;
  CHECK_FALSE(is_unsure(vent));
  vent.span_head = 2.0;
  CHECK(trust_of(vent).buoyancy_share == Approx(3.0 / 8.0));
  CHECK(is_unsure(vent));
  vent.span_head = 0.0;
  vent.exchange = 0.1;
  CHECK(is_unsure(vent));
  vent.exchange = 0.0;
  vent.firm = false;
  CHECK(is_unsure(vent));
  vent.shut = true;
  CHECK_FALSE(is_unsure(vent));
}
