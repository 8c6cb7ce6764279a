#include "tools/page/results_file.hpp"

#include <fmt/format.h>

#include "geometry/device/lists.hpp"
#include "tools/io/run.hpp"
#include "tools/page/results_shape.hpp"

namespace tuft::page {
namespace {

using Json = nlohmann::ordered_json;

// Deeper than this no results file is nested; a list in a list in a list may be as deep as a file is long.
constexpr int kMostDepth = 64;

Json parsed(const std::string& text) {
  const auto refuse_deep = [](int depth, Json::parse_event_t, const Json&) {
    if (depth > kMostDepth)
      throw ResultsError(fmt::format("this is no results file: lists nested more than {} deep", kMostDepth));
    return true;
  };
  try {
    return Json::parse(text, refuse_deep);
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

constexpr const char* kSections[] = {"field", "section", "bench", "uncertainty", "warmup"};

void require_same_case(const Json& results, const Json& other) {
  const auto hash = [](const Json& json) {
    return json.contains("case") && json["case"].is_object() ? json["case"].value("sha256", "")
                                                             : std::string();
  };
  if (hash(other).empty() || hash(results) != hash(other))
    throw ResultsError("these results are of another case file, or of this one before it was changed");
}

void add_figures(Json& results, const Json& other, const std::string& section, const ReadListed& read) {
  if (!other.contains("files") || !other["files"].is_array()) return;
  for (const Json& file : other["files"]) {
    if (!file.is_string() || !geometry::ends_with(file.get<std::string>(), ".svg")) continue;
    const std::string name = file.get<std::string>();
    // A results file may come from anybody: nothing outside its folder is read.
    if (name.front() == '/' || name.find("..") != std::string::npos) continue;
    results["figures"].push_back({{"section", section}, {"file", name}, {"svg", read(name)}});
  }
}

}  // namespace

nlohmann::ordered_json read_any_results(const std::string& text) {
  Json results = parsed(text);
  if (!results.is_object() || results.value("format", Json()) != io::kResultsFormat)
    throw ResultsError(fmt::format("this is no results file: \"format\" must be \"{}\"", io::kResultsFormat));
  if (!results.contains("version") || results["version"] != io::kResultsVersion)
    throw ResultsError(
        fmt::format("this results file is of another version; \"version\" must be {}", io::kResultsVersion));
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
  for (const Json& sweep : results["sweeps"])
    require_keys(sweep, {"name", "condition", "axis", "points"}, "an entry of 'sweeps'");
  require_shape(results);
  return results;
}

std::string with_sections(const std::string& results_text, const std::string& other_text,
                          const ReadListed& read) {
  Json results = read_results(results_text);
  const Json other = read_any_results(other_text);
  require_same_case(results, other);
  std::string first;
  for (const char* section : kSections) {
    if (!other.contains(section)) continue;
    if (first.empty()) first = section;
    results[section] = other[section];
  }
  if (first.empty())
    throw ResultsError("these results have none of the sections field, section, bench, doubt, warmup to add");
  if (!results.contains("figures")) results["figures"] = Json::array();
  add_figures(results, other, first, read);
  return results.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tuft::page
