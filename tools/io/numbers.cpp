#include "tools/io/numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::io {
namespace {

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

std::string watts(double power) { return significant(power, 3, 2) + " W"; }

std::string closure_text(double rest) {
  constexpr double kClosed = 1e-9;
  return std::abs(rest) < kClosed ? "closed" : fmt::format("open by {:.0e}", std::abs(rest));
}

std::string pressure_number(double pascal, UnitSystem units) {
  return signed_significant(geometry::pressure_unit(units).of(pascal), 3, 4);
}

std::string pressure_text(double pascal, UnitSystem units) {
  return pressure_number(pascal, units) + " " + geometry::pressure_unit(units).name;
}

std::string temperature_number(double kelvin, UnitSystem units) {
  const std::string text = fmt::format("{:.1f}", geometry::temperature_unit(units).of(kelvin));
  return text == "-0.0" ? "0.0" : text;
}

std::string temperature_text(double kelvin, UnitSystem units) {
  return temperature_number(kelvin, units) + " " + geometry::temperature_unit(units).name;
}

std::string whole_temperature(double kelvin, UnitSystem units) {
  return fmt::format("{:.0f}", geometry::temperature_unit(units).of(kelvin) + 0.0);
}

std::string difference_text(double kelvin, UnitSystem units, int digits, int most_decimals) {
  const geometry::ShownUnit unit = geometry::temperature_unit(units);
  return significant(std::abs(unit.of_difference(kelvin)), digits, most_decimals) + " " + unit.name;
}

std::string flow_number(double cubic_metres_per_second, UnitSystem units) {
  return significant(geometry::flow_unit(units).of(cubic_metres_per_second), 3, 6);
}

std::string flow_text(double cubic_metres_per_second, UnitSystem units) {
  return flow_number(cubic_metres_per_second, units) + " " + geometry::flow_unit(units).name;
}

std::string speed_number(double metres_per_second, UnitSystem units, int digits) {
  return significant(geometry::speed_unit(units).of(metres_per_second), digits, 5);
}

std::string speed_text(double metres_per_second, UnitSystem units, int digits) {
  return speed_number(metres_per_second, units, digits) + " " + geometry::speed_unit(units).name;
}

std::string length_number(double metres, UnitSystem units, int digits) {
  std::string text = significant(geometry::length_unit(units).of(metres), digits, 4);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string length_text(double metres, UnitSystem units, int digits) {
  return length_number(metres, units, digits) + " " + geometry::length_unit(units).name;
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
