// Claims in words: no verdict without how sure it is, and nothing beyond the numbers.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/io/sample.hpp"
#include "tools/io/run.hpp"
#include "tools/page/page_words.hpp"

using namespace tuft;
using namespace tuft::page;
using nlohmann::ordered_json;

namespace {

ordered_json sample() {
  return ordered_json::parse(io::results_json(test::sample_run(), {{}, {"results.json"}, {}}));
}

// The verdict with what stands in brackets right after it.
bool is_covered(const std::string& paragraph) {
  static const std::regex verdict(
      "(holds|does not hold|undecided|(?:true|not true|left open) as written) \\(([^)]*)\\)");
  std::smatch found;
  if (!std::regex_search(paragraph, found, verdict)) return false;
  const std::string sure = found[2];
  // Without uncertainty there is no verdict either, only what the values as written make of it.
  if (sure == "nominal values only") return found[1].str().find("as written") != std::string::npos;
  return std::regex_match(sure, std::regex("with a probability of .+ %.*"));
}

}  // namespace

TEST_CASE("no verdict stands without its probability or the words that there is none") {
  for (const char* verdict : {"holds", "fails", "undecided"}) {
    ordered_json results = sample();
    results["claims"][0]["verdict"] = verdict;
    const std::string nominal = claim_words(results)[0].paragraph;
    INFO(nominal);
    CHECK(is_covered(nominal));
    CHECK(nominal.find("nominal values only") != std::string::npos);
    results["uncertainty"] = {
        {"claims",
         {{{"id", "grille-draws"}, {"probability", 0.934}, {"probability_interval", {0.91, 0.95}}}}}};
    const std::string sure = claim_words(results)[0].paragraph;
    INFO(sure);
    CHECK(is_covered(sure));
    CHECK(sure.find("probability of 93 %, 99 % interval 91 to 95 %") != std::string::npos);
    CHECK(sure.find("nominal values only") == std::string::npos);
  }
}

TEST_CASE("a paragraph says for what it is said") {
  const ordered_json results = sample();
  const std::string text = claim_words(results)[0].paragraph;
  CHECK(text.find("“The grille takes air in”: true as written (nominal values only).") == 0);
  CHECK(text.find("It carries 80 % of the through-flow.") != std::string::npos);
  CHECK(text.find("The verdict applies to \"use\" (flat, on table, load stress); not to another pose, load "
                  "or surface.") != std::string::npos);
}

TEST_CASE("close calls and other steady states are told") {
  ordered_json results = sample();
  results["conditions"][0]["vents"][0]["firm"] = false;
  results["conditions"][0]["states"] = {{"stable", 2}};
  const std::string text = claim_words(results)[0].paragraph;
  CHECK(text.find("Close to a threshold between roles: grille.") != std::string::npos);
  CHECK(text.find("2 steady states exist there") != std::string::npos);
}

TEST_CASE("doubt about other claims, or without a number, changes nothing") {
  ordered_json results = sample();
  results["uncertainty"] = {
      {"claims", {{{"id", "another"}, {"probability", 0.5}}, {{"id", "grille-draws"}}}}};
  CHECK(claim_words(results)[0].sure == "nominal values only");
  results["uncertainty"] = {{"method", "none"}};
  CHECK(claim_words(results)[0].sure == "nominal values only");
}

TEST_CASE("where there is doubt the verdict is the one by probability") {
  ordered_json results = sample();
  results["uncertainty"] = {{"claims",
                             {{{"id", "grille-draws"},
                               {"verdict", "undecided"},
                               {"probability", 0.6},
                               {"interval", {-3.0, 5.0}}}}}};
  const ClaimWords words = claim_words(results)[0];
  CHECK(words.verdict == "undecided");
  // `interval` is that of the quantity behind the claim and no probability.
  CHECK(words.sure == "with a probability of 60 %");
}

TEST_CASE("what all samples say is bounded, not certain") {
  ordered_json results = sample();
  const auto sure = [&](double probability, double low, double high) {
    results["uncertainty"] = {{"claims",
                               {{{"id", "grille-draws"},
                                 {"verdict", probability > 0.5 ? "holds" : "fails"},
                                 {"probability", probability},
                                 {"probability_interval", {low, high}}}}}};
    return claim_words(results)[0].sure;
  };
  CHECK(sure(1.0, 0.994, 1.0) == "with a probability of at least 99 %, true in all samples");
  CHECK(sure(1.0, 1.0, 1.0) == "with no uncertain value");
  CHECK(sure(0.0, 0.0, 0.006) == "with a probability of at most 1 %, true in no sample");
}

TEST_CASE("the scripts get probabilities and roles in the words of the program's tables") {
  ordered_json results = sample();
  results["uncertainty"] = {
      {"claims",
       {{{"id", "a"}, {"probability", 0.994}, {"probability_interval", {0.97, 0.999}}},
        {{"id", "b"}, {"probability", 0.0}, {"probability_interval", {0.0, 0.004}}},
        {{"id", "c"}, {"probability", 0.3}},
        {{"id", "d"}}}},
      {"conditions",
       {{{"condition", "use"},
         {"vents", {{{"intake", 0.52}, {"exhaust", 0.003}, {"both-ways", 1.0}, {"idle", 0.0}}}}}}}};
  results["bench"] = {{"vents", {{{"by_hand", {{"right", 0.8}}}}, {{"by_hand", nullptr}}}}};
  const ordered_json words = page_words(results);
  const ordered_json claims = words["uncertainty"]["claims"];
  CHECK(claims[0] == ordered_json({{"probability", "99 %"}, {"interval", "at least 97 %"}}));
  CHECK(claims[1] == ordered_json({{"probability", "at most 1 %"}, {"interval", "at most 1 %"}}));
  CHECK(claims[2] == ordered_json({{"probability", "30 %"}, {"interval", "–"}}));
  CHECK(claims[3]["probability"] == "");
  CHECK(
      words["uncertainty"]["conditions"][0][0] ==
      ordered_json(
          {{"intake", "52 %"}, {"exhaust", "1 %"}, {"both-ways", "at least 99 %"}, {"idle", "at most 1 %"}}));
  CHECK(words["bench"] == ordered_json({"80 %", ""}));
  CHECK(words["roles"] == ordered_json({{"intake", "takes air in"},
                                        {"exhaust", "lets air out"},
                                        {"both-ways", "both ways"},
                                        {"idle", "next to nothing"},
                                        {"shut", "shut"}}));
  CHECK(words["as_written"]["fails"] == "not true as written");
  CHECK(words["claims"].size() == results["claims"].size());
}
