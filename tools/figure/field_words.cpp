// Checks, range and words of a field map.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "tools/figure/axes.hpp"
#include "tools/figure/field_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

bool rising(const std::vector<double>& lines) {
  const auto falls = [](double a, double b) { return !(a < b); };
  return lines.size() >= 2 && finite(lines) &&
         std::adjacent_find(lines.begin(), lines.end(), falls) == lines.end();
}

bool are_finite(const std::vector<Place>& places) {
  return std::all_of(places.begin(), places.end(),
                     [](const Place& place) { return std::isfinite(place.x) && std::isfinite(place.y); });
}

bool has_value(const FieldMap& map, std::size_t cell) {
  return (map.solid.empty() || !map.solid[cell]) && std::isfinite(map.values[cell]);
}

ColourRange range_of_values(const FieldMap& map) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (std::size_t i = 0; i < map.values.size(); ++i) {
    if (!has_value(map, i)) continue;
    low = std::min(low, map.values[i]);
    high = std::max(high, map.values[i]);
  }
  return low <= high ? ColourRange{low, high} : ColourRange{0.0, 1.0};
}

// " from 21.0 to 60.5": as many decimals as the range is worth.
std::string range_text(const ColourRange& range) {
  const double span = range.high - range.low;
  const int decimals = span > 0.0 ? std::clamp(static_cast<int>(std::ceil(2.0 - std::log10(span))), 0, 4) : 2;
  return fmt::format(" from {:.{}f} to {:.{}f}", range.low + 0.0, decimals, range.high + 0.0, decimals);
}

// "fan's mouth (round), fins": what is outlined.
std::string parts_text(const FieldMap& map) {
  std::string text;
  for (const auto& [kind, words] :
       {std::pair{MapPart::Kind::fan_mouth, "fan's mouth (round)"}, std::pair{MapPart::Kind::fan, "fan"},
        std::pair{MapPart::Kind::fins, "fins"}})
    if (std::any_of(map.parts.begin(), map.parts.end(),
                    [kind = kind](const MapPart& part) { return part.kind == kind; }))
      text += (text.empty() ? "" : ", ") + std::string(words);
  return text;
}

}  // namespace

void check_map(const FieldMap& map) {
  require("field map", rising(map.x) && rising(map.y), "grid lines must rise, at least 2 each way");
  const std::size_t cells = (map.x.size() - 1) * (map.y.size() - 1);
  const bool dots_alone = map.values.empty() && map.low && map.high;
  require("field map", map.values.size() == cells || dots_alone,
          fmt::format("{} values for {} cells", map.values.size(), cells));
  require("field map", map.solid.empty() || map.solid.size() == cells,
          fmt::format("{} solid marks for {} cells", map.solid.size(), cells));
  require("field map", map.width >= 480.0 && map.width <= 8000.0,
          fmt::format("width {} must be 480 .. 8000", map.width));
  const double wide = map.x.back() - map.x.front(), tall = map.y.back() - map.y.front();
  require("field map", wide < 200.0 * tall && tall < 200.0 * wide,
          "the field is too thin to be drawn to scale");
  require("field map", !map.low || std::isfinite(*map.low), "low must be finite");
  require("field map", !map.high || std::isfinite(*map.high), "high must be finite");
  require("field map", !map.low || !map.high || *map.low < *map.high, "low must lie below high");
  for (const auto& line : map.streamlines)
    require("field map", are_finite(line), "streamlines must be finite");
  for (const MapDot& dot : map.dots)
    require("field map", are_finite({dot.at}) && std::isfinite(dot.value) && are_finite(dot.tail),
            "dots must be finite");
  const auto check_box = [](const char* what, const std::string& name, const auto& item) {
    require("field map", are_finite({item.from, item.to}),
            fmt::format("{} '{}' must be finite", what, clean(name)));
  };
  for (const MapPart& part : map.parts) check_box("part", part.name, part);
  for (const MapWord& word : map.words) check_box("word", word.text, word);
  for (const MapVent& vent : map.vents) check_box("vent", vent.name, vent);
}

ColourRange colour_range(const FieldMap& map) {
  ColourRange range = range_of_values(map);
  if (map.low) range = {*map.low, std::max(*map.low, range.high)};
  if (map.high) range = {std::min(*map.high, range.low), *map.high};
  if (map.low) range.low = *map.low;
  return range;
}

std::string map_description(const FieldMap& map) {
  const ColourRange range = map.values.empty() ? colour_range(map) : range_of_values(map);
  const std::string unit = map.unit.empty() ? "" : " " + clean(map.unit);
  std::string text = (map.values.empty() ? fmt::format("{} tracer particles by colour: ", map.dots.size())
                                         : std::string("A map by colour: ")) +
                     isolated(map.quantity) + range_text(range) + unit + ".";
  for (const MapVent& vent : map.vents)
    text += fmt::format(" {}: {}{}.", isolated(vent.name), vent_state_words(vent.vent_state),
                        vent.remark.empty() ? "" : " (" + isolated(vent.remark) + ")");
  return text;
}

std::string vent_label(const MapVent& vent) {
  const std::string name = fitted(isolated(vent.name), kMostName, kVentName, true);
  return vent.remark.empty() ? name : name + " (" + clean(vent.remark) + ")";
}

std::vector<KeyEntry> map_key(const FieldMap& map, double scale) {
  const double bar = round_in(geometry::length_unit(map.units), 140.0 / scale);
  std::vector<KeyEntry> key{{KeyEntry::Sign::scale, length_text(bar, map.units), bar * scale}};
  std::vector<VentState> there;
  for (const MapVent& vent : map.vents) there.push_back(vent.vent_state);
  for (KeyEntry& entry : mark_entries(there)) key.push_back(std::move(entry));
  if (!map.streamlines.empty()) key.push_back({KeyEntry::Sign::arrow_in, "way of the air", 26.0});
  if (!map.dots.empty()) key.push_back({KeyEntry::Sign::line, map.dot_words, 18.0, Paint::text});
  const std::string parts = parts_text(map);
  if (!parts.empty()) key.push_back({KeyEntry::Sign::line, parts, 26.0, Paint::text, {5.0, 3.0}});
  const bool any_solid = std::find(map.solid.begin(), map.solid.end(), true) != map.solid.end();
  if (any_solid) key.push_back({KeyEntry::Sign::block, "solid", 22.0, Paint::solid});
  if (map.gravity) key.push_back(gravity_entry(gravity_words(*map.gravity), *map.gravity));
  return key;
}

}  // namespace tuft::figure
