#include "tools/io/warmup.hpp"

#include "tools/io/folder.hpp"
#include "tools/io/json_parts.hpp"

namespace tuft::io {
namespace {

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
  Json json =
      results_head(warmup.version, {{"file", warmup.case_file}, {"sha256", warmup.case_sha256}}, files);
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
  return json_text(json);
}

std::vector<std::string> write_warmup(const Warmup& warmup, const std::filesystem::path& place) {
  const std::vector<std::string> files = {"results.json", "warmup.csv", "warmup.svg"};
  const std::string json = warmup_json(warmup, files),
                    table = warmup_csv(warmup);  // throw before anything begins
  ResultsFolder folder(place);
  folder.write("warmup.csv", table);
  folder.write("warmup.svg", warmup_chart(warmup));
  folder.write("results.json", json);
  folder.publish();
  return files;
}

}  // namespace tuft::io
