#include "tools/io/folder.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/warmup.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {

std::string warmup_json(const WarmupRun& run, const std::vector<std::string>& files) {
  const network::TransientResult& transient = run.warmup.transient;
  const network::Settling& settling = run.warmup.settling;
  const bool steady = is_steady(run);
  const auto row_json = [&](const WarmupRow& row) -> Json {
    return {{"name", row.name},
            {"what", row.what},
            {"start_K", row.start},
            {"hottest_K", row.hottest},
            {"hottest_at_s", row.hottest_at},
            {"end_K", row.end},
            {"settles_after_s", steady ? Json(row.settles) : Json()}};
  };
  const auto event_json = [](const network::Event& event) -> Json {
    return {{"time_s", event.time}, {"what", event.text}};
  };
  Json json = results_head(run, files);
  json["warmup"] = {
      {"condition", condition_of(run).name},
      {"circumstances", circumstances(run.content, condition_of(run))},
      {"start", start_words(run)},
      {"lasted_s", transient.history.time.empty() ? 0.0 : transient.history.time.back()},
      {"steady", steady},
      {"stable", transient.growth <= 0.0},
      {"distance_K", transient.distance},
      {"band_K", run.plan.band},
      {"flow_share", run.plan.flow_share},
      {"soak_s", steady && !run.warmup.only_air ? Json(settling.overall) : Json()},
      {"soak_counted_from_s", settling.since},
      {"difference_from_solve_K", run.warmup.steady.solved ? Json(run.warmup.steady.difference) : Json()},
      {"parts", list_json(warmup_rows(run), row_json)},
      {"events", list_json(transient.events, event_json)},
      {"energy",
       {{"given_J", transient.energy_balance.given},
        {"left_J", transient.energy_balance.left},
        {"stored_J", transient.energy_balance.stored},
        {"imbalance", transient.energy_balance.error}}}};
  return json_text(json);
}

std::vector<std::string> write_warmup(const WarmupRun& run, const std::filesystem::path& place) {
  warmup_json(run, {});  // throws before anything begins
  const std::string table = warmup_csv(run);
  ResultsFolder folder(place);
  folder.write("warmup.csv", table);
  folder.write("warmup.svg", warmup_chart(run));
  folder.write("results.json", warmup_json(run, folder.files()));
  folder.publish();
  return folder.files();
}

}  // namespace tuft::io
