// What `tuft watch` says changed.
#include "tools/page/changes.hpp"

#include <catch2/catch.hpp>

#include "tests/io/sample.hpp"

using Catch::Matchers::Contains;
using tuft::page::changes;
using tuft::test::sample_run;

namespace {

std::string text(const std::vector<std::string>& lines) {
  std::string all;
  for (const std::string& line : lines) all += line + "\n";
  return all;
}

}  // namespace

TEST_CASE("equal runs have no changes") { CHECK(changes(sample_run(), sample_run()).empty()); }

TEST_CASE("what can't be seen in the tables is no change") {
  const auto before = sample_run();
  auto after = sample_run();
  for (auto& vent : after.conditions[0].vents) vent.inflow *= 1.0005;
  for (auto& zone : after.conditions[0].zones) zone.temperature += 0.02;
  CHECK(text(changes(before, after)) == "");
}

TEST_CASE("roles, flows, temperatures and verdicts that differ are said once each") {
  const auto before = sample_run();
  auto after = sample_run();
  auto& result = after.conditions[0];
  result.vents[0].role = tuft::geometry::Role::idle;
  result.vents[1].outflow *= 2.0;
  result.zones[0].temperature += 3.0;
  after.claims[0].verdict = after.claims[0].verdict == tuft::study::Verdict::holds
                                ? tuft::study::Verdict::fails
                                : tuft::study::Verdict::holds;
  const std::string said = text(changes(before, after));
  CHECK_THAT(said, Contains(" is idle now, was intake"));
  CHECK_THAT(said, Contains(" out, was "));
  CHECK_THAT(said, Contains("air in "));
  CHECK_THAT(said, Contains("claim ") && Contains(" now, before: "));
  CHECK(changes(before, after).size() == 4);
}

TEST_CASE("conditions that come, go, or lose their solution are said") {
  const auto before = sample_run();
  auto after = sample_run();
  const std::string lost = after.conditions[1].name;
  after.conditions[0].report.converged = false;
  after.conditions[0].report.reason = "stalled";
  after.conditions[1].name = "another";
  after.content.conditions[1].name = "another";
  const std::string said = text(changes(before, after));
  CHECK_THAT(said, Contains("has no solution any more: stalled"));
  CHECK_THAT(said, Contains("another: a new condition"));
  CHECK_THAT(said, Contains(lost + ": gone"));
}
