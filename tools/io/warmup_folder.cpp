#include "tools/io/warmup_folder.hpp"

#include <nlohmann/json.hpp>

#include "tools/io/caution.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/json.hpp"
#include "tools/io/warmup_chart.hpp"
#include "tools/io/warmup_csv.hpp"

namespace tuft::output {
namespace {

using Json = nlohmann::ordered_json;

Json rows_json(const Warmup& warmup) {
  Json list = Json::array();
  for (const WarmupRow& row : warmup.rows) {
    Json entry = {{"name", row.name},
                  {"what", row.what},
                  {"start_K", row.start},
                  {"hottest_K", row.hottest},
                  {"hottest_at_s", row.hottest_at},
                  {"end_K", row.end}};
    entry["settles_after_s"] = warmup.steady ? Json(row.settles) : Json();
    list.push_back(entry);
  }
  return list;
}

Json moments_json(const Warmup& warmup) {
  Json list = Json::array();
  for (const WarmupMoment& moment : warmup.moments)
    list.push_back({{"time_s", moment.time}, {"what", moment.text}});
  return list;
}

}  // namespace

std::string warmup_json(const Warmup& warmup, const std::vector<std::string>& files) {
  require_finite(warmup);
  Json json;
  json["format"] = kResultsFormat;
  json["version"] = kResultsVersion;
  json["program"] = {{"name", "tuft"}, {"version", warmup.version}};
  json["caution"] = kCaution;
  json["case"] = {{"file", warmup.case_file}, {"sha256", warmup.case_sha256}};
  json["files"] = files;
  Json result;
  result["condition"] = warmup.condition;
  result["circumstances"] = warmup.circumstances;
  result["start"] = warmup.start;
  result["lasted_s"] = warmup.time.empty() ? 0.0 : warmup.time.back();
  result["steady"] = warmup.steady;
  result["stable"] = warmup.stable;
  result["distance_K"] = warmup.distance;
  result["band_K"] = warmup.band;
  result["flow_share"] = warmup.flow_share;
  result["soak_s"] = warmup.steady && !warmup.only_air ? Json(warmup.soak) : Json();
  result["soak_counted_from_s"] = warmup.since;
  result["difference_from_solve_K"] = warmup.compared ? Json(warmup.difference) : Json();
  result["parts"] = rows_json(warmup);
  result["events"] = moments_json(warmup);
  result["energy"] = {{"given_J", warmup.given},
                      {"left_J", warmup.left},
                      {"stored_J", warmup.stored},
                      {"imbalance", warmup.energy_error}};
  json["warmup"] = result;
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::vector<std::string> write_warmup(const Warmup& warmup, const std::filesystem::path& place) {
  require_finite(warmup);
  const std::vector<std::string> files = {"results.json", "warmup.csv", "warmup.svg"};
  ResultsFolder folder(place);
  folder.write("warmup.csv", warmup_csv(warmup));
  folder.write("warmup.svg", warmup_chart(warmup));
  folder.write("results.json", warmup_json(warmup, files));
  folder.publish();
  return files;
}

}  // namespace tuft::output
