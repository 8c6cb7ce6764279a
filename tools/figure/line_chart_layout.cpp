// Where everything of a line chart stands.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "tools/figure/heading.hpp"
#include "tools/figure/line_chart_parts.hpp"
#include "tools/figure/placer.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

constexpr double kTickRoom = 34.0;        // below the last plot: tick labels [px]
constexpr double kAxisTitle = 20.0;       // below those: the axis title [px]
constexpr double kPanelHead = 26.0;       // above a plot: its quantity [px]
constexpr double kPanelGap = 12.0;        // below a plot that has another one under it [px]
constexpr double kEventRow = 18.0;        // [px]
constexpr double kEventFoot = 8.0;        // between the lowest row and the plot [px]
constexpr int kMostEventRows = 5;         // more are drawn without text
constexpr double kMostLabelShare = 0.30;  // of the width for labels at the right
constexpr double kLeastPlot = 60.0;       // height of a plot [px]

struct Range {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();

  void take(double value) {
    if (!std::isfinite(value)) return;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  void take(const std::vector<double>& values) {
    for (const double value : values) take(value);
  }
  bool empty() const { return low > high; }
};

Range unless_empty(const Range& range) { return range.empty() ? Range{0.0, 1.0} : range; }

Range x_range(const LineChart& chart) {
  Range range;
  for (const Panel& panel : chart.panels)
    for (const Series& series : panel.series) range.take(series.x);
  for (const Event& event : chart.events) range.take(event.x);
  return unless_empty(range);
}

Range y_range(const Panel& panel) {
  Range range;
  for (const Series& series : panel.series) range.take(series.y);
  for (const Threshold& threshold : panel.thresholds) range.take(threshold.y);
  if (panel.from_zero) range.take(0.0);
  return unless_empty(range);
}

// Width for the labels at the right edge: the longest name, within reason.
double label_room(const LineChart& chart) {
  double width = 0.0;
  for (const Panel& panel : chart.panels) {
    for (const Series& series : panel.series)
      width = std::max(width, kSample + 5.0 + text_width(isolated(series.name), kTextSize, true));
    for (const Threshold& threshold : panel.thresholds)
      width = std::max(width, text_width(isolated(threshold.text), kTextSize));
  }
  return std::min(width, kMostLabelShare * chart.width) + kLeader + 2.0;
}

// Last point of a series that has a value.
std::optional<Point> last_point(const Series& series) {
  for (std::size_t i = series.x.size(); i-- > 0;)
    if (std::isfinite(series.y[i])) return Point{series.x[i], series.y[i]};
  return std::nullopt;
}

void place_edge_labels(const Panel& panel, const ChartLayout& layout, PanelLayout& place) {
  const Box& plot = place.plot;
  const double room = layout.width - kPageEdge - plot.right - kLeader;
  for (std::size_t i = 0; i < panel.series.size(); ++i) {
    EdgeLabel label;
    label.text = fitted(isolated(panel.series[i].name), room - kSample - 5.0, kTextSize, true);
    label.series = static_cast<int>(i);
    const std::optional<Point> last = last_point(panel.series[i]);
    label.x = last ? layout.x.at(last->x) : plot.right;
    label.y = last ? place.scale.at(last->y) : plot.bottom;
    place.labels.push_back(label);
  }
  for (const Threshold& threshold : panel.thresholds) {
    const double y = place.scale.at(threshold.y);
    place.labels.push_back({fitted(isolated(threshold.text), room, kTextSize), y, plot.right, 0.0, -1});
  }
  std::vector<Wish> wishes;
  for (const EdgeLabel& label : place.labels) wishes.push_back({label.y, kLabelHeight});
  const double over = 0.5 * kLabelHeight;
  const std::vector<double> middles = spread_out(wishes, plot.top - over, plot.bottom + over);
  for (std::size_t i = 0; i < middles.size(); ++i) place.labels[i].middle = middles[i];
}

// Labels of events start at their line, or end at the page's edge; those in a row past `most_rows` lose
// their text. Returns the rows that are in use.
int place_events(const LineChart& chart, int most_rows, ChartLayout& layout) {
  std::vector<Span> spans;
  const double right = layout.width - kPageEdge;
  layout.events.clear();
  for (const Event& event : chart.events) {
    EventLabel label;
    label.x = layout.x.at(event.x);
    label.text = fitted(isolated(event.text), 0.4 * layout.width, kSmallSize);
    const double width = text_width(label.text, kSmallSize);
    label.left = std::max(kPageEdge, std::min(label.x - 2.0, right - width));
    spans.push_back({label.left, label.left + width});
    layout.events.push_back(label);
  }
  const std::vector<int> rows = rows_for(spans, 10.0);
  int used = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    layout.events[i].row = rows[i];
    if (rows[i] < most_rows)
      used = std::max(used, rows[i] + 1);
    else
      layout.events[i].text.clear();
  }
  return used;
}

// Heights of the plots: by weight, but no lower than their labels need.
std::vector<double> plot_heights(const LineChart& chart, double available) {
  double weights = 0.0;
  for (const Panel& panel : chart.panels) weights += panel.weight;
  std::vector<double> heights;
  for (const Panel& panel : chart.panels) {
    const double least = std::max(
        kLeastPlot, ((static_cast<int>(panel.series.size() + panel.thresholds.size())) - 1) * kLabelHeight);
    heights.push_back(std::max(least, available * panel.weight / weights));
  }
  return heights;
}

Ticks y_ticks(const Panel& panel, double height) {
  const Range range = y_range(panel);
  const int most = std::clamp(static_cast<int>(height / 30.0), 3, 9);
  return nice_ticks(AxisKind::plain, range.low, range.high, most, Ends::widened);
}

void place_x(const LineChart& chart, const Range& x, double left, double right, ChartLayout& layout) {
  const int most = std::clamp(static_cast<int>((right - left) / 70.0), 3, 12);
  layout.x_ticks = fitting_ticks(chart.x_kind, x.low, x.high, most, Ends::kept, right - left, kTextSize);
  layout.x = {layout.x_ticks.low, layout.x_ticks.high, left, right};
}

// `rows` of events stand between the head of the first panel and its plot.
void place_panels(const LineChart& chart, const Range& x, int rows, ChartLayout& layout) {
  layout.panels.clear();
  const double event_room = rows > 0 ? kEventRow * rows + kEventFoot : 0.0;
  const Heading heading{chart.title, chart.subtitle, chart.note};
  const double top = heading_bottom(heading, chart.width);
  const double notes = note_height(heading, chart.width);
  const auto count = static_cast<double>(chart.panels.size());
  const double below = kTickRoom + kAxisTitle + notes;
  const double heads = count * kPanelHead + (count - 1.0) * kPanelGap;
  const std::vector<double> heights = plot_heights(chart, chart.height - top - event_room - heads - below);
  std::vector<std::string> labels;
  for (std::size_t i = 0; i < chart.panels.size(); ++i) {
    PanelLayout place;
    place.ticks = y_ticks(chart.panels[i], heights[i]);
    labels.insert(labels.end(), place.ticks.labels.begin(), place.ticks.labels.end());
    layout.panels.push_back(place);
  }
  const double left = kPageEdge + widest(labels, kTextSize) + 10.0;
  const double right = layout.width - kPageEdge - label_room(chart);
  double y = top;
  std::size_t series = 0;
  for (std::size_t i = 0; i < layout.panels.size(); ++i) {
    PanelLayout& place = layout.panels[i];
    y += kPanelHead + (i == 0 ? event_room : 0.0);
    place.plot = {left, y, right, y + heights[i]};
    place.scale = {place.ticks.low, place.ticks.high, place.plot.bottom, place.plot.top};
    place.first_series = series;
    series += chart.panels[i].series.size();
    y += heights[i] + kPanelGap;
  }
  layout.height = y - kPanelGap + below;
  layout.drawing_bottom = layout.height - notes;
  place_x(chart, x, left, right, layout);
}

}  // namespace

double event_baseline(const ChartLayout& layout, int row) {
  return layout.panels.front().plot.top - kEventFoot - 3.0 - kEventRow * row;
}

double head_baseline(const ChartLayout& layout) {
  const double events = layout.event_rows > 0 ? kEventRow * layout.event_rows + kEventFoot : 0.0;
  return layout.panels.front().plot.top - events - 11.0;
}

ChartLayout lay_out_chart(const LineChart& chart) {
  ChartLayout layout;
  layout.width = chart.width;
  const Range x = x_range(chart);
  // The rows of events depend on the horizontal scale, which depends on the widths of the tick labels, which
  // hang on the height that the rows leave: two rounds, the second within the rows of the first.
  place_panels(chart, x, 0, layout);
  const int rows = place_events(chart, kMostEventRows, layout);
  if (rows > 0) {
    place_panels(chart, x, rows, layout);
    place_events(chart, rows, layout);
  }
  layout.event_rows = rows;
  for (std::size_t i = 0; i < chart.panels.size(); ++i)
    place_edge_labels(chart.panels[i], layout, layout.panels[i]);
  return layout;
}

}  // namespace tuft::figure
