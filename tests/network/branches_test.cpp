// All steady states of a device, as far as they are found.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/audit.hpp"
#include "solver/network/branches.hpp"
#include "tests/network/chassis.hpp"
#include "tests/network/duct.hpp"
#include "tests/network/heat_chassis.hpp"

using namespace tuft;
using namespace tuft::testing;
using network::Setting;

namespace {

const geometry::Case kNoSuchCase;

network::Branches of_duct(double speed, const network::BranchOptions& options) {
  const network::ModelAt at = [speed](const Setting& s) {
    return duct({s.fan_speed * speed, s.power, s.tilt});
  };
  return network::find_branches(at, kNoSuchCase, options);
}

}  // namespace

TEST_CASE("the duct's stable states are found from starts alone, the unstable one by tracing", "[branches]") {
  network::BranchOptions options;
  const network::Branches by_starts = of_duct(0.75, options);
  CHECK(by_starts.stable == 2);
  options.traces = true;
  const network::Branches all = of_duct(0.75, options);
  CHECK(all.stable == 2);
  REQUIRE(all.branches.size() == 3);
  CHECK(all.branches[0].cold_start);
  CHECK(all.branches[0].steady.state.flow[0] > 0.0);
  CHECK(all.branches[1].steady.state.flow[0] < 0.0);
  CHECK(all.branches[1].turned == std::vector<std::string>{"mouth", "fan"});
  CHECK_FALSE(all.branches[2].stability.stable);
  // What tips the fan-driven state: a slower fan, more power.
  bool slower = false, hotter = false;
  for (const network::TurningPoint& turning_point : all.branches[0].turning_points) {
    slower = slower || (turning_point.parameter == network::ContinuationParameter::fan_speed &&
                        turning_point.change < 0.0);
    hotter = hotter ||
             (turning_point.parameter == network::ContinuationParameter::power && turning_point.change > 0.0);
  }
  CHECK(slower);
  CHECK(hotter);
  for (const network::Branch& branch : all.branches) CHECK_FALSE(branch.words.empty());
}

TEST_CASE("outside the duct's folds there is one state, whatever is tried", "[branches]") {
  network::BranchOptions options;
  options.sweeps = options.traces = true;
  for (const double speed : {0.4, 1.2}) {
    const network::Branches found = of_duct(speed, options);
    REQUIRE(found.branches.size() == 1);
    CHECK(found.branches[0].stability.stable);
    CHECK((found.branches[0].steady.state.flow[0] > 0.0) == (speed > 1.0));
    CHECK(found.branches[0].turned.empty());
  }
}

TEST_CASE("two shafts joined below draw either way: both are found, mirror images", "[branches]") {
  const network::ModelAt at = [](const Setting& s) { return two_shafts(s); };
  const network::Branches found = network::find_branches(at, kNoSuchCase);
  REQUIRE(found.stable == 2);
  const network::State& a = found.branches[0].steady.state;
  const network::State& b = found.branches[1].steady.state;
  CHECK(std::abs(a.flow[0]) > 1e-5);
  CHECK(a.flow[0] == Approx(b.flow[1]).epsilon(1e-8));
  CHECK(a.flow[1] == Approx(b.flow[0]).epsilon(1e-8));
  CHECK(a.flow[2] == Approx(-b.flow[2]).epsilon(1e-8));
  CHECK(a.temperature[0] == Approx(b.temperature[1]).epsilon(1e-9));
  CHECK(a.temperature[1] == Approx(b.temperature[0]).epsilon(1e-9));
  CHECK(found.branches[1].turned.size() == 3);
  // What is warmed twice rises.
  CHECK((a.temperature[1] > a.temperature[0]) == (a.flow[1] > 0.0));
}

TEST_CASE("every state found of the heat chassis is one: balanced, a cold start's among them", "[branches]") {
  geometry::Case content = heat_chassis();
  int conditions = 0, solves = 0;
  for (const std::string& pose : geometry::pose_words()) {
    for (int support = 0; support < 3; ++support) {
      for (int load = 0; load < 4; ++load) {
        const int index = add_condition(content, pose, support, load);
        const geometry::Condition condition = content.conditions[static_cast<std::size_t>(index)];
        INFO(condition.name);
        const network::Branches found = network::find_branches(content, condition);
        REQUIRE(found.summary.converged());
        solves += found.solves;
        ++conditions;
        int cold = 0;
        for (const network::Branch& branch : found.branches) {
          INFO(branch.words);
          cold += branch.cold_start ? 1 : 0;
          HeatedNetwork made = heated_network(content, index);
          network::Model model{made.net, made.layout};
          network::apply_outcomes(content, branch.steady.sources, model);
          const network::Audit energy_balance = network::audit(model.net.graph, branch.steady.state);
          CHECK(energy_balance.mass < 1e-9);
          CHECK(energy_balance.energy < 1e-8);
        }
        CHECK(cold == 1);
      }
    }
  }
  CHECK(conditions == 72);
  CHECK(solves < 72 * 20);
}
