// Rows, table, chart and files of a warm-up.
#include "tools/io/warmup.hpp"

#include <algorithm>

#include "tools/figure/line_chart.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using network::History;

constexpr double kNearLimit = 15.0;      // a limit that far above everything is not worth the height [K]
constexpr double kShortestWarmup = 1.0;  // a transient without length gets an axis all the same [s]

void add_series(const std::vector<double>& time, const network::Track& track, const geometry::ShownUnit& unit,
                figure::Panel& panel) {
  figure::Series series{track.name, time, track.values};
  for (double& value : series.y) value = unit.of(value);
  if (series.x.size() == 1) {
    series.x.push_back(series.x[0] + kShortestWarmup);
    series.y.push_back(series.y[0]);
  }
  panel.series.push_back(std::move(series));
}

/// A temperature at which sources give way.
struct Limit {
  double temperature = 0.0;  // [K]
  std::string of_one, of_several;
  bool shared = false;
};

// One line a temperature, however many sources share it.
std::vector<Limit> limits_of(const geometry::Device& device) {
  std::vector<Limit> limits;
  const auto add = [&](double temperature, const std::string& of_one, const char* of_several) {
    if (!(temperature > 0.0)) return;
    for (Limit& limit : limits)
      if (limit.temperature == temperature) {
        limit.shared = true;
        return;
      }
    limits.push_back({temperature, of_one, of_several});
  };
  for (const geometry::Source& source : device.sources) {
    if (source.joints.empty()) continue;
    add(*source.limits.throttles_at, source.name + " throttles", "throttling");
    add(*source.limits.shuts_down_at, source.name + " shuts down", "shutdown");
  }
  return limits;
}

figure::Panel temperatures(const WarmupRun& run) {
  const History& history = run.warmup.transient.history;
  figure::Panel panel;
  panel.quantity = "Temperature";
  const geometry::ShownUnit unit = geometry::temperature_unit(run.content.units);
  panel.unit = unit.name;
  panel.weight = 3.0;
  std::vector<int> drawn;
  for (const auto* list : {&run.warmup.source, &run.warmup.skin, &run.warmup.zone})
    drawn.insert(drawn.end(), list->begin(), list->end());
  for (std::size_t i = 0; i < history.temperature.size(); ++i)
    if (std::count(drawn.begin(), drawn.end(), static_cast<int>(i)) > 0)
      add_series(history.time, history.temperature[i], unit, panel);
  double hottest = 0.0;
  for (const WarmupRow& row : warmup_rows(run)) hottest = std::max(hottest, row.hottest);
  for (const Limit& limit : limits_of(run.content.device))
    if (limit.temperature < hottest + kNearLimit)
      panel.thresholds.push_back(
          {unit.of(limit.temperature), limit.shared ? limit.of_several : limit.of_one});
  return panel;
}

}  // namespace

std::vector<WarmupRow> warmup_rows(const WarmupRun& run) {
  const network::WarmUp& warmup = run.warmup;
  const History& history = warmup.transient.history;
  std::vector<WarmupRow> rows;
  const auto add = [&](const std::vector<int>& tracks, const char* what) {
    for (const int index : tracks) {
      if (index == network::kNoTrack) continue;
      const network::Track& track = at(history.temperature, index);
      const auto hottest = std::max_element(track.values.begin(), track.values.end());
      rows.push_back({track.name, what, track.values.front(), *hottest,
                      at(history.time, hottest - track.values.begin()), track.values.back(),
                      at(warmup.settling.of_temperature, index)});
    }
  };
  add(warmup.source, "source");
  add(warmup.part, "part");
  add(warmup.fins, "fins");
  add(warmup.skin, "skin");
  add(warmup.zone, "air");
  return rows;
}

std::string start_words(const WarmupRun& run) {
  return run.plan.from == network::kCold
             ? "from room temperature, " + temperature_text(run.warmup.ambient, run.content.units)
             : "from the steady state of " + quoted(at(run.content.conditions, run.plan.from).name);
}

std::string event_text(const network::Event& event, geometry::UnitSystem units) {
  return event.text + (event.at > 0.0 ? " " + temperature_text(event.at, units) : "");
}

std::string warmup_csv(const WarmupRun& run) {
  const History& history = run.warmup.transient.history;
  std::vector<std::string> headings = {"time [s]"};
  std::vector<const network::Track*> columns;
  const auto add = [&](const std::string& what, const std::vector<network::Track>& tracks,
                       const std::string& unit) {
    for (const network::Track& track : tracks) {
      headings.push_back(what + track.name + unit);
      columns.push_back(&track);
    }
  };
  add("temperature ", history.temperature, " [K]");
  add("gross in ", history.inflow, " [kg/s]");
  add("gross out ", history.outflow, " [kg/s]");
  add("speed ", history.fan_speed, " [rev/s]");
  add("power ", history.power, " [W]");
  std::string text = csv_line(headings);
  for (std::size_t i = 0; i < history.time.size(); ++i) {
    std::vector<std::string> cells = {csv_number(history.time[i], "warmup.time")};
    for (const network::Track* column : columns)
      cells.push_back(csv_number(column->values[i], "warmup." + column->name));
    text += csv_line(cells);
  }
  return text;
}

std::string warmup_chart(const WarmupRun& run) {
  const network::TransientResult& transient = run.warmup.transient;
  const History& history = transient.history;
  figure::LineChart chart;
  chart.title = run.content.device.name + ": " + condition_of(run).name;
  chart.subtitle = circumstances(run.content, condition_of(run)) + "; " + start_words(run);
  chart.x_kind = figure::AxisKind::time;
  chart.x_name = "Time";
  chart.panels.push_back(temperatures(run));
  const auto add_panel = [&](const char* quantity, const geometry::ShownUnit& unit,
                             const std::vector<network::Track>& tracks) {
    figure::Panel panel;
    panel.quantity = quantity;
    panel.unit = unit.name;
    panel.from_zero = true;
    for (const network::Track& track : tracks) add_series(history.time, track, unit, panel);
    if (!panel.series.empty()) chart.panels.push_back(std::move(panel));
  };
  add_panel("Fan speed", {"rpm", 60.0}, history.fan_speed);
  add_panel("Power", {"W", 1.0}, history.power);
  // A fan that hunts would fill the chart with lines: its turns are drawn while they are few.
  constexpr std::ptrdiff_t kFewTurns = 6;
  const auto is_turn = [](const network::Event& event) { return event.kind > network::EventKind::shut_down; };
  const bool few = std::count_if(transient.events.begin(), transient.events.end(), is_turn) <= kFewTurns;
  for (const network::Event& event : transient.events)
    if (few || !is_turn(event)) chart.events.push_back({event.time, event_text(event, run.content.units)});
  chart.note = "tuft " + run.version + ", " + run.case_file + ". A prediction, no safety assessment.";
  chart.height = 260.0 + 160.0 * static_cast<double>(chart.panels.size());
  return figure::line_chart(chart);
}

std::string warmup_json(const WarmupRun& run, const Contents& contents) {
  const network::TransientResult& transient = run.warmup.transient;
  const network::Settling& settling = run.warmup.settling;
  const bool steady = is_steady(run);
  const bool says_soak = steady && run.warmup.capacities == network::Capacities::known;
  const auto row_json = [&](const WarmupRow& row) -> Json {
    return {{"name", row.name},
            {"what", row.what},
            {"start_K", row.start},
            {"hottest_K", row.hottest},
            {"hottest_at_s", row.hottest_at},
            {"end_K", row.end},
            {"settles_after_s", steady ? Json(row.settles) : Json()}};
  };
  const auto event_json = [&](const network::Event& event) -> Json {
    return {{"time_s", event.time}, {"what", event_text(event, run.content.units)}};
  };
  Json json = results_head(run, contents);
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
      {"soak_s", says_soak ? Json(settling.overall) : Json()},
      {"soak_low_s", says_soak && run.soak.known ? Json(run.soak.low) : Json()},
      {"soak_high_s", says_soak && run.soak.known ? Json(run.soak.high) : Json()},
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

std::vector<std::string> write_warmup(const WarmupRun& run, const ResultsPlace& place) {
  warmup_json(run, {});  // throws before anything begins
  const std::string table = warmup_csv(run);
  ResultsFolder folder(place);
  folder.write("warmup.csv", table);
  folder.write("warmup.svg", warmup_chart(run));
  folder.write("results.json", warmup_json(run, folder.contents()));
  folder.publish();
  return folder.files();
}

}  // namespace tuft::io
