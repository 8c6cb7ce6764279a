// Whatever the reader lets through, the solver answers: a result that balances, or the reason there is none.
#include <catch2/catch.hpp>
#include <cmath>

#include "geometry/casefile/starter.hpp"
#include "solver/study/predict.hpp"
#include "tests/casefile/helpers.hpp"
#include "tests/messages/mutations.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using casefile::test::Mutation;

namespace {

// Predicts every condition and judges every claim; returns how many conditions were looked at.
int solve_all(const geometry::Case& content) {
  const auto results = study::predict_these(content, test::every_condition(content));
  for (const study::ConditionResult& result : results) {
    if (!result.report.converged) {
      CHECK_FALSE(result.report.reason.empty());
      continue;
    }
    CHECK(result.balance.mass <= 1e-9);
    CHECK(result.balance.energy <= 1e-8);
    for (const study::VentResult& vent : result.vents) {
      REQUIRE(std::isfinite(vent.inflow));
      REQUIRE(std::isfinite(vent.pressure));
      REQUIRE(vent.inflow >= 0.0);
      REQUIRE(vent.outflow >= 0.0);
    }
  }
  for (int claim = 0; claim < static_cast<int>(content.claims.size()); ++claim)
    CHECK_FALSE(study::judge(content, claim, results).because.empty());
  return static_cast<int>(results.size());
}

}  // namespace

TEST_CASE("every mutated file that reads is solved or refused with a reason") {
  int read = 0, conditions = 0;
  for (const std::string& source :
       {casefile::test::full_case(), casefile::test::notebook_case("Box"), casefile::test::heat_case()}) {
    for (const Mutation& mutation : casefile::test::mutations(source, 25, 77)) {
      const auto file = casefile::read_case_text(mutation.text, "mutated.yaml");
      if (!file.errors.empty()) continue;
      ++read;
      INFO(mutation.what);
      REQUIRE_NOTHROW(conditions += solve_all(file.file.content));
    }
  }
  // Enough of them read for this to mean something.
  CHECK(read > 20);
  CHECK(conditions > read);
}
