#include "tools/page/sweep_data.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <string>

namespace tuft::page {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kMostShown = 400;  // a chart is at most 1000 px wide: one in 2.5 px
constexpr std::size_t kMostDrawn = 73;   // a turn in steps of five degrees

// What the page's tables, curves and arrows take of a vent (85-condition.js, 87-tilt.js).
constexpr const char* kFields[] = {"role",
                                   "firm",
                                   "passing",
                                   "shut",
                                   "share",
                                   "face_velocity_m_s",
                                   "inflow_kg_s",
                                   "outflow_kg_s",
                                   "temperature_in_K",
                                   "temperature_out_K",
                                   "pressure_Pa"};

bool is_solved(const Json& point) { return point.at("solved").get<bool>(); }

// Whether every vent does at both points the same.
bool alike(const Json& a, const Json& b) {
  if (is_solved(a) != is_solved(b)) return false;
  if (!is_solved(a)) return true;
  const Json &first = a.at("vents"), &second = b.at("vents");
  return std::equal(first.begin(), first.end(), second.begin(), second.end(),
                    [](const Json& x, const Json& y) { return x.at("role") == y.at("role"); });
}

std::vector<char> beside_changes(const Json& points) {
  std::vector<char> beside(points.size(), 0);
  for (std::size_t i = 1; i < points.size(); ++i)
    if (!alike(points[i - 1], points[i])) beside[i - 1] = beside[i] = 1;
  return beside;
}

std::vector<std::size_t> evenly(std::size_t count, std::size_t most, const std::vector<char>& besides) {
  const std::size_t step = std::max<std::size_t>(1, (count + most - 1) / most);
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < count; ++i)
    if (i % step == 0 || i + 1 == count || besides[i] != 0) out.push_back(i);
  return out;
}

Json rounded(const Json& value) {
  if (!value.is_number_float()) return value;
  return std::strtod(fmt::format("{:.8g}", value.get<double>()).c_str(), nullptr);
}

Json carried_point(const Json& point, bool drawn) {
  Json out = {{"angle_deg", point.at("angle_deg")}, {"solved", point.at("solved")}};
  if (!is_solved(point)) {
    out["reason"] = point.value("reason", "");
    return out;
  }
  if (drawn) out["drawn"] = true;
  out["room_density_kg_m3"] = rounded(point.at("room_density_kg_m3"));
  Json& vents = out["vents"] = Json::array();
  for (const Json& vent : point.at("vents")) {
    Json values = Json::array();
    for (const char* field : kFields) values.push_back(vent.contains(field) ? rounded(vent[field]) : Json());
    vents.push_back(std::move(values));
  }
  return out;
}

}  // namespace

CarriedPoints carried_points(const Json& points) {
  const std::vector<char> besides = beside_changes(points);
  CarriedPoints out;
  out.shown = evenly(points.size(), kMostShown, besides);
  std::vector<std::size_t> drawn = evenly(points.size(), kMostDrawn, besides);
  if (drawn.size() > 2 * kMostDrawn)
    drawn = evenly(points.size(), kMostDrawn, std::vector<char>(points.size(), 0));
  // The even ones of the drawn need not be even ones of the shown.
  std::vector<std::size_t> all;
  std::set_union(out.shown.begin(), out.shown.end(), drawn.begin(), drawn.end(), std::back_inserter(all));
  out.shown = std::move(all);
  for (const std::size_t i : drawn)
    if (is_solved(points[i])) out.drawn.push_back(i);
  return out;
}

Json carried_sweep(const Json& sweep, const CarriedPoints& carried) {
  Json out;
  for (const auto& [key, value] : sweep.items())
    if (key != "points") out[key] = value;
  out["of"] = sweep.at("points").size();
  out["fields"] = kFields;
  Json& points = out["points"] = Json::array();
  for (const std::size_t i : carried.shown)
    points.push_back(carried_point(sweep.at("points")[i],
                                   std::binary_search(carried.drawn.begin(), carried.drawn.end(), i)));
  return out;
}

}  // namespace tuft::page
