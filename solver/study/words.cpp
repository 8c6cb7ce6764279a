#include "solver/study/words.hpp"

#include <cmath>
#include <cstdio>

namespace tuft::study {

std::string digits(double value) {
  if (std::abs(value) < 1e-9) return "0";
  const int before = static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
  const int decimals = before >= 3 ? 0 : 3 - before;
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals > 9 ? 9 : decimals, value);
  return text;
}

std::string pascals(double value) { return pascals(value, value); }

std::string pascals(double value, double largest) {
  constexpr double kSmall = 0.01;       // [Pa], below it millipascals are easier to read
  constexpr double kLeastShown = 1e-4;  // [Pa], beside pressures that are shown in pascals
  if (std::abs(value) < 5e-8) return "0 Pa";
  const std::string sign = value > 0.0 ? "+" : "";
  if (std::abs(largest) < kSmall) return sign + digits(1000.0 * value) + " mPa";
  if (std::abs(value) >= kSmall) return sign + digits(value) + " Pa";
  if (std::abs(value) < kLeastShown) return "less than 0.0001 Pa";
  char text[32];
  std::snprintf(text, sizeof text, "%+.4f Pa", value);
  return text;
}

std::string percent(double share) {
  char text[32];
  const double value = 100.0 * share;
  std::snprintf(text, sizeof text, value < 9.95 ? "%.1f %%" : "%.0f %%", value);
  return text;
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " and " : ", ";
    text += words[i];
  }
  return text;
}

std::string quoted(const std::string& name) { return "\"" + name + "\""; }

}  // namespace tuft::study
