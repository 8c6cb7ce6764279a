// Horizontal bars with whiskers: which input a result depends on, and how much.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tools/figure/svg.hpp"

namespace tuft::figure {

/// One bar.
struct Bar {
  std::string name;
  double value = 0.0;            ///< finite; the bar runs from the chart's base to it
  double low = 0.0, high = 0.0;  ///< ends of the interval, low <= high
  bool has_interval = false;
  std::string remark;                ///< small print below its name, such as its spread; may be empty
  std::optional<double> limit = {};  ///< marked by a stroke across, finite
};

/// A chart of bars, drawn from top to bottom in the order given.
struct BarChart {
  std::string title, subtitle;
  std::string quantity, unit;
  std::vector<Bar> bars;
  int digits = 2;                 ///< significant digits of the numbers at the bars, 1..6
  Paint paint = Paint::series_1;  ///< of bars to the right of the base
  double base = 0.0;              ///< where bars begin, finite
  bool signs = true;              ///< a plus before numbers above zero
  std::string base_words;  ///< what that is, for the axis: "bars begin at the room's 21.0 °C"; may be empty
  std::string interval;    ///< what the whiskers mean: "95 % interval"; may be empty
  std::string note;
  double width = 960.0;  ///< [px], 320..8000; the height follows from the bars
  Surroundings surroundings = Surroundings::adaptive;
};

/// The chart as an SVG document. Bars to the left and to the right of the base differ in direction, colour
/// and sign. Throws std::invalid_argument when something above is not kept.
std::string bar_chart(const BarChart& chart);

}  // namespace tuft::figure
