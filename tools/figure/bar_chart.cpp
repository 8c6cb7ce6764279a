#include "tools/figure/bar_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/figure/axes.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

constexpr double kBarRow = 36.0, kBarHeight = 15.0, kBarText = 13.0, kSmall = 12.0;  // [px]

void check(const BarChart& chart) {
  require("bar chart", chart.width >= 320.0 && chart.width <= 8000.0,
          fmt::format("width {} must be 320 .. 8000", chart.width));
  require("bar chart", chart.digits >= 1 && chart.digits <= 6,
          fmt::format("digits {} must be 1 .. 6", chart.digits));
  require("bar chart", std::isfinite(chart.base), "base must be finite");
  for (const Bar& bar : chart.bars) {
    const std::string name = fmt::format("bar '{}': ", clean(bar.name));
    require("bar chart", std::isfinite(bar.value), name + "value must be finite");
    require("bar chart", !bar.limit || std::isfinite(*bar.limit), name + "limit must be finite");
    if (!bar.has_interval) continue;
    require("bar chart", std::isfinite(bar.low) && std::isfinite(bar.high) && bar.low <= bar.high,
            name + fmt::format("interval {} .. {} must be finite and rise", bar.low, bar.high));
  }
}

// Decimals that show the bar's number with so many significant digits; its interval takes the same.
int decimals_of(const Bar& bar, int digits) {
  double size = std::abs(bar.value);
  if (size == 0.0 && bar.has_interval) size = std::max(std::abs(bar.low), std::abs(bar.high));
  if (size == 0.0) return 0;
  return std::clamp(digits - 1 - static_cast<int>(std::floor(std::log10(size) + 1e-12)), 0, 12);
}

std::string number_text(double value, int decimals, bool signs) {
  const std::string text = tick_label(value, decimals);
  return signs && value > 0.0 ? "+" + text : text;
}

std::string value_text(const Bar& bar, const BarChart& chart) {
  return number_text(bar.value, decimals_of(bar, chart.digits), chart.signs);
}

std::string interval_text(const Bar& bar, const BarChart& chart) {
  if (!bar.has_interval) return "";
  const int decimals = decimals_of(bar, chart.digits);
  return number_text(bar.low, decimals, chart.signs) + " to " + number_text(bar.high, decimals, chart.signs);
}

struct Layout {
  double names_right = 0.0;
  double texts_left = 0.0;
  Box plot;
  Ticks ticks;
  Scale x;
  double height = 0.0;
};

// Rounding must not cost the widest text its end.
constexpr double kSpare = 1.0;  // [px]

double widest_name(const BarChart& chart) {
  double width = 40.0;
  for (const Bar& bar : chart.bars) {
    width = std::max(width, text_width(isolated(bar.name), kBarText));
    width = std::max(width, text_width(isolated(bar.remark), kSmall));
  }
  return std::min(width + kSpare, 0.36 * chart.width);
}

double widest_text(const BarChart& chart) {
  double width = 40.0;
  for (const Bar& bar : chart.bars) {
    width = std::max(width, text_width(value_text(bar, chart), kBarText, true));
    width = std::max(width, text_width(interval_text(bar, chart), kSmall));
  }
  return std::min(width + kSpare, 0.25 * chart.width);
}

Layout lay_out(const BarChart& chart, double top) {
  Layout layout;
  const double base = chart.base;
  double low = base, high = base;
  for (const Bar& bar : chart.bars) {
    low = std::min({low, bar.value, bar.limit.value_or(base), bar.has_interval ? bar.low : base});
    high = std::max({high, bar.value, bar.limit.value_or(base), bar.has_interval ? bar.high : base});
  }
  layout.names_right = kPageEdge + widest_name(chart);
  layout.texts_left = chart.width - kPageEdge - widest_text(chart);
  const double bottom = top + 22.0 + kBarRow * static_cast<double>(chart.bars.size());
  layout.plot = {layout.names_right + 14.0, top + 22.0, layout.texts_left - 16.0, bottom};
  const int most = std::clamp(static_cast<int>(layout.plot.width() / 80.0), 2, 9);
  layout.ticks =
      fitting_ticks(AxisKind::plain, low, high, most, Ends::widened, layout.plot.width(), kBarText);
  layout.x = {layout.ticks.low, layout.ticks.high, layout.plot.left, layout.plot.right};
  layout.height = bottom + 52.0;
  return layout;
}

void draw_grid(const BarChart& chart, const Layout& layout, Svg& svg) {
  std::vector<Point> grid;
  for (std::size_t i = 0; i < layout.ticks.at.size(); ++i) {
    const double x = layout.x.at(layout.ticks.at[i]);
    grid.insert(grid.end(), {{x, layout.plot.top}, {x, layout.plot.bottom}});
    svg.text({x, layout.plot.bottom + 18.0}, layout.ticks.labels[i],
             {kBarText, false, Anchor::middle, Paint::muted});
  }
  svg.segments(grid, {Paint::none, Paint::grid});
  const double base = layout.x.at(chart.base);
  svg.line({base, layout.plot.top - 4.0}, {base, layout.plot.bottom + 4.0}, {Paint::none, Paint::axis, 1.2},
           {{"data-base", tick_label(chart.base, 1)}});
}

void draw_whisker(const Bar& bar, const Scale& x, double middle, Svg& svg) {
  const std::vector<Point> strokes = capped_line({x.at(bar.low), middle}, x.at(bar.high));
  svg.segments(strokes, {Paint::none, Paint::paper, 4.0});
  svg.segments(strokes, {Paint::none, Paint::text, 1.6}, {{"data-whisker", clean(bar.name)}});
}

// A stroke across the row, on paper so that it shows over the bar.
void draw_limit(const Bar& bar, const Scale& x, double middle, Svg& svg) {
  const Point top{x.at(*bar.limit), middle - 0.72 * kBarHeight}, foot{top.x, middle + 0.72 * kBarHeight};
  svg.line(top, foot, {Paint::none, Paint::paper, 5.0});
  svg.line(top, foot, {Paint::none, Paint::mark, 2.4}, {{"data-limit", clean(bar.name)}});
}

struct Side {
  double x = 0.0, room = 0.0;
  Anchor anchor = Anchor::start;
};

// One line at the middle of a row, or two around it, the second in small print.
void draw_two_lines(const std::string& first, const std::string& second, const Side& side, bool bold,
                    double middle, Svg& svg) {
  const double base = second.empty() ? middle + 0.36 * kBarText : middle - 2.0;
  svg.text({side.x, base}, fitted(first, side.room, kBarText, bold), {kBarText, bold, side.anchor});
  svg.text({side.x, middle + 12.5}, fitted(second, side.room, kSmall),
           {kSmall, false, side.anchor, Paint::muted});
}

void draw_bar(const BarChart& chart, const Bar& bar, const Layout& layout, double middle, Svg& svg) {
  const double base = layout.x.at(chart.base), end = layout.x.at(bar.value);
  const Box box{std::min(base, end), middle - 0.5 * kBarHeight, std::max(base, end),
                middle + 0.5 * kBarHeight};
  const Paint paint = bar.value < chart.base ? Paint::series_2 : chart.paint;
  svg.rect(box, {paint, Paint::none, 0.0, {}, 0.75}, 0.0, {{"data-bar", clean(bar.name)}});
  if (bar.limit) draw_limit(bar, layout.x, middle, svg);
  if (bar.has_interval) draw_whisker(bar, layout.x, middle, svg);
  const double room = chart.width - kPageEdge - layout.texts_left;
  const Side names{layout.names_right, layout.names_right - kPageEdge, Anchor::end};
  draw_two_lines(isolated(bar.name), isolated(bar.remark), names, false, middle, svg);
  const Side numbers{layout.texts_left, room, Anchor::start};
  draw_two_lines(value_text(bar, chart), interval_text(bar, chart), numbers, true, middle, svg);
}

std::string described(const BarChart& chart) {
  std::string text = "Bar chart of " + clean(chart.quantity) + ".";
  for (const Bar& bar : chart.bars)
    text += fmt::format(" {}: {} {}.", isolated(bar.name), value_text(bar, chart), clean(chart.unit));
  return text;
}

std::string axis_title(const BarChart& chart) {
  const std::string text = with_unit(chart.quantity, chart.unit);
  const bool limits =
      std::any_of(chart.bars.begin(), chart.bars.end(), [](const Bar& bar) { return bar.limit.has_value(); });
  return text + (chart.interval.empty() ? "" : "; whiskers: " + isolated(chart.interval)) +
         (limits ? "; strokes across: limits" : "") +
         (chart.base_words.empty() ? "" : "; " + isolated(chart.base_words));
}

}  // namespace

std::string bar_chart(const BarChart& chart) {
  check(chart);
  const Heading heading{chart.title, chart.subtitle, chart.note};
  const double top = heading_bottom(heading, chart.width);
  const Layout layout = lay_out(chart, top);
  const double height = layout.height + note_height(heading, chart.width);
  Svg svg(chart.width, height, clean(chart.title), described(chart), chart.surroundings);
  draw_heading(heading, svg);
  draw_grid(chart, layout, svg);
  double middle = layout.plot.top + 0.5 * kBarRow;
  for (const Bar& bar : chart.bars) {
    draw_bar(chart, bar, layout, middle, svg);
    middle += kBarRow;
  }
  const std::string title = fitted(axis_title(chart), chart.width - 2.0 * kPageEdge, kBarText, true);
  svg.text({kPageEdge, layout.plot.bottom + 40.0}, title, {kBarText, true});
  draw_note(heading, layout.height, svg);
  return svg.document();
}

}  // namespace tuft::figure
