// What a fan's speed follows: a sensor and a table.
#include <fmt/core.h>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Fan;
using geometry::Place;
using geometry::PlaceKind;

struct SpeedPoint {
  Item item;
  double temperature = 0.0;  // [K]
  double speed = 0.0;        // [rev/s]
};

// One end of a point: a quantity without spread in its range, or no value (reported).
std::optional<double> read_part(Reader& reader, const Item& point, std::size_t i, Dimension dimension,
                                const char* low, const char* high) {
  const Node& node = point.node->items[i];
  const Item item{&node, fmt::format("{}[{}]", point.path, i), point.pattern, node.spot};
  if (node.kind != Node::Kind::text) {
    reader.error(item,
                 fmt::format("expected {}, found {}", dimension_info(dimension).article, describe(node)));
    return std::nullopt;
  }
  const Quantity read = read_quantity(node.text, dimension);
  if (!read.ok()) {
    reader.error(item, read.fault, read.hint);
  } else if (read.value.spread != geometry::SpreadKind::none) {
    reader.error(item, fmt::format("{} has a spread, which has no meaning here", in_quotes(node.text)),
                 "write the value alone");
  } else if (*read.value < *read_quantity(low, dimension).value ||
             *read.value > *read_quantity(high, dimension).value) {
    reader.error(item, fmt::format("{} is out of range: {} to {}", in_quotes(node.text), low, high));
  } else {
    return *read.value;
  }
  return std::nullopt;
}

std::optional<SpeedPoint> read_speed_point(Reader& reader, const Item& item) {
  if (item.node->kind != Node::Kind::list || item.node->items.size() != 2) {
    const bool list = item.node->kind == Node::Kind::list;
    reader.error(item, fmt::format("expected a point [temperature, speed], found {}",
                                   list ? fmt::format("a list of {}", item.node->items.size())
                                        : describe(*item.node)));
    return std::nullopt;
  }
  const auto temperature = read_part(reader, item, 0, Dimension::temperature, "-40 °C", "250 °C");
  const auto speed = read_part(reader, item, 1, Dimension::rotation, "0 rpm", "60000 rpm");
  if (!temperature || !speed) return std::nullopt;
  return SpeedPoint{item, *temperature, *speed};
}

void check_monotone(Reader& reader, const std::vector<SpeedPoint>& points) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Item& item = points[i].item;
    if (points[i].temperature <= points[i - 1].temperature) {
      reader.error(item, "the table is not monotone: the temperature does not rise from the point before",
                   "order the points by their temperature");
    } else if (points[i].speed < points[i - 1].speed) {
      reader.error(item, "the table is not monotone: the speed falls from the point before",
                   "write speeds that rise or stay the same");
    }
  }
}

void read_table(Reader& reader, const Item& item, const geometry::Value& full_speed, Fan::Follows& follows) {
  const Item list = reader.child(item, "speeds");
  const std::vector<Item> items = reader.items(list);
  if (list && list.node->kind == Node::Kind::list && items.size() < 2 &&
      list.node->items.size() == items.size()) {
    reader.error(list, fmt::format("a table needs at least two points, found {}", items.size()));
  }
  std::vector<SpeedPoint> points;
  for (const Item& one : items) {
    if (const auto point = read_speed_point(reader, one)) points.push_back(*point);
  }
  if (points.size() != items.size() || points.empty()) return;
  check_monotone(reader, points);
  for (const SpeedPoint& point : points) {
    follows.temperature.push_back(point.temperature);
    follows.speed.push_back(point.speed);
  }
  const SpeedPoint& last = points.back();
  if (last.speed <= 0.0) {
    reader.error(last.item, "the fan never turns: no point of the table has a speed above 0");
  } else if (*full_speed > 0.0 && last.speed > 1.05 * *full_speed) {
    reader.report.warning(last.item.node->spot, last.item.path,
                          "faster than the fan's full speed of " + write_quantity(*full_speed, "rpm"));
  }
}

std::optional<Place> read_sensor(Reader& reader, const Item& item) {
  const Item sensor = reader.child(item, "sensor");
  if (!sensor) return std::nullopt;
  const Reader::Found found = reader.reference(sensor);
  if (found.index < 0) return std::nullopt;
  if (found.section == "parts") return Place{PlaceKind::part, found.index};
  if (!has_temperature(reader, found.index)) {
    reader.error(
        sensor,
        fmt::format("{} only heats air and has no temperature to follow", in_quotes(sensor.node->text)),
        "give the source `joins`, or name another source or a part");
    return std::nullopt;
  }
  return Place{PlaceKind::source, found.index};
}

}  // namespace

Fan::Follows read_follows(Reader& reader, const Item& item, const geometry::Value& full_speed) {
  Fan::Follows follows;
  follows.given = true;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return follows;
  if (const auto sensor = read_sensor(reader, item)) follows.sensor = *sensor;
  read_table(reader, item, full_speed, follows);
  follows.hysteresis = reader.value(item, "hysteresis");
  return follows;
}

}  // namespace tuft::casefile
