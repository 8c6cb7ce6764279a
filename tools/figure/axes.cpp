#include "tools/figure/axes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

// Ends closer than this share of their size cannot be told apart on an axis.
constexpr double kClosest = 1e-9;
// A tick counts as lying on an end when it misses it by less than this share of a step.
constexpr double kSlack = 1e-6;

// Numbers beyond these are written with a power of ten.
constexpr double kLargestPlain = 1e7;
constexpr int kMostDecimals = 6;

constexpr double kMinute = 60.0, kHour = 3600.0;

struct Step {
  double size = 1.0;      // in the unit of the values
  double unit = 1.0;      // of the labels, in the unit of the values
  const char* name = "";  // of that unit
};

double decimal_step(double span, int most) {
  const double least = span / (most - 1);
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (factor * power >= least * (1.0 - kSlack)) return factor * power;
  return 10.0 * power;
}

double listed_step(const std::vector<double>& sizes, double span, int most) {
  for (const double size : sizes)
    if (span / size <= most - 1 + kSlack) return size;
  return 0.0;
}

// The unit follows from the span: up to two minutes in seconds, up to three hours in minutes.
Step time_step(double span, int most) {
  if (span <= 2.0 * kMinute) {
    const double listed = listed_step({1, 2, 5, 10, 15, 20, 30, 60}, span, most);
    const double fine = decimal_step(span, most);
    return {span > most - 1 && listed > 0.0 ? listed : fine, 1.0, "s"};
  }
  const bool minutes = span <= 3.0 * kHour;
  const double unit = minutes ? kMinute : kHour;
  const double listed = minutes ? listed_step({0.5, 1, 2, 5, 10, 15, 20, 30, 60}, span / unit, most)
                                : listed_step({0.5, 1, 2, 3, 4, 6, 12, 24, 48, 72, 168}, span / unit, most);
  return {unit * (listed > 0.0 ? listed : decimal_step(span / unit, most)), unit, minutes ? "min" : "h"};
}

Step step_of(AxisKind kind, double span, int most) {
  if (kind == AxisKind::time) return time_step(span, most);
  if (kind == AxisKind::plain) return {decimal_step(span, most), 1.0, ""};
  const double listed = listed_step({1, 2, 5, 10, 15, 30, 45, 90, 180, 360}, span, most);
  return {span > 2.0 && listed > 0.0 ? listed : decimal_step(span, most), 1.0, "°"};
}

// Decimals that a multiple of the step needs: 0.5 needs one, 20 none.
int decimals_of(double step) {
  int decimals = 0;
  for (double rest = step; decimals < 12 && std::abs(rest - std::round(rest)) > kSlack * rest; ++decimals)
    rest *= 10.0;
  return decimals;
}

void check(double low, double high, int most) {
  if (!std::isfinite(low) || !std::isfinite(high) || low > high)
    throw std::invalid_argument(fmt::format("ends of an axis {} .. {}: must be finite and rise", low, high));
  if (most < 2) throw std::invalid_argument(fmt::format("ticks of an axis {}: must be >= 2", most));
}

void move_apart(double& low, double& high) {
  const double size = std::max(std::abs(low), std::abs(high));
  if (high - low > kClosest * size && high - low > std::numeric_limits<double>::min() * 1e16) return;
  const double half = size > 0.0 ? 0.05 * size : 0.5;
  const double middle = 0.5 * low + 0.5 * high;
  low = middle - half;
  high = middle + half;
}

}  // namespace

std::string tick_label(double value, int decimals) {
  const bool plain = std::abs(value) < kLargestPlain && decimals <= kMostDecimals;
  std::string text = plain || value == 0.0 ? fmt::format("{:.{}f}", value, plain ? decimals : 0)
                                           : fmt::format("{:.6g}", value);
  const bool zero = plain && text.find_first_not_of("-0.") == std::string::npos;
  if (zero) text = fmt::format("{:.{}f}", 0.0, decimals);
  return text[0] == '-' ? "\u2212" + text.substr(1) : text;
}

Ticks nice_ticks(AxisKind kind, double low, double high, int most, Ends ends) {
  check(low, high, most);
  move_apart(low, high);
  // Widened ends may each take one more tick.
  const int inner = ends == Ends::widened && most > 3 ? most - 1 : most;
  const Step step = step_of(kind, high - low, inner);
  const double first =
      ends == Ends::widened ? std::floor(low / step.size + kSlack) : std::ceil(low / step.size - kSlack);
  const double last =
      ends == Ends::widened ? std::ceil(high / step.size - kSlack) : std::floor(high / step.size + kSlack);
  Ticks ticks;
  ticks.low = ends == Ends::widened ? first * step.size : low;
  ticks.high = ends == Ends::widened ? last * step.size : high;
  ticks.unit = step.name;
  const int decimals = decimals_of(step.size / step.unit);
  for (double count = first; count <= last + 0.5; count += 1.0) {
    const double value = count * step.size;
    ticks.at.push_back(value + 0.0);
    ticks.labels.push_back(tick_label(value / step.unit, decimals));
  }
  return ticks;
}

Ticks fitting_ticks(AxisKind kind, double low, double high, int most, Ends ends, double width, double size) {
  Ticks ticks = nice_ticks(kind, low, high, most, ends);
  while (most > 2 && widest(ticks.labels, size) + 10.0 > width / static_cast<double>(ticks.at.size()))
    ticks = nice_ticks(kind, low, high, --most, ends);
  return ticks;
}

bool finite(const std::vector<double>& values) {
  return std::all_of(values.begin(), values.end(), [](double value) { return std::isfinite(value); });
}

}  // namespace tuft::figure
