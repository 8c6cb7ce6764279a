#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "tools/figure/line_chart_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

void require_line(bool kept, const std::string& rule) {
  if (!kept) throw std::invalid_argument("line chart: " + rule);
}

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
  require_line(series.x.size() == series.y.size(),
               name + fmt::format("{} x and {} y must be as many", series.x.size(), series.y.size()));
  require_line(finite(series.x) && never_falls(series.x), name + "x must be finite and never fall");
}

void check_band(const Band& band, std::size_t series) {
  const bool one_length = band.x.size() == band.low.size() && band.x.size() == band.high.size();
  require_line(one_length, "band: x, low and high must be as many");
  require_line(finite(band.x) && finite(band.low) && finite(band.high), "band: values must be finite");
  require_line(never_falls(band.x), "band: x must never fall");
  require_line(band.series < series, fmt::format("band: series {} of {}", band.series, series));
  for (std::size_t i = 0; i < band.x.size(); ++i) {
    require_line(band.low[i] <= band.high[i],
                 fmt::format("band: low {} above high {}", band.low[i], band.high[i]));
  }
}

void check_ends(const char* axis, const std::optional<double>& low, const std::optional<double>& high) {
  require_line(!low || std::isfinite(*low), fmt::format("{} axis: low must be finite", axis));
  require_line(!high || std::isfinite(*high), fmt::format("{} axis: high must be finite", axis));
  require_line(!low || !high || *low < *high, fmt::format("{} axis: low must lie below high", axis));
}

void check_panel(const Panel& panel) {
  require_line(std::isfinite(panel.weight) && panel.weight > 0.0,
               fmt::format("weight {} of a panel must be > 0", panel.weight));
  check_ends("vertical", panel.low, panel.high);
  for (const Series& series : panel.series) check_series(series);
  for (const Band& band : panel.bands) check_band(band, panel.series.size());
  for (const Threshold& threshold : panel.thresholds) {
    require_line(std::isfinite(threshold.y), fmt::format("threshold {} must be finite", threshold.y));
  }
}

}  // namespace

void check_chart(const LineChart& chart) {
  require_line(!chart.panels.empty(), "must have a panel");
  for (const double size : {chart.width, chart.height}) {
    require_line(size >= 240.0 && size <= 8000.0, fmt::format("size {} must be 240 .. 8000", size));
  }
  check_ends("horizontal", chart.x_low, chart.x_high);
  for (const Panel& panel : chart.panels) check_panel(panel);
  for (const Event& event : chart.events) {
    require_line(std::isfinite(event.x), fmt::format("event {} must be finite", event.x));
  }
}

}  // namespace tuft::figure
