#include "tools/io/run.hpp"

#include <algorithm>

#include "tools/io/finite.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/solution_json.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

Json assumption_json(const casefile::Assumption& assumption) {
  return {{"key", assumption.key}, {"value", assumption.value}, {"sentence", assumption.sentence}};
}

// Where it was asked how sure, the verdict is the one by probability.
Json judged_json(const Run& run, const study::ClaimResult& result) {
  Json json = claim_json(run, result);
  const experiment::ClaimProbability* probability = probability_of(run, result.claim);
  if (probability == nullptr) return json;
  json["as_written"] = json["verdict"];
  json["verdict"] = verdict_word(verdict_of(*probability));
  return json;
}

// Adds support, load, lid and the circumstances in words.
void add_setting(Json& json, const geometry::Case& content, const geometry::Condition& condition) {
  const auto& support = at(content.supports, condition.support);
  json["support"] = support.name;
  json["support_kind"] = geometry::word_of(support.kind);
  json["load"] = at(content.loads, condition.load).name;
  json["lid_deg"] = nullptr;
  if (condition.lid_given || content.device.lid.present)
    json["lid_deg"] = clean_degrees(condition.lid_given ? *condition.lid_angle : *content.device.lid.angle);
  json["circumstances"] = circumstances(content, condition);
}

// Adds the sentence that sums a solved condition up, and what must not be overlooked in it.
void add_words(Json& json, const Run& run, const study::ConditionResult& result) {
  const geometry::Case& content = run.content;
  if (!result.report.converged) return;
  json["summary"] = summary_sentence(content, result);
  json["warnings"] = heat_warnings(content, result);
  for (const auto& list : {heat_doubts(run, result), state_warnings(content, result)})
    for (const std::string& warning : list) json["warnings"].push_back(warning);
}

// An element of a list by its name, which stands first, else by its number.
std::string name_in_list(const Json& element, std::size_t number) {
  const bool named = element.is_object() && !element.empty() && element.begin()->is_string();
  return named ? element.begin()->get<std::string>() : std::to_string(number);
}

void require_finite(const Json& json, const std::string& path) {
  const std::string before = path.empty() ? path : path + ".";
  if (json.is_number_float()) {
    finite(json.get<double>(), path);
  } else if (json.is_object()) {
    // What samples say of a condition that none of them solves is no number; it is written as null.
    for (const auto& [key, value] : json.items())
      if (key != "uncertainty") require_finite(value, before + key);
  } else if (json.is_array()) {
    for (std::size_t i = 0; i < json.size(); ++i) require_finite(json[i], before + name_in_list(json[i], i));
  }
}

}  // namespace

Json results_head(const std::string& version, Json source, const Contents& contents) {
  Json json;
  json["format"] = kResultsFormat;
  json["version"] = kResultsVersion;
  json["program"] = {{"name", "tuft"}, {"version", version}};
  json["caution"] = kCaution;
  json["case"] = std::move(source);
  json["asked"] = {{"command", contents.asked.command},
                   {"conditions", contents.asked.conditions},
                   {"with", contents.asked.with}};
  json["files"] = contents.files;
  if (!contents.earlier.empty()) json["earlier_files"] = contents.earlier;
  return json;
}

std::string json_text(const Json& json) {
  require_finite(json, "");
  // Names come from a file somebody wrote; a byte that is no UTF-8 becomes U+FFFD instead of an exception.
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json results_document(const Run& run, const Contents& contents) {
  Json json = results_head(
      run.version, {{"file", run.case_file}, {"sha256", run.case_sha256}, {"text", run.case_text}}, contents);
  json["device"] = device_json(run);
  json["model"] = case_json(run.content);
  json["thresholds"] = thresholds_json(run.content.thresholds);
  json["conditions"] =
      list_json(run.conditions, [&](const auto& result) { return condition_json(run, result); });
  json["sweeps"] = list_json(run.sweeps, [&](const auto& result) { return sweep_json(run, result); });
  json["claims"] = list_json(run.claims, [&](const auto& result) { return judged_json(run, result); });
  json["comparisons"] = comparisons_json(run);
  json["assumptions"] = list_json(run.assumptions, assumption_json);
  if (run.uncertainty) json["uncertainty"] = uncertainty_json(run, *run.uncertainty);
  return json;
}

std::string results_json(const Run& run, const Contents& contents) {
  return json_text(results_document(run, contents));
}

const std::string& condition_name(const Run& run, int condition) {
  return at(run.content.conditions, condition).name;
}

Json thresholds_json(const geometry::RoleThresholds& thresholds) {
  return {{"idle_share", plain(thresholds.idle_share)},
          {"idle_velocity_m_s", plain(thresholds.idle_velocity)},
          {"still_velocity_m_s", plain(thresholds.still_velocity)},
          {"both_ways_ratio", plain(thresholds.both_ways_ratio)},
          {"margin", plain(thresholds.margin)}};
}

Json condition_json(const Run& run, const study::ConditionResult& result) {
  const auto& content = run.content;
  const auto& condition = at(content.conditions, result.condition);
  const auto& pose = at(content.poses, condition.pose);
  Json json;
  json["name"] = result.name;
  json["pose"] = pose.name;
  json["pose_to_world"] = matrix_json(pose.to_world);
  add_setting(json, content, condition);
  add_solution(json, run.content, result);
  add_words(json, run, result);
  return json;
}

Json sweep_json(const Run& run, const study::SweepResult& result) {
  Json json;
  json["name"] = result.name;
  const auto wanted = std::find_if(run.content.sweeps.begin(), run.content.sweeps.end(),
                                   [&](const geometry::Sweep& sweep) { return sweep.name == result.name; });
  if (wanted != run.content.sweeps.end()) {
    json["condition"] = condition_name(run, wanted->condition);
    json["axis"] = vector_json(wanted->axis);
  }
  json["points"] = list_json(result.points, [&](const study::SweepPoint& point) {
    Json entry;
    entry["angle_deg"] = clean_degrees(point.angle);
    if (wanted != run.content.sweeps.end())
      entry["pose_to_world"] = matrix_json(geometry::tilted("", wanted->axis, point.angle).to_world);
    add_solution(entry, run.content, point.result);
    return entry;
  });
  return json;
}

}  // namespace tuft::io
