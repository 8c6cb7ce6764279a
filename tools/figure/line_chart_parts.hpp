// What the files of the line chart share. For line_chart*.cpp only.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/line_chart.hpp"

namespace tuft::figure {

/// A label at the right edge of a panel.
struct EdgeLabel {
  std::string text;
  double y = 0.0;       ///< where its line ends, or its threshold lies [px]
  double x = 0.0;       ///< where that is [px]
  double middle = 0.0;  ///< where it is written [px]
  int series = -1;      ///< index into Panel::series, or -1 for a threshold
};

/// An event's label above the panels.
struct EventLabel {
  std::string text;   ///< empty: no room
  double x = 0.0;     ///< of the line [px]
  double left = 0.0;  ///< of the text [px]
  int row = 0;        ///< from the lowest
};

struct PanelLayout {
  Box plot;
  Ticks ticks;
  Scale scale;
  std::size_t first_series = 0;  ///< number of its first series among those of the chart
  std::vector<EdgeLabel> labels;
};

/// Where everything of a chart stands.
struct ChartLayout {
  double width = 0.0, height = 0.0;
  Ticks x_ticks;
  Scale x;
  std::vector<PanelLayout> panels;
  std::vector<EventLabel> events;
  int event_rows = 0;
  double drawing_bottom = 0.0;  ///< where the small print may begin [px]
};

constexpr double kTextSize = 13.0, kSmallSize = 12.0;  // [px]
constexpr double kLabelHeight = 17.0;                  // of labels at the lines' ends [px]
constexpr double kSample = 22.0;                       // piece of line before a label [px]
constexpr double kLeader = 16.0;                       // between plot and label [px]

/// Baseline of a row of event labels above the first plot [px].
double event_baseline(const ChartLayout& layout, int row);

/// Baseline of the quantity of the first panel, above the events [px].
double head_baseline(const ChartLayout& layout);

/// Places everything. The chart has been checked.
ChartLayout lay_out_chart(const LineChart& chart);

}  // namespace tuft::figure
