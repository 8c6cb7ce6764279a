#include "tools/io/field_figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/device/raster.hpp"
#include "geometry/device/unplaced.hpp"
#include "tools/figure/view.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

using geometry::Face;
using geometry::Vec3;

constexpr double kLinesAcross = 34.0;  // places for streamlines along the longer side of a map

bool is_gap(const flow2d::LayerFields& layer) { return layer.name.rfind("gap-", 0) == 0; }

// Whether a vent opens into a layer.
bool opens_into(const FieldRun& field, int vent, int layer) {
  const flow2d::LayerFields& fields = at(field.plan.layers, layer);
  const geometry::Vent& opening = at(field.run.content.device.vents, vent);
  if (is_gap(fields)) return fields.name == std::string("gap-") + geometry::face_word(opening.face);
  const auto& cells = at(field.plan.vents, vent).cells;
  return cells.empty() ? layer == 0 : cells.front().layer == layer;
}

// A vent as the map has it: base and top as rectangles, the others as stretches of the outline.
figure::MapVent map_vent(const FieldRun& field, int vent) {
  const geometry::Device& device = field.run.content.device;
  const geometry::Vent& opening = at(device.vents, vent);
  const study::VentComparison& row = at(field.comparison.vents, vent);
  const bool is_area = opening.face == Face::base || opening.face == Face::top;
  Vec3 half, up, centre = opening.centre;
  geometry::face_axes(opening.face, half, up);
  const Eigen::Vector2d size = geometry::extents_on_face(opening);
  half *= 0.5 * size.x();
  if (is_area) half += 0.5 * size.y() * up;
  if (opening.face == Face::hinge) centre.y() = device.size.y();
  const Vec3 from = centre - half, to = centre + half;
  figure::MapVent mark = map_mark(field, static_cast<std::size_t>(vent), row.shut);
  mark.from = {from.x(), from.y()};
  mark.to = {to.x(), to.y()};
  mark.is_area = is_area;
  return mark;
}

// A fan whose axis is upright by its mouth, around the middle of its cells; another as it stands there.
figure::MapPart fan_part(const geometry::Fan& fan, const geometry::Device& device, const figure::Place& at) {
  const Vec3 axis = geometry::fan_axis(fan, device);
  const double half = 0.5 * *fan.diameter;
  if (axis.z() > 0.9)
    return {
        fan.name, {at.x - half, at.y - half}, {at.x + half, at.y + half}, figure::MapPart::Kind::fan_mouth};
  const Vec3 size = Vec3::Constant(half) + axis * (0.5 * *fan.thickness - half);
  return {fan.name,
          {fan.centre.x() - size.x(), fan.centre.y() - size.y()},
          {fan.centre.x() + size.x(), fan.centre.y() + size.y()},
          figure::MapPart::Kind::fan};
}

// Fans and fins of the inside: a mouth as a disc of the fan's own size, a stack as its cells.
std::vector<figure::MapPart> parts_of(const FieldRun& field, int layer) {
  const geometry::Device& device = field.run.content.device;
  const flow2d::LayerFields& fields = at(field.plan.layers, layer);
  std::vector<figure::MapPart> parts;
  if (is_gap(fields)) return parts;
  const geometry::Raster raster = geometry::rasterise(device, field.cell);
  for (std::size_t f = 0; f < raster.fan_inlets.size(); ++f) {
    for (const auto* cells : {&raster.fan_inlets[f], &raster.fan_outlets[f]}) {
      const bool axial = device.fans[f].kind == geometry::FanKind::axial;
      const bool inlet = cells == &raster.fan_inlets[f];
      if (cells->empty() || (!axial && !inlet) || cells->front().storey != layer) continue;
      double x = 0.0, y = 0.0;
      for (const geometry::CellShare& share : *cells) {
        x += share.share * raster.x(share.i);
        y += share.share * raster.y(share.j);
      }
      parts.push_back(fan_part(device.fans[f], device, {x, y}));
    }
  }
  for (std::size_t f = 0; f < raster.fins.size(); ++f) {
    const geometry::FinBlock& block = raster.fins[f];
    if (block.storey != layer) continue;
    parts.push_back({device.fin_stacks[f].name,
                     {block.i0 * raster.dx, block.j0 * raster.dy},
                     {block.i1 * raster.dx, block.j1 * raster.dy},
                     figure::MapPart::Kind::fins});
  }
  return parts;
}

// Air that converges at a fan of which nobody said where it is shows nothing.
std::string unplaced_words(const geometry::Device& device) {
  const std::vector<std::string> unplaced = geometry::unplaced_things(device);
  return unplaced.empty() ? "" : " Place not given: " + listed(unplaced) + ".";
}

std::string layer_words(const flow2d::LayerFields& layer) {
  if (layer.name == "gap-base") return "the gap under the base";
  if (layer.name == "gap-top") return "the gap over the top";
  if (layer.name == "inside") return "the air inside";
  return "the air inside, storey " + layer.name.substr(layer.name.find('-') + 1);
}

std::vector<double> values_of(const flow2d::LayerFields& layer, MapQuantity quantity,
                              const geometry::ShownUnit& unit) {
  std::vector<double> values;
  for (std::size_t k = 0; k < layer.u.size(); ++k)
    values.push_back(unit.of(quantity == MapQuantity::temperature ? layer.temperature[k]
                                                                  : std::hypot(layer.u[k], layer.v[k])));
  return values;
}

// Fins are narrow and their air is fast; they would leave no colours for the rooms. Where they are faster by
// half, colours end at the fastest air outside of them, and a remark says how fast theirs is.
std::string end_at_the_rooms(const FieldRun& field, const flow2d::LayerFields& layer, figure::FieldMap& map) {
  const auto zones = static_cast<int>(field.run.content.device.zones.size());
  double rooms = 0.0, fins = 0.0;
  for (std::size_t k = 0; k < map.values.size(); ++k) {
    if (layer.solid[k] != 0) continue;
    double& fastest = layer.part[k] >= zones ? fins : rooms;
    fastest = std::max(fastest, map.values[k]);
  }
  if (is_gap(layer) || !(rooms > 0.0) || fins < 1.5 * rooms) return "";
  map.low = 0.0;
  map.high = rooms;
  return "; in the fins up to " + significant(fins, 2, 2) + " " + map.unit + ", beyond the colours";
}

}  // namespace

std::vector<figure::VentFlow> vent_flows(const study::ConditionResult& result) {
  std::vector<figure::VentFlow> flows;
  for (const study::VentResult& vent : result.vents)
    flows.push_back({vent.role, vent.shut, vent.firm, room_volume_flow(vent.inflow, result),
                     room_volume_flow(vent.outflow, result), vent.share, vent.temperature_out});
  return flows;
}

figure::MapVent map_mark(const FieldRun& field, std::size_t vent, bool shut) {
  figure::MapVent mark;
  mark.name = field.run.content.device.vents[vent].name;
  mark.vent_state = {shown_role(field, vent), shut};
  if (!shut && !field.comparison.vents.empty() && field.comparison.vents[vent].roles_differ)
    mark.remark = "network: " + role_text(field.comparison.vents[vent].network.role);
  return mark;
}

geometry::ShownUnit map_unit(const FieldRun& field, MapQuantity quantity) {
  const UnitSystem units = field.run.content.units;
  return quantity == MapQuantity::temperature ? geometry::temperature_unit(units)
                                              : geometry::speed_unit(units);
}

const char* map_word(MapQuantity quantity) {
  return quantity == MapQuantity::temperature ? "temperature" : "speed";
}

figure::FieldMap blank_map(const FieldRun& field, MapQuantity quantity, const std::string& where,
                           const std::string& seen) {
  const bool warm = quantity == MapQuantity::temperature;
  figure::FieldMap map;
  map.title = field.run.content.device.name + ", " + network_result(field).name + ": " + where;
  map.subtitle = seen + "; " + circumstances(field.run.content, condition_of(field)) + ", " +
                 significant(network_result(field).power, 3, 1) + " W";
  map.quantity = warm ? "Air temperature" : "Air speed";
  map.units = field.run.content.units;
  map.unit = map_unit(field, quantity).name;
  map.kind = warm ? figure::MapKind::warm : figure::MapKind::cool;
  return map;
}

void add_lines(const std::vector<FlowLine>& lines, double length, double places,
               const std::function<figure::Place(const FlowLine::Point&)>& place, figure::FieldMap& map) {
  for (const FlowLine& line : thinned(lines, length / places)) {
    std::vector<figure::Place> path;
    for (const FlowLine::Point& point : line.points) path.push_back(place(point));
    map.streamlines.push_back(std::move(path));
  }
}

namespace {

// Least and largest value in the air.
std::pair<double, double> range_of(const figure::FieldMap& map) {
  double least = std::numeric_limits<double>::infinity(), largest = -least;
  for (std::size_t k = 0; k < map.values.size(); ++k) {
    if (map.solid[k]) continue;
    least = std::min(least, map.values[k]);
    largest = std::max(largest, map.values[k]);
  }
  return {least, largest};
}

}  // namespace

bool is_uniform(const figure::FieldMap& map, MapQuantity quantity, const geometry::ShownUnit& unit) {
  constexpr double kSameSpeed = 1e-3;  // [m/s]
  const auto [least, largest] = range_of(map);
  return largest - least <
         unit.of_difference(quantity == MapQuantity::temperature ? kSameWarmth : kSameSpeed);
}

void spread_colours(const geometry::ShownUnit& unit, figure::FieldMap& map) {
  constexpr double kLeast = 2.0;  // [K], judgement
  const double least = std::ceil(unit.of_difference(kLeast));
  const auto [coolest, hottest] = range_of(map);
  if (!(hottest - coolest < least)) return;
  map.low = std::floor(coolest);
  map.high = std::max(*map.low + least, std::ceil(hottest));
}

figure::FieldMap layer_map(const FieldRun& field, int layer, MapQuantity quantity,
                           const std::vector<FlowLine>& lines) {
  const geometry::Device& device = field.run.content.device;
  const flow2d::LayerFields& fields = at(field.plan.layers, layer);
  figure::FieldMap map =
      blank_map(field, quantity, layer_words(fields), "Seen from above, rear edge at the top");
  map.x = fields.x;
  map.y = fields.y;
  const geometry::ShownUnit unit = map_unit(field, quantity);
  map.values = values_of(fields, quantity, unit);
  for (const unsigned char solid : fields.solid.values()) map.solid.push_back(solid != 0);
  std::vector<FlowLine> own;
  std::copy_if(lines.begin(), lines.end(), std::back_inserter(own),
               [&](const FlowLine& line) { return line.layer == layer; });
  add_lines(
      own, std::max(device.size.x(), device.size.y()), kLinesAcross,
      [](const FlowLine::Point& point) {
        return figure::Place{point.x, point.y};
      },
      map);
  for (std::size_t v = 0; v < device.vents.size(); ++v)
    if (!device.vents[v].is_leak && opens_into(field, static_cast<int>(v), layer))
      map.vents.push_back(map_vent(field, static_cast<int>(v)));
  const std::string faster = quantity == MapQuantity::speed ? end_at_the_rooms(field, fields, map) : "";
  if (quantity == MapQuantity::temperature) spread_colours(unit, map);
  map.parts = parts_of(field, layer);
  map.gravity = figure::gravity_in(figure::ViewKind::top, pose_of(field));
  map.note = fmt::format(
      "tuft {}, {}: mean over the depth of the layer, cells of {}{}{}; vents by the {}.{} A "
      "prediction, "
      "no safety assessment.",
      field.run.version, field.run.case_file, length_text(field.cell, field.run.content.units, 3),
      is_whole(field) ? "" : ", not fully converged", faster, flows_word(field), unplaced_words(device));
  return map;
}

}  // namespace tuft::io
