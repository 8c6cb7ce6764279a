// Sections fans and fins.
#include <fmt/core.h>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Fan;
using geometry::FanKind;
using geometry::FanPoint;
using geometry::FinStack;
using geometry::Place;
using geometry::PlaceKind;
using geometry::Vec3;

std::optional<Place> read_place(Reader& reader, const Item& map, const std::string& key) {
  const Item item = reader.child(map, key);
  if (!item) return std::nullopt;
  const Reader::Found found = reader.reference(item);
  if (found.index < 0) return std::nullopt;
  const PlaceKind kind = found.section == "zones"  ? PlaceKind::zone
                         : found.section == "fins" ? PlaceKind::fins
                                                   : PlaceKind::vent;
  return Place{kind, found.index};
}

// --- curve ---------------------------------------------------------------------------------------

std::optional<FanPoint> read_point(Reader& reader, const Item& item) {
  if (item.node->kind != Node::Kind::list || item.node->items.size() != 2) {
    reader.error(item, fmt::format("expected a point [flow, pressure], found {}", describe(*item.node)));
    return std::nullopt;
  }
  const auto part = [&](std::size_t i, Dimension dimension) -> std::optional<double> {
    const Node& node = item.node->items[i];
    const Item place{&node, fmt::format("{}[{}]", item.path, i), item.pattern, node.spot};
    if (node.kind != Node::Kind::text) {
      reader.error(place,
                   fmt::format("expected {}, found {}", dimension_info(dimension).article, describe(node)));
      return std::nullopt;
    }
    const Quantity read = read_quantity(node.text, dimension);
    if (!read.ok()) {
      reader.error(place, read.fault, read.hint);
    } else if (read.value.spread != geometry::SpreadKind::none) {
      reader.error(place, fmt::format("{} has a spread", in_quotes(node.text)),
                   "the doubt of a curve is known to its class; write the value alone");
    } else if (*read.value < 0.0) {
      reader.error(place, fmt::format("{} is negative", in_quotes(node.text)));
    } else if (*read.value > (i == 0 ? 10.0 : 1e5)) {
      reader.error(place, fmt::format("{} is out of range: 0 to {}", in_quotes(node.text),
                                      i == 0 ? "10 m3/s" : "100 kPa"));
    } else {
      return *read.value;
    }
    return std::nullopt;
  };
  const auto flow = part(0, Dimension::volume_flow);
  const auto pressure = part(1, Dimension::pressure);
  if (!flow || !pressure) return std::nullopt;
  return FanPoint{*flow, *pressure};
}

void check_rising(Reader& reader, const std::vector<Item>& items, const std::vector<FanPoint>& points) {
  if (points.size() != items.size() || points.empty()) return;
  if (points.size() < 2) reader.error(items[0], "a curve needs at least two points");
  if (points[0].flow > 0.0) {
    reader.error(items[0], "the first point is not at flow 0",
                 "begin with the pressure of the fan with its outlet closed");
  }
  bool any_pressure = false;
  for (std::size_t i = 0; i < points.size(); ++i) {
    any_pressure = any_pressure || points[i].pressure > 0.0;
    if (i == 0 || points[i].flow > points[i - 1].flow) continue;
    reader.error(items[i], "the flow does not rise from the point before", "order the points by their flow");
  }
  if (!any_pressure) {
    reader.error(items[0], "no point of the curve has a pressure above 0");
    return;
  }
  if (points[0].pressure <= 0.0)
    reader.error(items[0], "the fan builds no pressure at flow 0",
                 "the first point is the pressure with the outlet closed");
  if (points.size() >= 2 && points.back().pressure >= points[points.size() - 2].pressure)
    reader.error(items.back(), "the last point does not lie below the one before it",
                 "at its largest flow a fan's pressure falls; add the point of free delivery");
}

void read_curve(Reader& reader, const Item& item, Fan& fan) {
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return;
  if (reader.child(item, "speed")) {
    fan.curve_speed = *reader.value(item, "speed");
  } else {
    fan.curve_speed = *fan.speed;
    reader.assume_found(item, "speed", write_quantity(fan.curve_speed, "rpm"));
  }
  fan.curve_density = *reader.value(item, "density");
  const Item list = reader.child(item, "points");
  const std::vector<Item> items = reader.items(list);
  if (list && list.node->kind == Node::Kind::list && list.node->items.empty()) {
    reader.error(list, "a curve needs at least two points");
  }
  for (const Item& point : items) {
    if (const auto read = read_point(reader, point)) fan.curve.push_back(*read);
  }
  check_rising(reader, items, fan.curve);
}

// --- fan -----------------------------------------------------------------------------------------

void check_ends(Reader& reader, const Item& item, const Fan& fan) {
  const bool same =
      fan.draws_from.kind == fan.blows_into.kind && fan.draws_from.index == fan.blows_into.index;
  if (!same) return;
  const Item from = reader.child(item, "draws-from");
  const Item into = reader.child(item, "blows-into");
  reader.report.conflict(
      into.node->spot, into.path,
      fmt::format("the fan blows into {}, which it draws from", in_quotes(into.node->text)), from.node->spot,
      "drawn from here");
}

Fan read_fan(Reader& reader, const Item& item) {
  Fan fan;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return fan;
  const std::string kind = reader.word(item, "kind");
  fan.kind = kind == "axial" ? FanKind::axial : FanKind::blower;
  fan.diameter = reader.value(item, "diameter");
  if (!kind.empty() || reader.child(item, "thickness")) fan.thickness = reader.value(item, "thickness", kind);
  if (!kind.empty() || reader.child(item, "speed")) fan.speed = reader.value(item, "speed", kind);
  const Item curve = reader.child(item, "curve");
  if (curve) read_curve(reader, curve, fan);
  const std::string doubt = curve ? "with a curve" : "without a curve";
  fan.flow_factor = reader.value(item, "flow-factor", doubt);
  fan.pressure_factor = reader.value(item, "pressure-factor", doubt);
  if (const Item follows = reader.child(item, "follows")) {
    // Without a known kind the full speed may be unknown too; then nothing is compared with it.
    fan.follows = read_follows(reader, follows, fan.speed);
  }
  const auto from = read_place(reader, item, "draws-from");
  const auto into = read_place(reader, item, "blows-into");
  if (from) fan.draws_from = *from;
  if (into) fan.blows_into = *into;
  if (from && into) check_ends(reader, item, fan);
  return fan;
}

FinStack read_stack(Reader& reader, const Item& item) {
  FinStack stack;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return stack;
  stack.count = reader.value(item, "channels");
  stack.gap = reader.value(item, "gap");
  stack.height = reader.value(item, "height");
  stack.length = reader.value(item, "length");
  stack.wall_conductance = reader.value(item, "walls");
  if (const Item exit = reader.child(item, "exits-into")) stack.exit_zone = reader.reference(exit).index;
  return stack;
}

}  // namespace

void read_fins(Reader& reader, const Item&) {
  const Names& names = reader.names["fins"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    FinStack stack = read_stack(reader, names.items[i]);
    stack.name = names.all[i];
    reader.device().fin_stacks.push_back(stack);
  }
}

void read_fans(Reader& reader, const Item&) {
  const Names& names = reader.names["fans"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Fan fan = read_fan(reader, names.items[i]);
    fan.name = names.all[i];
    reader.device().fans.push_back(fan);
  }
}

}  // namespace tuft::casefile
