#include "tools/io/json.hpp"

#include "tools/io/case_json.hpp"
#include "tools/io/caution.hpp"
#include "tools/io/doubt.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

template <typename Items, typename PartOf>
Json list_json(const Items& items, PartOf part_of) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(part_of(item));
  return list;
}

Json assumption_json(const casefile::Assumption& assumption) {
  return {{"key", assumption.key}, {"value", assumption.value}, {"sentence", assumption.sentence}};
}

// Where it was asked how sure, the verdict is the one by probability.
Json judged_json(const Run& run, const study::ClaimResult& result) {
  Json json = claim_json(run, result);
  const belief::ClaimBelief* belief = belief_of(run, result.claim);
  if (belief == nullptr) return json;
  json["as_written"] = json["verdict"];
  json["verdict"] = verdict_word(verdict_of(*belief));
  return json;
}

}  // namespace

Json results_document(const Run& run, const std::vector<std::string>& files) {
  require_finite(run);
  Json json;
  json["format"] = kResultsFormat;
  json["version"] = kResultsVersion;
  json["program"] = {{"name", "tuft"}, {"version", run.version}};
  json["caution"] = kCaution;
  json["case"] = {{"file", run.case_file}, {"sha256", run.case_sha256}, {"text", run.case_text}};
  json["files"] = files;
  json["device"] = device_json(run);
  json["model"] = model::case_json(run.content);
  json["thresholds"] = thresholds_json(run.content.thresholds);
  json["conditions"] =
      list_json(run.conditions, [&](const auto& result) { return condition_json(run, result); });
  json["sweeps"] = list_json(run.sweeps, [&](const auto& result) { return sweep_json(run, result); });
  json["claims"] = list_json(run.claims, [&](const auto& result) { return judged_json(run, result); });
  json["comparisons"] = comparisons_json(run);
  json["assumptions"] = list_json(run.assumptions, assumption_json);
  if (run.doubt) json["doubt"] = doubt_json(run, *run.doubt);
  return json;
}

std::string results_json(const Run& run, const std::vector<std::string>& files) {
  // Names come from a file somebody wrote; a byte that is no UTF-8 becomes U+FFFD instead of an exception.
  return results_document(run, files).dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tuft::output
