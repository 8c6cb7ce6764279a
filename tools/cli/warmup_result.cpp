#include "tools/cli/warmup_result.hpp"

#include <algorithm>
#include <filesystem>

#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::program {
namespace {

using output::WarmupColumn;
using transient::WarmUp;

// Adds the tracks as columns; those at `drawn` go into the chart.
void add_columns(output::Warmup& out, WarmupColumn::Kind kind, const std::vector<transient::Track>& tracks,
                 const std::vector<int>& drawn) {
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const bool is_drawn = std::find(drawn.begin(), drawn.end(), static_cast<int>(i)) != drawn.end();
    out.columns.push_back({kind, tracks[i].name, tracks[i].values, is_drawn});
  }
}

void add_rows(output::Warmup& out, const WarmUp& run, const std::vector<int>& tracks, const char* what) {
  for (const int index : tracks) {
    if (index == transient::kNoTrack) continue;
    const transient::Track& track = run.course.history.temperature[static_cast<std::size_t>(index)];
    const auto hottest = std::max_element(track.values.begin(), track.values.end());
    output::WarmupRow row;
    row.name = track.name;
    row.what = what;
    row.start = track.values.front();
    row.hottest = *hottest;
    row.hottest_at = out.time[static_cast<std::size_t>(hottest - track.values.begin())];
    row.end = track.values.back();
    row.settles = run.settling.of_temperature[static_cast<std::size_t>(index)];
    out.rows.push_back(row);
  }
}

void add_limits(output::Warmup& out, const geometry::Device& device) {
  for (const geometry::Source& source : device.sources) {
    if (source.joints.empty()) continue;
    if (*source.limits.throttles_at > 0.0)
      out.limits.push_back({*source.limits.throttles_at, source.name + " throttles"});
    if (*source.limits.shuts_down_at > 0.0)
      out.limits.push_back({*source.limits.shuts_down_at, source.name + " shuts down"});
  }
  // One line a temperature, however many sources share it.
  for (std::size_t i = 0; i < out.limits.size(); ++i)
    for (std::size_t j = i + 1; j < out.limits.size();)
      if (out.limits[j].temperature == out.limits[i].temperature) {
        const bool throttles = out.limits[i].text.find("throttle") != std::string::npos;
        out.limits[i].text = throttles ? "throttling" : "shutdown";
        out.limits.erase(out.limits.begin() + static_cast<std::ptrdiff_t>(j));
      } else {
        ++j;
      }
}

// A fan that hunts would fill the chart with lines: its turns are drawn while they are few.
void add_moments(output::Warmup& out, const transient::Course& course) {
  constexpr std::ptrdiff_t kFewTurns = 6;
  const auto is_turn = [](const transient::Event& event) {
    return event.kind > transient::EventKind::shut_down;
  };
  const bool few = std::count_if(course.events.begin(), course.events.end(), is_turn) <= kFewTurns;
  for (const transient::Event& event : course.events)
    out.moments.push_back({event.time, event.text, few || !is_turn(event)});
}

std::vector<int> all_of(std::size_t count) {
  std::vector<int> out(count);
  for (std::size_t i = 0; i < count; ++i) out[i] = static_cast<int>(i);
  return out;
}

void add_series(output::Warmup& out, const WarmUp& run) {
  const transient::History& history = run.course.history;
  out.time = history.time;
  std::vector<int> drawn;
  for (const auto* list : {&run.source, &run.skin, &run.zone})
    drawn.insert(drawn.end(), list->begin(), list->end());
  add_columns(out, WarmupColumn::Kind::temperature, history.temperature, drawn);
  add_columns(out, WarmupColumn::Kind::inflow, history.inflow, {});
  add_columns(out, WarmupColumn::Kind::outflow, history.outflow, {});
  add_columns(out, WarmupColumn::Kind::fan_speed, history.fan_speed, all_of(history.fan_speed.size()));
  add_columns(out, WarmupColumn::Kind::power, history.power, all_of(history.power.size()));
  add_rows(out, run, run.source, "source");
  add_rows(out, run, run.part, "part");
  add_rows(out, run, run.fins, "fins");
  add_rows(out, run, run.skin, "skin");
  add_rows(out, run, run.zone, "air");
}

}  // namespace

output::Warmup warmup_result(const casefile::CaseFile& file, const transient::Plan& plan, const WarmUp& run) {
  const geometry::Case& content = file.content;
  const auto& condition = content.conditions[static_cast<std::size_t>(plan.condition)];
  output::Warmup out;
  out.condition = condition.name;
  out.circumstances = output::circumstances(content, condition);
  out.start = plan.from == transient::kCold
                  ? "from room temperature, " + output::temperature_text(run.ambient)
                  : "from the steady state of " +
                        study::quoted(content.conditions[static_cast<std::size_t>(plan.from)].name);
  out.device = content.device.name;
  out.case_file = std::filesystem::path(file.path).filename().string();
  out.case_sha256 = output::sha256(file.text);
  out.version = TUFT_VERSION;
  add_series(out, run);
  add_limits(out, content.device);
  add_moments(out, run.course);
  out.steady = run.course.ending == transient::Ending::steady;
  out.stable = run.course.growth <= 0.0;
  out.distance = run.course.distance;
  out.soak = run.settling.overall;
  out.since = run.settling.since;
  out.band = plan.band;
  out.flow_share = plan.flow_share;
  out.compared = run.steady.solved;
  out.difference = run.steady.difference;
  out.differs_at = run.steady.place;
  out.only_air = run.only_air;
  out.given = run.course.books.given;
  out.left = run.course.books.left;
  out.stored = run.course.books.stored;
  out.energy_error = run.course.books.error;
  return out;
}

}  // namespace tuft::program
