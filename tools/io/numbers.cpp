#include "tools/io/numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::io {
namespace {

using numerics::kZeroCelsius;
constexpr double kSmallFlow = 1e-4;     // [m3/s], below it millilitres are easier to read
constexpr double kSmallPressure = 0.1;  // [Pa], below it millipascals are easier to read
constexpr double kDegreesPerRadian = 180.0 / numerics::kPi;

// Power of ten of the first digit after rounding to `digits`: 9.996 with three digits is 10.0, not 9.996.
int leading_power(double value, int digits) {
  const std::string scientific = fmt::format("{:.{}e}", value, digits - 1);
  return std::stoi(scientific.substr(scientific.find('e') + 1));
}

bool is_zero_text(const std::string& text) { return text.find_first_not_of("-0.") == std::string::npos; }

constexpr double kRoundOff = 1e-9;  // [%], so that 0.57 is 57 % and not 56 %

int percent_down(double share) { return static_cast<int>(std::floor(100.0 * share + kRoundOff)); }
int percent_up(double share) { return static_cast<int>(std::ceil(100.0 * share - kRoundOff)); }

std::string percent_of(int number) { return std::to_string(number) + " %"; }
std::string at_least(double share) { return "at least " + percent_of(std::min(percent_down(share), 99)); }
std::string at_most(double share) { return "at most " + percent_of(std::max(percent_up(share), 1)); }

bool is_certain(const uncertainty::Probability& probability) {
  return probability.interval.low == probability.interval.high &&
         (probability.value >= 1.0 || probability.value <= 0.0);
}

}  // namespace

std::string significant(double value, int digits, int most_decimals) {
  if (value == 0.0) return "0";
  if (!std::isfinite(value)) return fmt::format("{}", value);
  const int decimals = std::clamp(digits - 1 - leading_power(value, digits), 0, most_decimals);
  const std::string text = fmt::format("{:.{}f}", value, decimals);
  return is_zero_text(text) ? "0" : text;
}

std::string signed_significant(double value, int digits, int most_decimals) {
  const std::string text = significant(value, digits, most_decimals);
  return text == "0" || text[0] == '-' ? text : "+" + text;
}

std::vector<std::string> align_points(const std::vector<std::string>& numbers) {
  const auto tail = [](const std::string& number) {
    const std::size_t point = number.find('.');
    return point == std::string::npos ? std::size_t{0} : number.size() - point;
  };
  std::size_t longest = 0;
  for (const std::string& number : numbers) longest = std::max(longest, tail(number));
  std::vector<std::string> result;
  int width = 0;
  for (const std::string& number : numbers) {
    result.push_back(number + std::string(longest - tail(number), ' '));
    width = std::max(width, display_width(result.back()));
  }
  for (std::string& number : result) number = pad_left(number, width);
  return result;
}

ShownUnit pressure_unit(double largest) {
  return std::abs(largest) < kSmallPressure ? ShownUnit{"mPa", 1e3} : ShownUnit{"Pa", 1.0};
}

ShownUnit flow_unit(double largest) {
  return largest < kSmallFlow ? ShownUnit{"mL/s", 1e6} : ShownUnit{"L/s", 1e3};
}

std::string watts(double power) { return significant(power, 3, 2) + " W"; }

std::string closure_text(double rest) {
  constexpr double kClosed = 1e-9;
  return std::abs(rest) < kClosed ? "closed" : fmt::format("open by {:.0e}", std::abs(rest));
}

std::string pressure_text(double pascal) {
  const bool small = std::abs(pascal) < kSmallPressure && significant(pascal, 3) != "0";
  return signed_significant(small ? 1000.0 * pascal : pascal, 3, small ? 1 : 2) + (small ? " mPa" : " Pa");
}

std::string celsius(double kelvin) {
  const std::string text = fmt::format("{:.1f}", kelvin - kZeroCelsius);
  return text == "-0.0" ? "0.0" : text;
}

std::string temperature_text(double kelvin) { return celsius(kelvin) + " °C"; }

std::string whole_celsius(double kelvin) { return fmt::format("{:.0f}", kelvin - kZeroCelsius + 0.0); }

std::string flow_text(double cubic_metres_per_second) {
  const ShownUnit unit = flow_unit(std::abs(cubic_metres_per_second));
  const std::string number = significant(unit.per_si * cubic_metres_per_second, 3, 3);
  return number == "0" ? "0 L/s" : number + " " + unit.name;
}

std::string percent_text(double share) {
  const double percent = 100.0 * share;
  return significant(percent, percent < 10.0 ? 2 : 3, 1) + " %";
}

double clean_degrees(double radians) {
  const double degrees = radians * kDegreesPerRadian;
  return std::round(degrees * 1e9) / 1e9 + 0.0;
}

std::string degrees_text(double radians) {
  const double tenths = std::round(10.0 * clean_degrees(radians));
  const bool whole = std::fmod(tenths, 10.0) == 0.0;
  return fmt::format("{:.{}f}°", tenths / 10.0 + 0.0, whole ? 0 : 1);
}

int whole_percent(double probability) {
  return probability > 0.5 ? std::min(percent_down(probability), 99) : std::max(percent_up(probability), 1);
}

std::string probability_text(double probability) {
  if (probability >= 1.0) return at_least(probability);
  if (probability <= 0.0) return at_most(probability);
  return percent_of(whole_percent(probability));
}

std::string probability_text(const uncertainty::Probability& probability) {
  if (is_certain(probability)) return probability.value >= 1.0 ? "sure as described" : "never as described";
  if (probability.value >= 1.0) return at_least(probability.interval.low);
  if (probability.value <= 0.0) return at_most(probability.interval.high);
  return probability_text(probability.value);
}

std::string interval_text(const uncertainty::Interval& interval) {
  const int low = percent_down(interval.low), high = percent_up(interval.high);
  if (high >= 100) return low <= 0 ? "anything" : at_least(interval.low);
  if (low <= 0) return at_most(interval.high);
  return std::to_string(low) + " to " + percent_of(high);
}

std::string probability_with_interval(const uncertainty::Probability& probability) {
  const std::string value = probability_text(probability);
  if (probability.value >= 1.0 || probability.value <= 0.0) return value;
  // "99 % (at least 99 %)" says one thing twice.
  const std::string interval = interval_text(probability.interval);
  if (interval == "at least " + value || interval == "at most " + value) return interval;
  return value + " (" + interval + ")";
}

std::string duration_text(double seconds) {
  if (seconds < 1.0) return "under 1 s";
  if (seconds < 90.0) return significant(seconds, 2, 0) + " s";
  if (seconds < 5400.0) return significant(seconds / 60.0, 2, 0) + " min";
  return significant(seconds / 3600.0, 2, 0) + " h";
}

std::string elapsed_text(double seconds) {
  const long long whole = std::llround(std::max(seconds, 0.0));
  if (whole < 100) return fmt::format("{} s", whole);
  if (whole < 3600) return fmt::format("{} min {} s", whole / 60, whole % 60);
  const long long minutes = std::llround(seconds / 60.0);
  return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

}  // namespace tuft::io
