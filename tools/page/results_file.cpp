#include "tools/page/results_file.hpp"

#include <fmt/format.h>

#include "tools/io/json.hpp"

namespace tuft::report {
namespace {

using Json = nlohmann::ordered_json;

Json parsed(const std::string& text) {
  try {
    return Json::parse(text);
  } catch (const Json::parse_error& error) {
    throw ResultsError(fmt::format("this is no JSON: it goes wrong at byte {}", error.byte));
  }
}

void require_key(const Json& object, const char* key, const std::string& where) {
  if (!object.is_object() || !object.contains(key))
    throw ResultsError(fmt::format("{} has no '{}'; run tuft predict anew with this version", where, key));
}

template <std::size_t N>
void require_keys(const Json& object, const char* const (&keys)[N], const std::string& where) {
  for (const char* key : keys) require_key(object, key, where);
}

void require_list(const Json& object, const char* key) {
  require_key(object, key, "the results file");
  if (!object[key].is_array()) throw ResultsError(fmt::format("'{}' must be a list", key));
}

}  // namespace

nlohmann::ordered_json read_any_results(const std::string& text) {
  Json results = parsed(text);
  if (!results.is_object() || results.value("format", Json()) != output::kResultsFormat)
    throw ResultsError(
        fmt::format("this is no results file: \"format\" must be \"{}\"", output::kResultsFormat));
  if (!results.contains("version") || results["version"] != output::kResultsVersion)
    throw ResultsError(fmt::format("this results file is of another version; \"version\" must be {}",
                                   output::kResultsVersion));
  return results;
}

nlohmann::ordered_json read_results(const std::string& text) {
  Json results = read_any_results(text);
  require_keys(results, {"program", "caution", "case", "device", "thresholds"}, "the results file");
  for (const char* list : {"conditions", "sweeps", "claims", "assumptions", "comparisons"})
    require_list(results, list);
  require_keys(results["device"], {"name", "size_m", "vents", "zones", "fans", "fins", "skin", "feet_m"},
               "'device'");
  for (const Json& condition : results["conditions"])
    require_keys(condition, {"name", "solved", "circumstances", "pose_to_world"}, "an entry of 'conditions'");
  for (const Json& claim : results["claims"])
    require_keys(claim, {"id", "say", "when", "verdict", "because"}, "an entry of 'claims'");
  return results;
}

}  // namespace tuft::report
