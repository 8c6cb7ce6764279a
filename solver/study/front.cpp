#include "solver/study/front.hpp"

#include <algorithm>
#include <cmath>

#include "solver/study/words.hpp"

namespace tuft::study {
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
  if (vent.covered > 0.0) add(percent(vent.covered) + " of it covered");
  if (vent.hidden > 0.0) add(percent(vent.hidden) + " of it hidden by the lid");
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
