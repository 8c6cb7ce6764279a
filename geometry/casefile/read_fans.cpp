// Sections fans and fins.
#include <fmt/core.h>

#include "geometry/casefile/field_reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Fan;
using geometry::FanPoint;
using geometry::PlaceKind;

// Keys of what the fins are made of.
constexpr const char* kFinMetalKeys[] = {"fin-thickness", "conductivity", "capacity"};

// --- points of curves and tables -----------------------------------------------------------------

// One end of a point, and what may stand there.
struct PointEnd {
  Dimension dimension;
  double low, high;   // [SI]
  const char* range;  // the same in words
  bool of_curve;
};
constexpr PointEnd kFlow{Dimension::volume_flow, 0.0, 10.0, "0 to 10 m3/s", true};
constexpr PointEnd kPressure{Dimension::pressure, 0.0, 1e5, "0 to 100 kPa", true};
constexpr PointEnd kTemperature{Dimension::temperature, -40 + 273.15, 250 + 273.15, "-40 °C to 250 °C",
                                false};
constexpr PointEnd kSpeed{Dimension::rotation, 0.0, 60000 * (1.0 / 60), "0 rpm to 60000 rpm", false};

// A quantity without spread in its range, or no value (reported).
std::optional<double> read_end(Reader& reader, const Item& point, std::size_t i, const PointEnd& end) {
  const Node& node = point.node->items[i];
  const Item item{&node, fmt::format("{}[{}]", point.path, i), point.pattern, node.spot};
  if (node.kind != Node::Kind::text)
    return reader.error(
        item, fmt::format("expected {}, found {}", dimension_info(end.dimension).article, describe(node)));
  const Quantity read = read_quantity(node.text, end.dimension);
  if (!read.ok()) {
    reader.error(item, read.fault, read.hint);
  } else if (read.value.spread != geometry::SpreadKind::none) {
    if (end.of_curve) {
      reader.error(item, in_quotes(node.text) + " has a spread",
                   "the uncertainty of a curve is known to its class; write the value alone");
    } else {
      reader.error(item, in_quotes(node.text) + " has a spread, which has no meaning here",
                   "write the value alone");
    }
  } else if (end.of_curve && *read.value < 0.0) {
    reader.error(item, in_quotes(node.text) + " is negative");
  } else if (*read.value < end.low || *read.value > end.high) {
    reader.error(item, fmt::format("{} is out of range: {}", in_quotes(node.text), end.range));
  } else {
    return *read.value;
  }
  return std::nullopt;
}

// A point of two quantities; `what` is "[flow, pressure]".
std::optional<std::pair<double, double>> read_point(Reader& reader, const Item& item, const char* what,
                                                    const PointEnd& x, const PointEnd& y) {
  const bool list = item.node->kind == Node::Kind::list;
  if (!list || item.node->items.size() != 2) {
    const bool counted = list && !x.of_curve;
    return reader.error(item, fmt::format("expected a point {}, found {}", what,
                                          counted ? fmt::format("a list of {}", item.node->items.size())
                                                  : describe(*item.node)));
  }
  const auto first = read_end(reader, item, 0, x);
  const auto second = read_end(reader, item, 1, y);
  if (!first || !second) return std::nullopt;
  return std::pair(*first, *second);
}

// --- curve ---------------------------------------------------------------------------------------

// Of a curve and a table: below these there is no fan, and no law between two points.
constexpr double kLeastPressure = 1e-3;   // with the outlet closed [Pa]
constexpr double kLeastFlow = 1e-7;       // of free delivery [m3/s]
constexpr double kLeastFlowStep = 1e-6;   // from point to point, of free delivery
constexpr double kLeastTableStep = 0.05;  // [K]

void check_rising(Reader& reader, const std::vector<Item>& items, const std::vector<FanPoint>& points) {
  if (points.size() != items.size() || points.empty()) return;
  if (points.size() < 2) reader.error(items[0], "a curve needs at least two points");
  if (points[0].flow > 0.0)
    reader.error(items[0], "the first point is not at flow 0",
                 "begin with the pressure of the fan with its outlet closed");
  const double least_step = kLeastFlowStep * points.back().flow;
  bool any_pressure = false;
  for (std::size_t i = 0; i < points.size(); ++i) {
    any_pressure = any_pressure || points[i].pressure > 0.0;
    if (i == 0 || points[i].flow > points[i - 1].flow + least_step) continue;
    reader.error(items[i], "the flow does not rise from the point before", "order the points by their flow");
  }
  if (!any_pressure) {
    reader.error(items[0], "no point of the curve has a pressure above 0");
    return;
  }
  if (points[0].pressure < kLeastPressure)
    reader.error(items[0], "the fan builds no pressure at flow 0",
                 "the first point is the pressure with the outlet closed");
  if (points.size() >= 2 && points.back().flow > 0.0 && points.back().flow < kLeastFlow)
    reader.error(items.back(), "the fan moves no air: less than 0.1 mL/s where nothing is in its way",
                 "the last point is the flow of free delivery");
  if (points.size() >= 2 && points.back().pressure > points[points.size() - 2].pressure - kLeastPressure)
    reader.error(items.back(), "the last point does not lie below the one before it",
                 "at its largest flow a fan's pressure falls; add the point of free delivery");
}

void read_curve(Reader& reader, const Item& item, Fan& fan) {
  if (!reader.check_map(item)) return;
  if (reader.child(item, "speed")) {
    fan.curve_speed = *reader.value(item, "speed");
  } else {
    fan.curve_speed = *fan.speed;
    reader.assume_found(item, "speed", write_quantity(fan.curve_speed, "rpm"));
  }
  fan.curve_density = *reader.value(item, "density");
  const Item list = reader.child(item, "points");
  const std::vector<Item> items = reader.items(list);
  if (list && list.node->kind == Node::Kind::list && list.node->items.empty())
    reader.error(list, "a curve needs at least two points");
  for (const Item& point : items)
    if (const auto read = read_point(reader, point, "[flow, pressure]", kFlow, kPressure))
      fan.curve.push_back({read->first, read->second});
  check_rising(reader, items, fan.curve);
}

// --- speed-control -------------------------------------------------------------------------

struct SpeedPoint {
  Item item;
  double temperature = 0.0;  // [K]
  double speed = 0.0;        // [rev/s]
};

void check_monotone(Reader& reader, const std::vector<SpeedPoint>& points) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Item& item = points[i].item;
    if (points[i].temperature <= points[i - 1].temperature) {
      reader.error(item, "the table is not monotone: the temperature does not rise from the point before",
                   "order the points by their temperature");
    } else if (points[i].temperature < points[i - 1].temperature + kLeastTableStep) {
      reader.error(item, "the temperature rises by less than 0.05 K from the point before",
                   "no sensor is so fine; a fan that switches has a table over a kelvin or more");
    } else if (points[i].speed < points[i - 1].speed) {
      reader.error(item, "the table is not monotone: the speed falls from the point before",
                   "write speeds that rise or stay the same");
    }
  }
}

void read_table(Reader& reader, const Item& item, const geometry::Value& full_speed,
                Fan::SpeedControl& speed_control) {
  const Item list = reader.child(item, "speeds");
  const std::vector<Item> items = reader.items(list);
  if (list && list.node->kind == Node::Kind::list && items.size() < 2 &&
      list.node->items.size() == items.size()) {
    reader.error(list, fmt::format("a table needs at least two points, found {}", items.size()));
  }
  std::vector<SpeedPoint> points;
  for (const Item& one : items)
    if (const auto point = read_point(reader, one, "[temperature, speed]", kTemperature, kSpeed))
      points.push_back({one, point->first, point->second});
  if (points.size() != items.size() || points.empty()) return;
  check_monotone(reader, points);
  for (const SpeedPoint& point : points) {
    speed_control.temperature.push_back(point.temperature);
    speed_control.speed.push_back(point.speed);
  }
  const SpeedPoint& last = points.back();
  if (last.speed <= 0.0) {
    reader.error(last.item, "the fan never turns: no point of the table has a speed above 0");
  } else if (*full_speed > 0.0 && last.speed > 1.05 * *full_speed) {
    reader.warning(last.item, "faster than the fan's full speed of " + write_quantity(*full_speed, "rpm"));
  }
}

std::optional<geometry::Place> read_sensor(Reader& reader, const Item& item) {
  const Item sensor = reader.child(item, "sensor");
  const auto place = reader.place(sensor);
  if (!place || place->kind == PlaceKind::part || has_temperature(reader, place->index)) return place;
  return reader.error(
      sensor, fmt::format("{} only heats air and has no temperature to follow", in_quotes(sensor.node->text)),
      "give the source `joins`, or name another source or a part");
}

void read_speed_control(Reader& reader, const Item& item, Fan& fan) {
  fan.speed_control.given = true;
  if (!reader.check_map(item)) return;
  fan.speed_control.sensor = read_sensor(reader, item).value_or(geometry::Place{});
  // Without a known kind the full speed may be unknown too; then nothing is compared with it.
  read_table(reader, item, fan.speed, fan.speed_control);
  FieldReader(reader, item).rest(fan.speed_control);
}

// --- fans and fins -------------------------------------------------------------------------------

void check_ends(Reader& reader, const Item& item, const Fan& fan) {
  const bool same =
      fan.draws_from.kind == fan.blows_into.kind && fan.draws_from.index == fan.blows_into.index;
  if (!same) return;
  const Item from = reader.child(item, "draws-from");
  const Item into = reader.child(item, "blows-into");
  reader.conflict(into, fmt::format("the fan blows into {}, which it draws from", in_quotes(into.node->text)),
                  from, "drawn from here");
}

}  // namespace

void read_fan(Reader& reader, const Item& item, Fan& fan) {
  if (!reader.check_map(item)) return;
  const std::string kind = reader.word(item, "kind");
  fan.kind = kind == "axial" ? geometry::FanKind::axial : geometry::FanKind::blower;
  const Item curve = reader.child(item, "curve");
  FieldReader fields(reader, item, {kind, curve ? "with a curve" : "without a curve"});
  fields.first(fan, {"diameter", "thickness", "speed"});
  if (curve) read_curve(reader, curve, fan);
  fields.rest(fan);
  if (const Item speed_control = reader.child(item, "speed-control"))
    read_speed_control(reader, speed_control, fan);
  const auto from = reader.place(reader.child(item, "draws-from"));
  const auto into = reader.place(reader.child(item, "blows-into"));
  if (from) fan.draws_from = *from;
  if (into) fan.blows_into = *into;
  if (from && into) check_ends(reader, item, fan);
}

void read_stack(Reader& reader, const Item& item, geometry::FinStack& stack) {
  if (!reader.check_map(item)) return;
  FieldReader fields(reader, item);
  for (const char* key : kFinMetalKeys) fields.skip(key);
  fields.rest(stack);
}

// The metal counts only where a joint leads to the fins, and only then is it worth an assumption.
namespace {

// Of the metal between and under the channels. Copper 8933 kg/m3 by 385 J/(kg K), aluminium 2702 by 903, from
// memory; the conductivity tells which. The base that carries the fins is taken as 1.5 mm thick: judgement.
double capacity_of_metal(const geometry::FinStack& fins) {
  constexpr double kCopper = 3.44e6, kAluminium = 2.44e6;  // [J/m3/K]
  constexpr double kBase = 1.5e-3;                         // [m]
  constexpr double kLeastCopper = 300.0;                   // [W/m/K]
  const double channel = *fins.gap + *fins.fin_thickness;
  const double volume = *fins.count * *fins.length * (*fins.fin_thickness * *fins.height + channel * kBase);
  return volume * (*fins.conductivity > kLeastCopper ? kCopper : kAluminium);
}

void assume_capacity(Reader& reader, const Item& item, geometry::FinStack& fins) {
  const std::string text = fmt::format("{:.2g} J/K */ 2", capacity_of_metal(fins));
  fins.capacity = read_quantity(text, Dimension::capacity).value;
  fins.capacity.origin = geometry::Origin::assumed;
  reader.assume_found(item, "capacity", text);
  reader.add_input(item.path + ".capacity", *find_key("fins.*.capacity"), fins.capacity);
}

}  // namespace

void read_fin_metal(Reader& reader) {
  const Names& names = reader.names["fins"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    const Item& item = names.items[i];
    if (item.node->kind != Node::Kind::map) continue;
    const bool joined = geometry::is_joined(reader.device(), {PlaceKind::fins, static_cast<int>(i)});
    FieldReader fields(reader, item);
    geometry::FinStack& fins = reader.device().fin_stacks[i];
    for (const std::string key : kFinMetalKeys) {
      const bool given = static_cast<bool>(reader.child(item, key));
      if (given || (joined && key != "capacity")) fields.first(fins, {key.c_str()});
    }
    if (joined && !reader.child(item, "capacity")) assume_capacity(reader, item, fins);
  }
}

}  // namespace tuft::casefile
