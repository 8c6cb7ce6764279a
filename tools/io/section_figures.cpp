#include "tools/io/field_figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/flow2d/tracks.hpp"

namespace tuft::io {
namespace {

using flow2d::Part;
using flow2d::SectionResult;

constexpr double kSectionLinesAcross = 44.0;  // places for streamlines along the longer side of a map

double value_of(const SectionResult& result, MapQuantity quantity, std::size_t cell) {
  return quantity == MapQuantity::temperature ? result.temperature[cell]
                                              : std::hypot(result.u[cell], result.v[cell]);
}

/// The box around all cells of a part, in the section's own axes; empty when it has none.
struct Extent {
  double x0 = std::numeric_limits<double>::infinity(), x1 = -x0, y0 = x0, y1 = -x0;
  bool empty() const { return !(x1 > x0); }
};

Extent extent_of(const SectionResult& result, Part part) {
  Extent extent;
  for (int j = 0; j < result.u.ny(); ++j)
    for (int i = 0; i < result.u.nx(); ++i) {
      if (result.part(i, j) != static_cast<int>(part)) continue;
      extent.x0 = std::min(extent.x0, result.x[i]);
      extent.x1 = std::max(extent.x1, result.x[i + 1]);
      extent.y0 = std::min(extent.y0, result.y[j]);
      extent.y1 = std::max(extent.y1, result.y[j + 1]);
    }
  return extent;
}

void add_word(const SectionResult& result, const QuarterTurn& turn, Part part, const std::string& word,
              figure::FieldMap& map) {
  const Extent extent = extent_of(result, part);
  if (extent.empty()) return;
  map.words.push_back({word, turn.place({extent.x0, extent.y0}), turn.place({extent.x1, extent.y1})});
}

// A cut vent: the stretch of its face in the plane.
void add_vents(const FieldRun& field, const QuarterTurn& turn, figure::FieldMap& map) {
  const SectionResult& result = field.section->result;
  const geometry::Device& device = field.run.content.device;
  const int first = result.plane.first(), second = result.plane.second();
  for (std::size_t v = 0; v < device.vents.size(); ++v) {
    const geometry::Vent& vent = device.vents[v];
    if (vent.is_leak || result.vents[v].cut == flow2d::VentCut::missed) continue;
    geometry::Vec3 along_width, along_height;
    geometry::side_axes(vent, along_width, along_height);
    const auto extent = [&](int axis) {
      return 0.5 * (std::abs(along_width[axis]) * vent.width + std::abs(along_height[axis]) * vent.height);
    };
    const figure::Place centre{vent.centre[first], vent.centre[second]};
    const double a = extent(first), b = extent(second);
    const bool shut = network_result(field).vents[v].shut || result.vents[v].cut == flow2d::VentCut::shut;
    figure::MapVent mark = map_mark(field, v, shut);
    mark.from = turn.place({centre.x - a, centre.y - b});
    mark.to = turn.place({centre.x + a, centre.y + b});
    map.vents.push_back(std::move(mark));
  }
}

}  // namespace

QuarterTurn::QuarterTurn(const SectionResult& result) : nx_(result.u.nx()), ny_(result.u.ny()) {
  double best = -std::numeric_limits<double>::infinity();
  int chosen = 0;
  for (quarters_ = 0; quarters_ < 4; ++quarters_) {
    const double down = -place({result.gravity[0], result.gravity[1]}).y;
    if (down <= best + 1e-9) continue;
    best = down;
    chosen = quarters_;
  }
  quarters_ = chosen;
}

figure::Place QuarterTurn::place(const figure::Place& at) const {
  return quarters_ == 0   ? at
         : quarters_ == 1 ? figure::Place{-at.y, at.x}
         : quarters_ == 2 ? figure::Place{-at.x, -at.y}
                          : figure::Place{at.y, -at.x};
}

std::size_t QuarterTurn::cell(int i, int j) const {
  int from_i = i, from_j = j;
  if (quarters_ == 1) from_i = j, from_j = ny_ - 1 - i;
  if (quarters_ == 2) from_i = nx_ - 1 - i, from_j = ny_ - 1 - j;
  if (quarters_ == 3) from_i = nx_ - 1 - j, from_j = i;
  return static_cast<std::size_t>(from_j) * nx_ + from_i;
}

std::vector<double> QuarterTurn::lines(const SectionResult& result, int axis) const {
  const bool swapped = quarters_ % 2 == 1;
  std::vector<double> lines = (axis == 0) != swapped ? result.x : result.y;
  for (double& line : lines) {
    const figure::Place turned = (axis == 0) != swapped ? place({line, 0.0}) : place({0.0, line});
    line = axis == 0 ? turned.x : turned.y;
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

std::vector<FlowLine> section_lines(const FieldRun& field) {
  const SectionResult& result = field.section->result;
  flow2d::LayerFields layer;
  layer.x = result.x;
  layer.y = result.y;
  layer.u_face = result.u_face;
  layer.v_face = result.v_face;
  layer.u = result.u;
  layer.v = result.v;
  layer.temperature = result.temperature;
  layer.density = result.density;
  const int nx = result.u.nx(), ny = result.u.ny();
  layer.depth = flow2d::Array2(nx, ny, 1.0);
  layer.solid = flow2d::Mask(nx, ny, 0);
  std::vector<std::vector<CellEnd>> ends(layer.solid.size());
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      layer.solid(i, j) = flow2d::is_air(result.part(i, j)) ? 0 : 1;
      if (result.part(i, j) != static_cast<int>(Part::vent_cell)) continue;
      const double dx = flow2d::side(result.x, i), dy = flow2d::side(result.y, j);
      const double out = result.density(i, j) * ((result.u_face(i + 1, j) - result.u_face(i, j)) * dy +
                                                 (result.v_face(i, j + 1) - result.v_face(i, j)) * dx);
      if (out != 0.0) ends[j * nx + i].push_back({LineEnd::vent, result.vent(i, j), out});
    }
  return lines_of_layer(nullptr, layer, ends, 0);
}

figure::FieldMap section_map(const FieldRun& field, MapQuantity quantity,
                             const std::vector<FlowLine>& lines) {
  const SectionResult& result = field.section->result;
  const QuarterTurn turn(result);
  figure::FieldMap map = blank_map(field, quantity, "the air around it",
                                   "Cut " + plane_words(result.plane, field.run.content.units));
  const geometry::ShownUnit unit = map_unit(field, quantity);
  map.x = turn.lines(result, 0);
  map.y = turn.lines(result, 1);
  for (int j = 0; j < turn.ny(); ++j)
    for (int i = 0; i < turn.nx(); ++i) {
      const std::size_t k = turn.cell(i, j);
      map.values.push_back(unit.of(value_of(result, quantity, k)));
      map.solid.push_back(!flow2d::is_air(result.part[k]));
    }
  if (quantity == MapQuantity::temperature) spread_colours(unit, map);
  add_lines(
      lines, std::max(map.x.back() - map.x.front(), map.y.back() - map.y.front()), kSectionLinesAcross,
      [&](const FlowLine::Point& point) {
        return turn.place({point.x, point.y});
      },
      map);
  add_vents(field, turn, map);
  add_word(result, turn, Part::chassis, "device", map);
  add_word(result, turn, Part::support, at(field.run.content.supports, condition_of(field).support).name,
           map);
  add_word(result, turn, Part::screen, "screen", map);
  const double g = std::hypot(result.gravity[0], result.gravity[1]);
  if (g > 0.0) {
    const figure::Place down = turn.place({result.gravity[0] / g, result.gravity[1] / g});
    const double flat = std::sqrt(std::max(0.0, 1.0 - result.gravity_across * result.gravity_across));
    map.gravity = figure::Gravity{flat * down.x, flat * down.y, result.gravity_across};
  }
  map.note = fmt::format(
      "tuft {}, {}: a cross-section, as if everything continued unchanged across it{}; flows of vents by the "
      "{}. A prediction, no safety assessment.",
      field.run.version, field.run.case_file,
      result.end == flow2d::SectionEnd::averaged ? "; mean of a flow that does not come to rest"
      : result.usable()                          ? ""
                                                 : "; not converged",
      flows_word(field));
  return map;
}

}  // namespace tuft::io
