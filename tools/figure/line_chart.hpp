// Line charts: one or more panels above each other that share the horizontal axis.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/axes.hpp"
#include "tools/figure/svg.hpp"

namespace tuft::figure {

/// One line. `x` rises or stays (never falls) and is finite; `y` is in the panel's unit, a value that is not
/// finite is a gap. Both have one length.
struct Series {
  std::string name;  ///< written at the line's end, beside a piece of the line
  std::vector<double> x, y;
};

/// A horizontal line with its meaning, such as "throttles at 90 °C".
struct Threshold {
  double y = 0.0;
  std::string text;
};

/// A vertical line through all panels with its meaning, such as "left fan fails".
struct Event {
  double x = 0.0;  ///< as the series' x
  std::string text;
};

/// One panel.
struct Panel {
  std::string quantity;  ///< "Temperature"
  std::string unit;      ///< "°C"; empty: none
  std::vector<Series> series;
  std::vector<Threshold> thresholds;
  bool from_zero = false;  ///< the vertical axis holds zero
  double weight = 1.0;     ///< share of the height among the panels, > 0
};

/// A line chart. All texts may come from a case file: they are made fit here.
struct LineChart {
  std::string title;
  std::string subtitle;               ///< pose, support, load; may be empty
  AxisKind x_kind = AxisKind::plain;  ///< time: x is in seconds; angle: x is in degrees
  std::string x_name;                 ///< "Time since switching on"
  std::vector<Panel> panels;          ///< from top to bottom, at least one
  std::vector<Event> events;
  std::string note;                      ///< small print below, such as version and case; may be empty
  double width = 960.0, height = 540.0;  ///< [px]; grows when the labels need more height
  Surroundings surroundings = Surroundings::adaptive;
};

/// The chart as an SVG document. Series are told apart by colour, by dash and by their names at the lines'
/// ends; no text lies on text. Throws std::invalid_argument when something above is not kept.
std::string line_chart(const LineChart& chart);

}  // namespace tuft::figure
