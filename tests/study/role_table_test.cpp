// Every condition of cases/ by the network and by the field: where they disagree about what a vent does, that
// is known here, and the verdict shows it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/field_comparison.hpp"
#include "solver/study/predict.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::study;
using tuft::test::case_named;

namespace {

const char* const kCases[] = {"fanless-router", "handheld-console", "mini-desktop", "open-box",
                              "slim-notebook"};

/// Some 1500 cells a layer: the larger of the two sizes that tuft check solves.
double cell_of(const geometry::Device& device) {
  return std::sqrt(device.size.x() * device.size.y() / 1500.0);
}

/// "case/condition/vent: network, field" for every vent of which the two say different things, and
/// "case/condition: no field" where the layers have no solution.
void add_disagreements(const std::string& name, const geometry::Case& c, int condition,
                       std::vector<std::string>* out) {
  const geometry::Condition& at = c.conditions[static_cast<std::size_t>(condition)];
  const std::string place = name + "/" + at.name;
  const ConditionResult network = predict(c, condition);
  REQUIRE(network.report.converged);
  flow2d::PlanOptions options;
  options.cell = cell_of(c.device);
  options.stable = false;  // roles alone are asked for
  options.march_steps = 60;
  const flow2d::PlanResult field = flow2d::solve_plan(c, at, layer_boundary_data(network), options);
  if (!field.usable()) {
    out->push_back(place + ": no field");
    return;
  }
  const FieldComparison both = compare_with_field(c, network, field);
  bool unsure = false;
  for (const VentResult& vent : network.vents)
    unsure = unsure || (vent.unsure && !c.device.vents[static_cast<std::size_t>(vent.vent)].is_leak);
  for (const VentComparison& row : both.vents) {
    const geometry::Vent& vent = c.device.vents[static_cast<std::size_t>(row.vent)];
    if (!row.roles_differ || vent.is_leak || row.shut) continue;
    out->push_back(place + "/" + vent.name + ": " + geometry::role_word(row.network.role) + ", " +
                   geometry::role_word(row.field.role));
    // So that check, study and report solve the field and say so.
    INFO(out->back());
    CHECK(unsure);
  }
}

}  // namespace

TEST_CASE("network and field give the vents of cases/ the same roles, but for those that are known",
          "[cases]") {
  // docs/verification.md lists them too.
  const std::vector<std::string> known = {
      "fanless-router/hung/left-slots: intake, both-ways",  // no claim speaks of it
      "fanless-router/hung/right-slots: intake, both-ways",
      "handheld-console/asleep-flat/outlet: idle, both-ways",  // hardly any air passes; no claim speaks of it
      "mini-desktop/fan-failed-upright/rear-outlet: both-ways, intake",
      "open-box/face-down: no field",  // hardly any air passes; no claim speaks of it
  };
  std::vector<std::string> found;
  int conditions = 0;
  for (const char* name : kCases) {
    const geometry::Case c = case_named(name);
    for (const int condition : tuft::test::every_condition(c)) {
      add_disagreements(name, c, condition, &found);
      ++conditions;
    }
  }
  std::printf("%d conditions; network and field disagree in %zu lines:\n", conditions, found.size());
  for (const std::string& line : found) std::printf("  %s\n", line.c_str());
  CHECK(found == known);
}
