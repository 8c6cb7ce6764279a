// Checks, range and words of a field map.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

#include "tools/figure/axes.hpp"
#include "tools/figure/field_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::Role;

bool rising(const std::vector<double>& lines) {
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!std::isfinite(lines[i]) || (i > 0 && !(lines[i] > lines[i - 1]))) return false;
  }
  return lines.size() >= 2;
}

bool finite(const Place& place) { return std::isfinite(place.x) && std::isfinite(place.y); }

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

bool some(const FieldMap& map, const Doing& doing) {
  return std::any_of(map.vents.begin(), map.vents.end(), [&](const MapVent& vent) {
    return vent.doing.shut == doing.shut && (doing.shut || vent.doing.role == doing.role);
  });
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
  for (const auto& line : map.streamlines) {
    require("field map", std::all_of(line.begin(), line.end(), finite), "streamlines must be finite");
  }
  for (const MapDot& dot : map.dots)
    require(
        "field map",
        finite(dot.at) && std::isfinite(dot.value) && std::all_of(dot.tail.begin(), dot.tail.end(), finite),
        "dots must be finite");
  for (const MapPart& part : map.parts)
    require("field map", finite(part.from) && finite(part.to),
            fmt::format("part '{}' must be finite", clean(part.name)));
  for (const MapWord& word : map.words)
    require("field map", finite(word.from) && finite(word.to),
            fmt::format("word '{}' must be finite", clean(word.text)));
  for (const MapVent& vent : map.vents) {
    require("field map", finite(vent.from) && finite(vent.to),
            fmt::format("vent '{}' must be finite", clean(vent.name)));
  }
}

ColourRange colour_range(const FieldMap& map) {
  ColourRange range = range_of_values(map);
  if (map.kind == MapKind::diverging && !map.low && !map.high) {
    const double size = std::max(std::abs(range.low), std::abs(range.high));
    range = {-size, size};
  }
  if (map.low) range = {*map.low, std::max(*map.low, range.high)};
  if (map.high) range = {std::min(*map.high, range.low), *map.high};
  if (map.low) range.low = *map.low;
  return range;
}

std::string quantity_text(const FieldMap& map) {
  return isolated(map.quantity) + (map.unit.empty() ? "" : " [" + clean(map.unit) + "]");
}

std::string map_description(const FieldMap& map) {
  if (!map.description.empty()) return clean(map.description);
  const ColourRange range = map.values.empty() ? colour_range(map) : range_of_values(map);
  const std::string unit = map.unit.empty() ? "" : " " + clean(map.unit);
  std::string text = (map.values.empty() ? fmt::format("{} points of air by colour: ", map.dots.size())
                                         : std::string("A map by colour: ")) +
                     isolated(map.quantity) + range_text(range) + unit + ".";
  for (const MapVent& vent : map.vents) {
    text += fmt::format(" {}: {}.", isolated(vent.name), doing_words(vent.doing));
  }
  return text;
}

std::vector<KeyEntry> map_key(const FieldMap& map, double scale) {
  std::vector<KeyEntry> key;
  const double bar = round_length(140.0 / scale);
  key.push_back({KeyEntry::Sign::scale, length_text(bar), bar * scale});
  for (const Doing& doing :
       {Doing{Role::intake, false}, Doing{Role::exhaust, false}, Doing{Role::both_ways, false},
        Doing{Role::idle, false}, Doing{Role::idle, true}}) {
    if (some(map, doing)) key.push_back({KeyEntry::Sign::mark, doing_words(doing), 18.0, doing});
  }
  if (!map.streamlines.empty()) key.push_back({KeyEntry::Sign::arrow_in, "way of the air", 26.0});
  if (!map.dots.empty()) key.push_back({KeyEntry::Sign::line, map.dot_words, 18.0, {}, {}, Paint::text});
  const std::string parts = parts_text(map);
  if (!parts.empty()) key.push_back({KeyEntry::Sign::line, parts, 26.0, {}, {}, Paint::text, {5.0, 3.0}});
  const bool any_solid = std::find(map.solid.begin(), map.solid.end(), true) != map.solid.end();
  if (any_solid) key.push_back({KeyEntry::Sign::block, "solid", 22.0, {}, {}, Paint::solid});
  if (map.gravity)
    key.push_back({KeyEntry::Sign::gravity, gravity_words(*map.gravity), 18.0, {}, *map.gravity});
  return key;
}

}  // namespace tuft::figure
