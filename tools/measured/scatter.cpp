#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/figure/svg.hpp"
#include "tools/measured/tables.hpp"

namespace tuft::measured {
namespace {

using figure::Anchor;
using figure::Paint;
using figure::Point;

constexpr double kWidth = 880.0, kHeight = 520.0;  // [px]

/// One square of the figure: two decades on both axes.
struct Panel {
  double smallest;   ///< the largest is a hundred times that
  figure::Box plot;  ///< [px]

  bool holds(const Compared& compared) const {
    return compared.value.measured >= smallest && compared.value.measured < 100.0 * smallest;
  }
  /// Place of a value between two ends in pixels. Values beyond the ends of the axis lie at them.
  double place(double value, double from, double to) const {
    const double share = 0.5 * std::log10(std::clamp(value / smallest, 1.0, 100.0));
    return from + share * (to - from);
  }
  double across(double measured) const { return place(measured, plot.left, plot.right); }
  double up(double predicted) const { return place(predicted, plot.bottom, plot.top); }
};

const Panel kPanels[] = {{0.01, {70.0, 70.0, 430.0, 430.0}}, {3.0, {500.0, 70.0, 860.0, 430.0}}};

void draw_line(const Panel& panel, double factor, const figure::Look& look, figure::Svg& svg) {
  const double low = panel.smallest * std::max(1.0, 1.0 / factor);
  const double high = 100.0 * panel.smallest * std::min(1.0, 1.0 / factor);
  svg.line({panel.across(low), panel.up(factor * low)}, {panel.across(high), panel.up(factor * high)}, look);
}

void draw_axes(const Panel& panel, figure::Svg& svg) {
  for (const double step : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
    const double tick = step * panel.smallest, x = panel.across(tick), y = panel.up(tick);
    svg.segments({{x, panel.plot.top}, {x, panel.plot.bottom}, {panel.plot.left, y}, {panel.plot.right, y}},
                 {Paint::none, Paint::grid});
    const std::string label = fmt::format("{:g}", tick);
    svg.text({x, panel.plot.bottom + 20.0}, label, {13.0, false, Anchor::middle, Paint::muted});
    svg.text({panel.plot.left - 8.0, y + 4.0}, label, {13.0, false, Anchor::end, Paint::muted});
  }
  draw_line(panel, 1.0, {Paint::none, Paint::axis, 1.2}, svg);
  for (const double factor : {0.8, 1.25})
    draw_line(panel, factor, {Paint::none, Paint::axis, 0.8, {4.0, 4.0}}, svg);
  svg.text({0.5 * (panel.plot.left + panel.plot.right), panel.plot.bottom + 44.0},
           "measured, in the unit of its row", {13.0, false, Anchor::middle});
  svg.text({panel.plot.left, panel.plot.top - 12.0}, "predicted", {13.0});
}

void draw(const Panel& panel, const Compared& compared, figure::Svg& svg) {
  const Value& value = compared.value;
  const Point middle{panel.across(value.measured), panel.up(compared.predicted)};
  const Paint paint = value.counts ? Paint::series_1 : Paint::series_2;
  svg.open({{"data-case", value.file}});
  svg.segments({{panel.across(value.low), middle.y},
                {panel.across(value.high), middle.y},
                {middle.x, panel.up(compared.low)},
                {middle.x, panel.up(compared.high)}},
               {Paint::none, paint, 1.4});
  svg.circle(middle, 3.5, {value.counts ? paint : Paint::paper, paint, 1.4});
  svg.close();
}

}  // namespace

std::string scatter(const std::vector<Compared>& values) {
  figure::Svg svg(
      kWidth, kHeight, "Predicted against measured",
      "Every value of the table. Bars: range of the measurement, 90 % interval of the prediction.");
  svg.rect({0.0, 0.0, kWidth, kHeight}, {Paint::paper});
  svg.text({24.0, 28.0}, "Measured enclosures: predicted against measured", {16.0, true});
  for (const Panel& panel : kPanels) {
    draw_axes(panel, svg);
    for (const Compared& compared : values)
      if (panel.holds(compared)) draw(panel, compared, svg);
  }
  svg.text({24.0, kHeight - 14.0},
           "Filled: counts. Open: its trend only. Line: equal; dashed: a fifth less, a quarter more.",
           {12.0, false, Anchor::start, Paint::muted});
  return svg.document();
}

}  // namespace tuft::measured
