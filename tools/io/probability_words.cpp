#include "tools/io/probability_words.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::output {
namespace {

constexpr double kRoundOff = 1e-9;  // [%], so that 0.57 is 57 % and not 56 %

int percent_down(double share) { return static_cast<int>(std::floor(100.0 * share + kRoundOff)); }
int percent_up(double share) { return static_cast<int>(std::ceil(100.0 * share - kRoundOff)); }

std::string percent_of(int number) { return std::to_string(number) + " %"; }
std::string at_least(double share) { return "at least " + percent_of(std::min(percent_down(share), 99)); }
std::string at_most(double share) { return "at most " + percent_of(std::max(percent_up(share), 1)); }

bool is_certain(const doubt::Probability& probability) {
  return probability.interval.low == probability.interval.high &&
         (probability.value >= 1.0 || probability.value <= 0.0);
}

}  // namespace

int whole_percent(double probability) {
  return probability > 0.5 ? std::min(percent_down(probability), 99) : std::max(percent_up(probability), 1);
}

std::string probability_text(double probability) {
  if (probability >= 1.0) return at_least(probability);
  if (probability <= 0.0) return at_most(probability);
  return percent_of(whole_percent(probability));
}

std::string probability_text(const doubt::Probability& probability) {
  if (is_certain(probability)) return probability.value >= 1.0 ? "sure as described" : "never as described";
  if (probability.value >= 1.0) return at_least(probability.interval.low);
  if (probability.value <= 0.0) return at_most(probability.interval.high);
  return probability_text(probability.value);
}

std::string interval_text(const doubt::Interval& interval) {
  const int low = percent_down(interval.low), high = percent_up(interval.high);
  if (high >= 100) return low <= 0 ? "anything" : at_least(interval.low);
  if (low <= 0) return at_most(interval.high);
  return std::to_string(low) + " to " + percent_of(high);
}

std::string probability_with_interval(const doubt::Probability& probability) {
  const std::string value = probability_text(probability);
  if (probability.value >= 1.0 || probability.value <= 0.0) return value;
  // "99 % (at least 99 %)" says one thing twice.
  const std::string interval = interval_text(probability.interval);
  if (interval == "at least " + value || interval == "at most " + value) return interval;
  return value + " (" + interval + ")";
}

}  // namespace tuft::output
