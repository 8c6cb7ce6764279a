// What a page says in words: each claim as a paragraph that says no more than the numbers, probabilities,
// roles.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace tuft::page {

/// One claim in words.
struct ClaimWords {
  std::string id;
  /// "holds", "does not hold", "undecided"; without uncertainty no verdict but "true as written", "not true
  /// as written", "left open as written"
  std::string verdict;
  /// "with a probability of 97 %, 99 % interval 95 % to 98 %", or "nominal values only"
  std::string sure;
  std::string paragraph;  ///< all of it: the sentence, the verdict and how sure, for what it is said, and why
};

/// The claims of a results file in their order. A verdict never stands without its probability, or else the
/// words "nominal values only". Probabilities are read from the section `uncertainty`, where there is one.
/// @pre results as read_results() gives them
std::vector<ClaimWords> claim_words(const nlohmann::ordered_json& results);

/// All words that the scripts of a page put in place, as JSON, in the order of the results:
/// - claims: of each `id`, `verdict`, `sure`, `paragraph`
/// - roles: the words of each role, and of what is "shut"
/// - as_written: what the values as written make of a claim, by its verdict
/// - uncertainty, where the results have it: of each claim its `probability` and `interval`; of each
/// condition and
///   vent the probability by role
/// - bench, where the results have it: of each vent how likely a strip held by hand is right, or ""
nlohmann::ordered_json page_words(const nlohmann::ordered_json& results);

}  // namespace tuft::page
