#include "tools/figure/line_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/figure/curve.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/line_chart_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

void check_series(const Series& series) {
  const std::string name = fmt::format("series '{}': ", clean(series.name));
  require("line chart", series.x.size() == series.y.size(),
          name + fmt::format("{} x and {} y must be as many", series.x.size(), series.y.size()));
  require("line chart", finite(series.x) && std::is_sorted(series.x.begin(), series.x.end()),
          name + "x must be finite and never fall");
}

void check_panel(const Panel& panel) {
  require("line chart", std::isfinite(panel.weight) && panel.weight > 0.0,
          fmt::format("weight {} of a panel must be > 0", panel.weight));
  for (const Series& series : panel.series) check_series(series);
  for (const Threshold& threshold : panel.thresholds)
    require("line chart", std::isfinite(threshold.y),
            fmt::format("threshold {} must be finite", threshold.y));
}

void check_chart(const LineChart& chart) {
  require("line chart", !chart.panels.empty(), "must have a panel");
  for (const double size : {chart.width, chart.height})
    require("line chart", size >= 240.0 && size <= 8000.0, fmt::format("size {} must be 240 .. 8000", size));
  for (const Panel& panel : chart.panels) check_panel(panel);
  for (const Event& event : chart.events)
    require("line chart", std::isfinite(event.x), fmt::format("event {} must be finite", event.x));
}

// The dash of the n-th series of a chart; the first is solid.
std::vector<double> series_dash(std::size_t number) {
  static const std::vector<std::vector<double>> dashes = {{},
                                                          {8.0, 4.0},
                                                          {2.0, 3.0},
                                                          {10.0, 3.0, 2.0, 3.0},
                                                          {4.0, 3.0},
                                                          {14.0, 4.0},
                                                          {8.0, 3.0, 2.0, 3.0, 2.0, 3.0}};
  return dashes[number % dashes.size()];
}

const std::vector<double> kThresholdDash = {9.0, 4.0};
const std::vector<double> kEventDash = {2.0, 3.0};

std::string described(const LineChart& chart) {
  std::string text = "Line chart. Horizontal: " + clean(chart.x_name) + ".";
  for (const Panel& panel : chart.panels) {
    text += " " + with_unit(panel.quantity, panel.unit) + ":";
    for (std::size_t i = 0; i < panel.series.size(); ++i)
      text += (i == 0 ? " " : ", ") + isolated(panel.series[i].name);
    for (const Threshold& threshold : panel.thresholds) text += "; line: " + isolated(threshold.text);
    text += ".";
  }
  for (const Event& event : chart.events) text += " Event: " + isolated(event.text) + ".";
  return text;
}

void draw_grid(const ChartLayout& layout, const PanelLayout& place, Svg& svg) {
  const Box& plot = place.plot;
  std::vector<Point> grid, ticks;
  for (const double value : layout.x_ticks.at) {
    const double x = layout.x.at(value);
    grid.insert(grid.end(), {{x, plot.top}, {x, plot.bottom}});
    ticks.insert(ticks.end(), {{x, plot.bottom}, {x, plot.bottom + 5.0}});
  }
  for (const double value : place.ticks.at) {
    const double y = place.scale.at(value);
    grid.insert(grid.end(), {{plot.left, y}, {plot.right, y}});
  }
  svg.segments(grid, {Paint::none, Paint::grid});
  ticks.insert(ticks.end(), {{plot.left, plot.bottom}, {plot.right, plot.bottom}});
  svg.segments(ticks, {Paint::none, Paint::axis});
  const Type type{kTextSize, false, Anchor::end, Paint::muted};
  for (std::size_t i = 0; i < place.ticks.at.size(); ++i) {
    const double y = place.scale.at(place.ticks.at[i]);
    svg.text({plot.left - 8.0, y + 0.36 * kTextSize}, place.ticks.labels[i], type);
  }
}

void draw_x_axis(const LineChart& chart, const ChartLayout& layout, Svg& svg) {
  const Box& plot = layout.panels.back().plot;
  const Type type{kTextSize, false, Anchor::middle, Paint::muted};
  for (std::size_t i = 0; i < layout.x_ticks.at.size(); ++i)
    svg.text({layout.x.at(layout.x_ticks.at[i]), plot.bottom + 21.0}, layout.x_ticks.labels[i], type);
  const std::string title =
      fitted(with_unit(chart.x_name, layout.x_ticks.unit), layout.width - 2.0 * kPageEdge, kTextSize, true);
  const double half = 0.5 * text_width(title, kTextSize, true);
  const double middle = std::clamp(plot.centre().x, kPageEdge + half,
                                   std::max(kPageEdge + half, layout.width - kPageEdge - half));
  svg.text({middle, plot.bottom + 43.0}, title, {kTextSize, true, Anchor::middle});
}

void draw_thresholds(const Panel& panel, const PanelLayout& place, Svg& svg) {
  for (const Threshold& threshold : panel.thresholds) {
    const double y = place.scale.at(threshold.y);
    svg.line({place.plot.left, y}, {place.plot.right, y}, {Paint::none, Paint::mark, 1.2, kThresholdDash},
             {{"data-threshold", number(threshold.y)}});
  }
}

void draw_series(const Series& series, std::size_t index, const ChartLayout& layout, const PanelLayout& place,
                 Svg& svg) {
  const std::size_t number_of = place.first_series + index;
  const Look look{Paint::none, series_paint(number_of), 2.2, series_dash(number_of)};
  std::vector<Point> run;
  std::vector<std::vector<Point>> runs;
  for (std::size_t i = 0; i < series.x.size(); ++i) {
    if (std::isfinite(series.y[i])) {
      run.push_back({layout.x.at(series.x[i]), place.scale.at(series.y[i])});
    } else if (!run.empty()) {
      runs.push_back(std::move(run));
      run.clear();
    }
  }
  if (!run.empty()) runs.push_back(run);
  for (const std::vector<Point>& whole : runs) {
    if (whole.size() == 1)
      svg.circle(whole[0], 2.2, {look.stroke});
    else
      svg.polyline(thinned(whole), look, {{"data-series", clean(series.name)}});
  }
}

// A thin line from where the curve ends to its name, level at both ends.
void draw_leader(const EdgeLabel& label, const Box& plot, double text_left, Svg& svg) {
  const Look look{Paint::none, Paint::axis, 0.8};
  svg.polyline({{label.x, label.y},
                {plot.right + 3.0, label.y},
                {text_left - 6.0, label.middle},
                {text_left - 3.0, label.middle}},
               look);
}

void draw_edge_labels(const PanelLayout& place, Svg& svg) {
  const double left = place.plot.right + kLeader;
  for (const EdgeLabel& label : place.labels) {
    draw_leader(label, place.plot, left, svg);
    const double base = label.middle + 0.36 * kTextSize;
    if (label.series < 0) {
      svg.text({left, base}, label.text, {kTextSize, false, Anchor::start, Paint::mark});
      continue;
    }
    const std::size_t number_of = place.first_series + static_cast<std::size_t>(label.series);
    const Paint paint = series_paint(number_of);
    svg.line({left, label.middle}, {left + kSample, label.middle},
             {Paint::none, paint, 2.2, series_dash(number_of)});
    svg.text({left + kSample + 5.0, base}, label.text, {kTextSize, true, Anchor::start, paint});
  }
}

void draw_events(const ChartLayout& layout, Svg& svg) {
  for (const EventLabel& event : layout.events) {
    std::vector<Point> pieces;
    for (const PanelLayout& place : layout.panels)
      pieces.insert(pieces.end(), {{event.x, place.plot.top}, {event.x, place.plot.bottom}});
    if (!event.text.empty()) pieces.front().y = event_baseline(layout, event.row) + 4.0;
    svg.segments(pieces, {Paint::none, Paint::mark, 1.2, kEventDash}, {{"data-event", event.text}});
  }
  // After all lines: the words of events near the right edge may lie over one.
  for (const EventLabel& event : layout.events) {
    const Type type{kSmallSize, false, Anchor::start, Paint::mark, true};
    svg.text({event.left, event_baseline(layout, event.row)}, event.text, type);
  }
}

void draw_panel(const Panel& panel, const ChartLayout& layout, const PanelLayout& place, double head,
                Svg& svg) {
  svg.open({{"data-panel", clean(panel.quantity)}});
  draw_grid(layout, place, svg);
  const double room = place.plot.right - kPageEdge;
  svg.text({kPageEdge, head}, fitted(with_unit(panel.quantity, panel.unit), room, kTextSize, true),
           {kTextSize, true});
  draw_thresholds(panel, place, svg);
  for (std::size_t i = 0; i < panel.series.size(); ++i) draw_series(panel.series[i], i, layout, place, svg);
  draw_edge_labels(place, svg);
  svg.close();
}

}  // namespace

std::string line_chart(const LineChart& chart) {
  check_chart(chart);
  const Heading heading{chart.title, chart.subtitle, chart.note};
  const ChartLayout layout = lay_out_chart(chart);
  Svg svg(layout.width, layout.height, clean(chart.title), described(chart), chart.surroundings);
  draw_heading(heading, svg);
  draw_events(layout, svg);
  for (std::size_t i = 0; i < chart.panels.size(); ++i) {
    const PanelLayout& place = layout.panels[i];
    const double head = i == 0 ? head_baseline(layout) : place.plot.top - 11.0;
    draw_panel(chart.panels[i], layout, place, head, svg);
  }
  draw_x_axis(chart, layout, svg);
  draw_note(heading, layout.drawing_bottom, svg);
  return svg.document();
}

}  // namespace tuft::figure
