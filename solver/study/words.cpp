#include "solver/study/words.hpp"

#include <algorithm>
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

std::string litres(double mass_flow, double density) { return digits(1000.0 * mass_flow / density) + " L/s"; }

const char* spoken(geometry::Role role) {
  return role == geometry::Role::both_ways ? "both ways" : geometry::role_word(role);
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

namespace {

constexpr double kCoverChange = 0.05;  // share of the area worth telling (judgement)
constexpr double kGapRatio = 1.5;      // change of the gap worth telling (judgement)
constexpr double kWideGap = 0.02;      // a gap as wide as this is as good as free [m] (judgement)

bool is_free(const VentResult& vent) { return !vent.near_surface || vent.gap >= kWideGap; }

}  // namespace

std::string front_words(const VentResult& vent) {
  if (vent.shut) return "shut";
  std::string text;
  const auto add = [&](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (vent.near_surface)
    add(vent.gap > 0.0 ? digits(1000.0 * vent.gap) + " mm off what it faces"
                       : "pressed against what it faces");
  if (vent.covered > 0.0) add(percent(vent.covered) + " covered");
  if (vent.hidden > 0.0) add(percent(vent.hidden) + " hidden by the lid");
  return text.empty() ? "free" : text;
}

bool front_changes(const VentResult& from, const VentResult& to) {
  if (from.shut != to.shut) return true;
  if (std::abs(from.covered - to.covered) >= kCoverChange) return true;
  if (std::abs(from.hidden - to.hidden) >= kCoverChange) return true;
  if (is_free(from) && is_free(to)) return false;
  if (is_free(from) != is_free(to)) return true;
  return std::max(from.gap, to.gap) > kGapRatio * std::min(from.gap, to.gap);
}

}  // namespace tuft::study
