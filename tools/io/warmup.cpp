// Finiteness, table and chart of a warm-up.
#include "tools/io/warmup.hpp"

#include <algorithm>
#include <tuple>

#include "solver/numerics/constants.hpp"
#include "tools/figure/line_chart.hpp"
#include "tools/io/csv.hpp"

namespace tuft::io {
namespace {

std::string heading(const WarmupColumn& column) {
  switch (column.kind) {
    case WarmupColumn::Kind::temperature:
      return "temperature " + column.name + " [K]";
    case WarmupColumn::Kind::inflow:
      return "gross in " + column.name + " [kg/s]";
    case WarmupColumn::Kind::outflow:
      return "gross out " + column.name + " [kg/s]";
    case WarmupColumn::Kind::fan_speed:
      return "speed " + column.name + " [rev/s]";
    case WarmupColumn::Kind::power:
      return "power " + column.name + " [W]";
  }
  return column.name;
}

using numerics::kZeroCelsius;
constexpr double kNearLimit = 15.0;      // a limit that far above everything is not worth the height [K]
constexpr double kShortestWarmup = 1.0;  // a course without length gets an axis all the same [s]

using Kind = WarmupColumn::Kind;

double shown(Kind kind, double value) {
  if (kind == Kind::temperature) return value - kZeroCelsius;
  return kind == Kind::fan_speed ? 60.0 * value : value;
}

figure::Panel panel(const Warmup& warmup, Kind kind, const char* quantity, const char* unit) {
  figure::Panel result;
  result.quantity = quantity;
  result.unit = unit;
  for (const WarmupColumn& column : warmup.columns) {
    if (column.kind != kind || !column.drawn) continue;
    figure::Series series{column.name, warmup.time, column.values};
    for (double& value : series.y) value = shown(kind, value);
    if (series.x.size() == 1) {
      series.x.push_back(series.x[0] + kShortestWarmup);
      series.y.push_back(series.y[0]);
    }
    result.series.push_back(std::move(series));
  }
  return result;
}

double hottest(const Warmup& warmup) {
  double value = 0.0;
  for (const WarmupRow& row : warmup.rows) value = std::max(value, row.hottest);
  return value;
}

}  // namespace

std::string warmup_csv(const Warmup& warmup) {
  std::vector<std::string> headings = {"time [s]"};
  for (const WarmupColumn& column : warmup.columns) headings.push_back(heading(column));
  std::string text = csv_line(headings);
  for (std::size_t i = 0; i < warmup.time.size(); ++i) {
    std::vector<std::string> cells = {csv_number(warmup.time[i], "warmup.time")};
    for (const WarmupColumn& column : warmup.columns)
      cells.push_back(csv_number(column.values[i], "warmup." + column.name));
    text += csv_line(cells);
  }
  return text;
}

std::string warmup_chart(const Warmup& warmup) {
  figure::LineChart chart;
  chart.title = warmup.device + ": " + warmup.condition;
  chart.subtitle = warmup.circumstances + "; " + warmup.start;
  chart.x_kind = figure::AxisKind::time;
  chart.x_name = "Time";
  figure::Panel temperatures = panel(warmup, Kind::temperature, "Temperature", "°C");
  temperatures.weight = 3.0;
  for (const WarmupLimit& limit : warmup.limits)
    if (limit.temperature < hottest(warmup) + kNearLimit)
      temperatures.thresholds.push_back({limit.temperature - kZeroCelsius, limit.text});
  chart.panels.push_back(std::move(temperatures));
  for (auto [kind, quantity, unit] :
       {std::tuple{Kind::fan_speed, "Fan speed", "rpm"}, std::tuple{Kind::power, "Power", "W"}}) {
    figure::Panel more = panel(warmup, kind, quantity, unit);
    more.from_zero = true;
    if (!more.series.empty()) chart.panels.push_back(std::move(more));
  }
  for (const WarmupMoment& moment : warmup.moments)
    if (moment.drawn) chart.events.push_back({moment.time, moment.text});
  chart.note = "tuft " + warmup.version + ", " + warmup.case_file + ". A prediction, no safety assessment.";
  chart.height = 260.0 + 160.0 * static_cast<double>(chart.panels.size());
  return figure::line_chart(chart);
}

}  // namespace tuft::io
