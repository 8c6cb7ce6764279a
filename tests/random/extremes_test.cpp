// Every number of the devices of cases/ replaced by extremes: refused where it stands, or solved, or without
// a solution for a reason that says what to change. Never a failure of another kind.
#include <catch2/catch.hpp>
#include <chrono>
#include <exception>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"
#include "tests/random/dice.hpp"
#include "tests/random/extremes.hpp"
#include "tests/random/invariants.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::test;

namespace {

constexpr const char* kDevices[] = {"fanless-router", "handheld-console", "mini-desktop", "open-box",
                                    "slim-notebook"};

struct Outcomes {
  int tried = 0, refused = 0, solved = 0, unsolved = 0;
  std::map<std::string, int> reasons;
  Faults faults;
};

Extremes extremes_of(const char* device) {
  std::ifstream file(std::string(TUFT_SOURCE_DIR) + "/cases/" + device + ".yaml");
  std::ostringstream text;
  text << file.rdbuf();
  REQUIRE(file);
  return Extremes(text.str());
}

void try_it(const std::string& device, const Replacement& changed, Outcomes& outcomes) {
  ++outcomes.tried;
  const auto fault = [&](const std::string& what) {
    outcomes.faults.push_back(device + ", " + changed.what + ": " + what);
  };
  try {
    const casefile::ReadResult read = casefile::read_case_text(changed.text, "case.yaml");
    for (const auto* list : {&read.errors, &read.warnings})
      for (const casefile::Diagnostic& said : *list)
        if (casefile::format(said, read.file.text).empty()) fault("an empty message");
    if (!read.errors.empty()) {
      ++outcomes.refused;
      return;
    }
    const geometry::Case& content = read.file.content;
    const auto results = study::predict_these(content, every_condition(content));
    bool all = true;
    for (const study::ConditionResult& result : results) {
      if (!result.report.converged) ++outcomes.reasons[result.report.reason], all = false;
      for (const std::string& one : faults_of(content, result)) fault(result.name + ": " + one);
    }
    for (std::size_t claim = 0; claim < content.claims.size(); ++claim)
      study::judge(content, static_cast<int>(claim), results);
    ++(all ? outcomes.solved : outcomes.unsolved);
    if (!all) std::cout << "unsolved: " << device << ", " << changed.what << std::endl;
  } catch (const std::exception& failure) {
    fault(std::string("internal error: ") + failure.what());
  }
}

std::string told_of(const Outcomes& outcomes) {
  std::string out = std::to_string(outcomes.tried) + " replacements: " + std::to_string(outcomes.refused) +
                    " refused, " + std::to_string(outcomes.solved) + " solved, " +
                    std::to_string(outcomes.unsolved) + " with a condition without a solution; faults " +
                    std::to_string(outcomes.faults.size());
  for (const auto& [reason, count] : outcomes.reasons) out += "\n  " + std::to_string(count) + ": " + reason;
  return out;
}

}  // namespace

TEST_CASE("extreme numbers in the devices of cases/ are refused or solved, a seeded share of all") {
  Outcomes outcomes;
  Dice dice(18);
  for (const char* device : kDevices) {
    const Extremes extremes = extremes_of(device);
    REQUIRE(extremes.count() > 500);
    for (int i = 0; i < 100; ++i)
      try_it(device,
             extremes.at(static_cast<std::size_t>(dice.whole(0, static_cast<int>(extremes.count()) - 1))),
             outcomes);
  }
  for (const std::string& fault : outcomes.faults) UNSCOPED_INFO(fault);
  CHECK(outcomes.faults.empty());
  INFO(told_of(outcomes));
  CHECK(outcomes.refused > 100);
  CHECK(outcomes.solved > 50);
}

TEST_CASE("extreme numbers in the devices of cases/, all of them", "[.][extremes]") {
  Outcomes outcomes;
  std::size_t told = 0;
  for (const char* device : kDevices) {
    const Extremes extremes = extremes_of(device);
    for (std::size_t i = 0; i < extremes.count(); ++i) {
      const Replacement changed = extremes.at(i);
      const auto start = std::chrono::steady_clock::now();
      try_it(device, changed, outcomes);
      const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
      if (took.count() > 3.0)
        std::cout << took.count() << " s: " << device << ", " << changed.what << std::endl;
      for (; told < outcomes.faults.size(); ++told) std::cout << outcomes.faults[told] << std::endl;
    }
    std::cout << device << ", so far " << told_of(outcomes) << std::endl;
  }
  CHECK(outcomes.faults.empty());
}
