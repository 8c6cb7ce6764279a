#include "tools/io/table.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

constexpr int kLongestVentName = 24;

std::string axis_text(const geometry::Vec3& axis) {
  if (axis == geometry::Vec3::UnitX()) return "x";
  if (axis == geometry::Vec3::UnitY()) return "y";
  if (axis == geometry::Vec3::UnitZ()) return "z";
  return fmt::format("[{}, {}, {}]", significant(axis.x(), 3), significant(axis.y(), 3),
                     significant(axis.z(), 3));
}

// What one vent does at one point of the sweep: its role, or that there is no solution.
std::string state_at(const study::SweepPoint& point, std::size_t vent) {
  if (!point.result.report.converged || vent >= point.result.vents.size()) return "no solution";
  return role_text(point.result.vents[vent].role);
}

bool passes_at(const study::SweepPoint& point, std::size_t vent) {
  return point.result.report.converged && vent < point.result.vents.size() &&
         point.result.vents[vent].passing;
}

// "intake 0°..75°, idle 90° (passing), exhaust 91°..360°"
std::string ranges(const study::SweepResult& sweep, std::size_t vent) {
  std::vector<std::string> parts;
  for (std::size_t first = 0; first < sweep.points.size();) {
    const std::string state = state_at(sweep.points[first], vent);
    std::size_t last = first;
    while (last + 1 < sweep.points.size() && state_at(sweep.points[last + 1], vent) == state) ++last;
    std::string part = state + " " + degrees_text(sweep.points[first].angle);
    if (last > first) part += ".." + degrees_text(sweep.points[last].angle);
    if (passes_at(sweep.points[first], vent)) part += " (passing)";
    parts.push_back(part);
    first = last + 1;
  }
  return joined(parts, ", ");
}

// "intake, exhaust from 105°, idle from 120°", of many the first alone; empty: the same at every angle.
std::string changes(const study::SweepResult& sweep, std::size_t vent) {
  constexpr std::size_t kMostChanges = 2;
  std::vector<std::string> parts;
  for (std::size_t i = 1; i < sweep.points.size(); ++i) {
    const std::string state = state_at(sweep.points[i], vent);
    if (state == state_at(sweep.points[i - 1], vent)) continue;
    parts.push_back(state + (passes_at(sweep.points[i], vent) ? " in passing" : "") + " from " +
                    degrees_text(sweep.points[i].angle));
  }
  if (parts.size() > kMostChanges) {
    const std::string more = counted(parts.size() - 1, "more change");
    parts = {parts.front(), more};
  }
  if (parts.empty()) return "";
  return state_at(sweep.points.front(), vent) + ", " + joined(parts, ", ");
}

}  // namespace

std::string sweep_sentence(const geometry::Case& content, const geometry::Sweep& sweep,
                           const study::SweepResult& result) {
  std::vector<std::string> parts;
  for (std::size_t v = 0; v < content.device.vents.size(); ++v) {
    if (content.device.vents[v].is_leak) continue;
    const std::string words = changes(result, v);
    if (!words.empty()) parts.push_back(shown_vent(content, v) + " " + words);
  }
  const auto& condition = at(content.conditions, sweep.condition);
  return fmt::format("Sweep {}, {} turned about {} to {}: {}.", study::quoted(printable(sweep.name)),
                     study::quoted(printable(condition.name)), axis_text(sweep.axis), degrees_text(sweep.to),
                     parts.empty() ? "no vent changes its role" : joined(parts));
}

std::string sweep_text(const geometry::Case& content, const geometry::Sweep& sweep,
                       const study::SweepResult& result, const Look& look) {
  const std::string name = printable(result.name);
  std::string text = inked(name, Ink::strong, look);
  text += fmt::format(": turned about {} from lying flat, {}\n", axis_text(sweep.axis),
                      counted(result.points.size(), "angle"));
  const auto& vents = content.device.vents;
  int width = 0;
  for (const auto& vent : vents)
    if (!vent.is_leak)
      width = std::max(width, display_width(shortened(printable(vent.name), kLongestVentName)));
  for (std::size_t i = 0; i < vents.size(); ++i) {
    if (vents[i].is_leak) continue;
    const std::string label =
        "  " + pad_right(shortened(printable(vents[i].name), kLongestVentName), width) + "  ";
    text += fill(label, ranges(result, i), look);
  }
  return text;
}

}  // namespace tuft::io
