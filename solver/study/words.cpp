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

std::string pascals(double value) {
  constexpr double kLeastShown = 1e-4;  // [Pa]
  if (std::abs(value) < 5e-8) return "0 Pa";
  if (std::abs(value) < kLeastShown) return "less than 0.0001 Pa";
  if (std::abs(value) >= 0.1) return (value > 0.0 ? "+" : "") + digits(value) + " Pa";
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

std::string volume_flow(double mass_flow, double density, UnitSystem units) {
  const geometry::ShownUnit unit = geometry::flow_unit(units);
  return digits(unit.of(mass_flow / density)) + " " + unit.name;
}

std::string speed(double metres_per_second, UnitSystem units) {
  const geometry::ShownUnit unit = geometry::speed_unit(units);
  return digits(unit.of(metres_per_second)) + " " + unit.name;
}

std::string length(double metres, UnitSystem units) {
  const geometry::ShownUnit unit = geometry::length_unit(units);
  char text[32];
  std::snprintf(text, sizeof text, "%.2g ", unit.of(metres));
  return text + std::string(unit.name);
}

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

std::string front_words(const VentResult& vent, UnitSystem units) {
  if (vent.shut) return "shut";
  std::string text;
  const auto add = [&](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (vent.near_surface)
    add(vent.gap > 0.0 ? length(vent.gap, units) + " off what it faces" : "pressed against what it faces");
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
