#include "tools/page/attach.hpp"

#include <fmt/format.h>

#include "tools/page/results_file.hpp"

namespace tuft::report {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kSections[] = {"field", "section", "bench", "doubt", "warmup"};

bool ends_with(const std::string& text, const std::string& end) {
  return text.size() > end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

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
    if (!file.is_string() || !ends_with(file.get<std::string>(), ".svg")) continue;
    const std::string name = file.get<std::string>();
    // A results file may come from anybody: nothing outside its folder is read.
    if (name.front() == '/' || name.find("..") != std::string::npos) continue;
    results["figures"].push_back({{"section", section}, {"file", name}, {"svg", read(name)}});
  }
}

}  // namespace

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

}  // namespace tuft::report
