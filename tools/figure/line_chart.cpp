#include "tools/figure/line_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "tools/figure/curve.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/line_chart_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

bool finite(const std::vector<double>& values) {
  for (const double value : values) {
    if (!std::isfinite(value)) return false;
  }
  return true;
}

bool never_falls(const std::vector<double>& values) {
  for (std::size_t i = 1; i < values.size(); ++i) {
    if (values[i] < values[i - 1]) return false;
  }
  return true;
}

void check_series(const Series& series) {
  const std::string name = fmt::format("series '{}': ", clean(series.name));
  require("line chart", series.x.size() == series.y.size(),
          name + fmt::format("{} x and {} y must be as many", series.x.size(), series.y.size()));
  require("line chart", finite(series.x) && never_falls(series.x), name + "x must be finite and never fall");
}

void check_band(const Band& band, std::size_t series) {
  const bool one_length = band.x.size() == band.low.size() && band.x.size() == band.high.size();
  require("line chart", one_length, "band: x, low and high must be as many");
  require("line chart", finite(band.x) && finite(band.low) && finite(band.high),
          "band: values must be finite");
  require("line chart", never_falls(band.x), "band: x must never fall");
  require("line chart", band.series < series, fmt::format("band: series {} of {}", band.series, series));
  for (std::size_t i = 0; i < band.x.size(); ++i) {
    require("line chart", band.low[i] <= band.high[i],
            fmt::format("band: low {} above high {}", band.low[i], band.high[i]));
  }
}

void check_ends(const char* axis, const std::optional<double>& low, const std::optional<double>& high) {
  require("line chart", !low || std::isfinite(*low), fmt::format("{} axis: low must be finite", axis));
  require("line chart", !high || std::isfinite(*high), fmt::format("{} axis: high must be finite", axis));
  require("line chart", !low || !high || *low < *high, fmt::format("{} axis: low must lie below high", axis));
}

void check_panel(const Panel& panel) {
  require("line chart", std::isfinite(panel.weight) && panel.weight > 0.0,
          fmt::format("weight {} of a panel must be > 0", panel.weight));
  check_ends("vertical", panel.low, panel.high);
  for (const Series& series : panel.series) check_series(series);
  for (const Band& band : panel.bands) check_band(band, panel.series.size());
  for (const Threshold& threshold : panel.thresholds) {
    require("line chart", std::isfinite(threshold.y),
            fmt::format("threshold {} must be finite", threshold.y));
  }
}

void check_chart(const LineChart& chart) {
  require("line chart", !chart.panels.empty(), "must have a panel");
  for (const double size : {chart.width, chart.height}) {
    require("line chart", size >= 240.0 && size <= 8000.0, fmt::format("size {} must be 240 .. 8000", size));
  }
  check_ends("horizontal", chart.x_low, chart.x_high);
  for (const Panel& panel : chart.panels) check_panel(panel);
  for (const Event& event : chart.events) {
    require("line chart", std::isfinite(event.x), fmt::format("event {} must be finite", event.x));
  }
}

const std::vector<double> kThresholdDash = {9.0, 4.0};
const std::vector<double> kEventDash = {2.0, 3.0};

std::string with_unit(const std::string& quantity, const std::string& unit) {
  if (unit.empty()) return isolated(quantity);
  return isolated(quantity) + " [" + clean(unit) + "]";
}

std::string described(const LineChart& chart) {
  if (!chart.description.empty()) return clean(chart.description);
  std::string text = "Line chart. Horizontal: " + clean(chart.x_name) + ".";
  for (const Panel& panel : chart.panels) {
    text += " " + with_unit(panel.quantity, panel.unit) + ":";
    for (std::size_t i = 0; i < panel.series.size(); ++i) {
      text += (i == 0 ? " " : ", ") + isolated(panel.series[i].name);
    }
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
  for (std::size_t i = 0; i < layout.x_ticks.at.size(); ++i) {
    svg.text({layout.x.at(layout.x_ticks.at[i]), plot.bottom + 21.0}, layout.x_ticks.labels[i], type);
  }
  const std::string& unit = chart.x_kind == AxisKind::plain ? chart.x_unit : layout.x_ticks.unit;
  const std::string title =
      fitted(with_unit(chart.x_name, unit), layout.width - 2.0 * kPageEdge, kTextSize, true);
  const double half = 0.5 * text_width(title, kTextSize, true);
  const double middle = std::clamp(plot.centre().x, kPageEdge + half,
                                   std::max(kPageEdge + half, layout.width - kPageEdge - half));
  svg.text({middle, plot.bottom + 43.0}, title, {kTextSize, true, Anchor::middle});
}

void draw_thresholds(const Panel& panel, const PanelLayout& place, Svg& svg) {
  for (const Threshold& threshold : panel.thresholds) {
    const double y = place.scale.at(threshold.y);
    if (y < place.plot.top - 0.5 || y > place.plot.bottom + 0.5) continue;
    svg.line({place.plot.left, y}, {place.plot.right, y}, {Paint::none, Paint::mark, 1.2, kThresholdDash},
             {{"data-threshold", number(threshold.y)}});
  }
}

void draw_band(const Band& band, const ChartLayout& layout, const PanelLayout& place, Svg& svg) {
  std::vector<Point> low, high;
  for (std::size_t i = 0; i < band.x.size(); ++i) {
    low.push_back({layout.x.at(band.x[i]), place.scale.at(band.low[i])});
    high.push_back({layout.x.at(band.x[i]), place.scale.at(band.high[i])});
  }
  std::reverse(high.begin(), high.end());
  low.insert(low.end(), high.begin(), high.end());
  const std::vector<Point> ring = clipped_ring(low, place.plot);
  if (ring.size() < 3) return;
  svg.polygon(ring, {series_paint(place.first_series + band.series), Paint::none, 0.0, {}, 0.16});
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
    for (const std::vector<Point>& piece : clipped_line(thinned(whole), place.plot)) {
      if (piece.size() == 1) {
        svg.circle(piece[0], 2.2, {look.stroke});
      } else {
        svg.polyline(piece, look, {{"data-series", clean(series.name)}});
      }
    }
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
    for (const PanelLayout& place : layout.panels) {
      pieces.insert(pieces.end(), {{event.x, place.plot.top}, {event.x, place.plot.bottom}});
    }
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
  for (const Band& band : panel.bands) draw_band(band, layout, place, svg);
  draw_thresholds(panel, place, svg);
  for (std::size_t i = 0; i < panel.series.size(); ++i) draw_series(panel.series[i], i, layout, place, svg);
  draw_edge_labels(place, svg);
  svg.close();
}

}  // namespace

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
