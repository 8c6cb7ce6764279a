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

constexpr double kWidth = 720.0, kHeight = 640.0;              // [px]
constexpr figure::Box kPlot{80.0, 64.0, 690.0, 560.0};         // [px]
constexpr double kSmallest = 0.01, kLargest = 1000.0;          // ends of both axes

/// Place of a value between two ends in pixels, on the logarithmic axis. Values beyond its ends lie at them.
double place(double value, double from, double to) {
  const double share = std::log(std::clamp(value, kSmallest, kLargest) / kSmallest) / std::log(kLargest / kSmallest);
  return from + share * (to - from);
}

Point point(double measured, double predicted) {
  return {place(measured, kPlot.left, kPlot.right), place(predicted, kPlot.bottom, kPlot.top)};
}

void draw_axes(figure::Svg& svg) {
  for (double tick = kSmallest; tick < 1.5 * kLargest; tick *= 10.0) {
    const Point at = point(tick, tick);
    svg.segments({{at.x, kPlot.top}, {at.x, kPlot.bottom}, {kPlot.left, at.y}, {kPlot.right, at.y}},
                 {Paint::none, Paint::grid});
    const std::string label = fmt::format("{:g}", tick);
    svg.text({at.x, kPlot.bottom + 20.0}, label, {13.0, false, Anchor::middle, Paint::muted});
    svg.text({kPlot.left - 8.0, at.y + 4.0}, label, {13.0, false, Anchor::end, Paint::muted});
  }
  svg.line(point(kSmallest, kSmallest), point(kLargest, kLargest), {Paint::none, Paint::axis, 1.2});
  for (const double factor : {0.8, 1.25})
    svg.line(point(kSmallest, kSmallest * factor), point(kLargest, kLargest * factor),
             {Paint::none, Paint::axis, 0.8, {4.0, 4.0}});
  svg.text({0.5 * (kPlot.left + kPlot.right), kPlot.bottom + 46.0}, "measured, in the unit of its row",
           {13.0, false, Anchor::middle});
  svg.text({kPlot.left - 56.0, kPlot.top - 14.0}, "predicted", {13.0});
}

void draw(const Compared& compared, figure::Svg& svg) {
  const Value& value = compared.value;
  const Point middle = point(value.measured, compared.predicted);
  const Paint paint = value.counts ? Paint::series_1 : Paint::series_2;
  svg.open({{"data-case", value.file}});
  svg.segments({{place(value.low, kPlot.left, kPlot.right), middle.y},
                {place(value.high, kPlot.left, kPlot.right), middle.y},
                {middle.x, place(compared.low, kPlot.bottom, kPlot.top)},
                {middle.x, place(compared.high, kPlot.bottom, kPlot.top)}},
               {Paint::none, paint, 1.4});
  svg.circle(middle, 3.5, {value.counts ? paint : Paint::paper, paint, 1.4});
  svg.close();
}

}  // namespace

std::string scatter(const std::vector<Compared>& values) {
  figure::Svg svg(kWidth, kHeight, "Predicted against measured",
                  "Every value of the table. Bars: range of the measurement, 90 % interval of the prediction.");
  svg.rect({0.0, 0.0, kWidth, kHeight}, {Paint::paper});
  svg.text({24.0, 28.0}, "Measured enclosures: predicted against measured", {16.0, true});
  draw_axes(svg);
  for (const Compared& compared : values) draw(compared, svg);
  svg.text({24.0, kHeight - 14.0},
           "Filled: counts. Open: its trend only. Line: equal; dashed: a fifth less, a quarter more.",
           {12.0, false, Anchor::start, Paint::muted});
  return svg.document();
}

}  // namespace tuft::measured
