// Words at the vents of a device drawing.
#include <fmt/format.h>

#include <algorithm>

#include "geometry/device/lists.hpp"
#include "tools/figure/axes.hpp"
#include "tools/figure/device_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::Face;
using geometry::Role;
using geometry::UnitSystem;
using geometry::Vent;

constexpr double kSize = 12.0, kLine = 15.0, kNameWidth = 170.0, kNarrowName = 120.0;  // [px]

// Where the label in full stands: with the arrow of side vents, at the face of base and top vents; without
// those views where the arrow is, or else where the face is seen.
std::optional<ViewKind> home_view(Face face, const std::vector<ViewKind>& views) {
  const ViewKind best = face == Face::base ? ViewKind::base : ViewKind::top;
  if (geometry::contains(views, best)) return best;
  const std::optional<ViewKind> arrow = arrow_view_of(face, views);
  for (const ViewKind kind : views)
    if (faces(kind, face)) return kind;
  return arrow;
}

std::string temperature_text(const VentFlow& flow, UnitSystem units) {
  const bool leaves = flow.role == Role::exhaust || flow.role == Role::both_ways;
  if (!flow.temperature || !leaves || flow.shut) return "";
  return "at " + temperature_label(*flow.temperature, units);
}

// Lines below the name: what it does, and how much.
std::vector<std::string> vent_state_lines(const VentFlow& flow, UnitSystem units) {
  const std::string uncertainty = flow.firm || flow.shut ? "" : ", close call";
  if (flow.shut) return {vent_state_words(flow.vent_state())};
  const std::string temperature = temperature_text(flow, units);
  if (flow.role == Role::both_ways)
    return {fmt::format("both ways: in {}", flow_label(flow.inflow, units)),
            fmt::format("out {}{}{}", flow_label(flow.outflow, units),
                        temperature.empty() ? "" : " " + temperature, uncertainty)};
  const double amount = std::max(flow.inflow, flow.outflow);
  const std::string share = flow.role == Role::idle ? "" : fmt::format(" ({})", share_label(flow.share));
  std::vector<std::string> lines = {vent_state_words(flow.vent_state()) + uncertainty,
                                    flow_label(amount, units) + share};
  if (!temperature.empty()) lines.push_back(temperature);
  return lines;
}

// One sentence on a vent: "takes air in, 1.2 L/s, 54 %".
std::string vent_sentence(const VentFlow& flow, UnitSystem units) {
  std::string text;
  for (const std::string& line : vent_state_lines(flow, units)) text += (text.empty() ? "" : ", ") + line;
  return text;
}

Label full_label(const DeviceDrawing& drawing, std::size_t index) {
  const Vent& vent = drawing.device.vents[index];
  if (is_narrow(drawing) && !drawing.flows.empty())
    return flow_label_of(vent, drawing.flows[index], drawing.units);
  Label label{{label_name(vent.name, kNameWidth, kSize, true)}, kSize};
  if (drawing.flows.empty()) {
    const geometry::ShownUnit length = geometry::length_unit(drawing.units);
    label.lines.push_back(
        fmt::format("{:.4g} \u00D7 {:.4g} {}", length.of(vent.width), length.of(vent.height), length.name));
  } else {
    label.first = vent_state_paint(drawing.flows[index].vent_state());
    for (const std::string& line : vent_state_lines(drawing.flows[index], drawing.units))
      label.lines.push_back(line);
  }
  return label;
}

// The flow alone, at an arrow whose vent has its label in another view.
Label short_label(const DeviceDrawing& drawing, std::size_t index) {
  const VentFlow& flow = drawing.flows[index];
  const UnitSystem units = drawing.units;
  Label label{{label_name(drawing.device.vents[index].name, 120.0, kSize, true)}, kSize};
  label.first = vent_state_paint(flow.vent_state());
  if (flow.shut) {
    label.lines.push_back("shut");
  } else if (flow.role == Role::both_ways) {
    label.lines.push_back(
        fmt::format("in {}, out {}", flow_label(flow.inflow, units), flow_label(flow.outflow, units)));
  } else {
    label.lines.push_back(flow_label(std::max(flow.inflow, flow.outflow), units));
  }
  return label;
}

bool is_empty(const Box& box) { return box.right <= box.left; }

Point on_line(const Box& box, const Label& label, std::size_t line) {
  return {box.left, box.top + 0.84 * label.size + static_cast<double>(line) * kLine};
}

Point size_of(const Label& label) {
  double width = 0.0;
  for (std::size_t i = 0; i < label.lines.size(); ++i)
    width = std::max(width, text_width(label.lines[i], label.size, i == 0 && label.bold));
  return {width, 1.06 * label.size + kLine * static_cast<double>(label.lines.size() - 1)};
}

bool write(const Label& label, const std::optional<Placed>& placed, Canvas& canvas) {
  if (!placed) {
    canvas.left_out.push_back(label.lines[0]);
    return false;
  }
  if (placed->needs_leader) canvas.svg.line(placed->from, placed->to, {Paint::none, Paint::axis, 0.9});
  for (std::size_t i = 0; i < label.lines.size(); ++i) {
    const Type type{label.size, i == 0 && label.bold, Anchor::start, i == 0 ? label.first : label.rest, true};
    canvas.svg.text(on_line(placed->box, label, i), label.lines[i], type);
  }
  return true;
}

// Within a vent that is much larger than its label; false when it is not.
bool write_inside(const Label& label, const Box& vent, Canvas& canvas) {
  constexpr double kRoomy = 3.0;
  const Point size = size_of(label);
  if (vent.width() < size.x + 12.0 || vent.height() < size.y + 12.0) return false;
  if (vent.width() * vent.height() < kRoomy * size.x * size.y) return false;
  return write(label, canvas.placer.place_within(vent, size.x, size.y), canvas);
}

}  // namespace

std::string label_name(const std::string& name, double width, double size, bool bold) {
  return fitted(isolated(name), width, size, bold);
}

Label flow_label_of(const Vent& vent, const VentFlow& flow, UnitSystem units) {
  Label label{{label_name(vent.name, kNarrowName, kSize, true)}, kSize};
  label.first = label.rest = vent_state_paint(flow.vent_state());
  const bool moves = !flow.shut && flow.role != Role::idle;
  if (moves && flow.role != Role::exhaust) label.lines.push_back("in " + flow_label(flow.inflow, units));
  if (moves && flow.role != Role::intake) label.lines.push_back("out " + flow_label(flow.outflow, units));
  if (!moves) label.lines.emplace_back(vent_state_words(flow.vent_state()));
  return label;
}

std::string vent_sentences(const geometry::Device& device, const std::vector<VentFlow>& flows,
                           UnitSystem units) {
  std::string text;
  for (std::size_t i = 0; i < flows.size(); ++i) {
    const Vent& vent = device.vents[i];
    if (vent.is_leak) continue;
    text += fmt::format(" {} ({}): {}.", isolated(vent.name), geometry::face_word(vent.face),
                        vent_sentence(flows[i], units));
  }
  return text;
}

bool write_label(const Label& label, const Box& anchor, const Box& room, Canvas& canvas, const Box& shunned) {
  const Point size = size_of(label);
  return write(label, canvas.placer.place(anchor, size.x, size.y, room, shunned), canvas);
}

bool write_within(const Label& label, const Box& area, Canvas& canvas) {
  const Point size = size_of(label);
  return write(label, canvas.placer.place_within(area, size.x, size.y), canvas);
}

void name_vents(const DeviceLayout& layout, const DeviceDrawing& drawing,
                const std::vector<std::vector<Box>>& arrows, Canvas& canvas) {
  const std::vector<ViewKind> views = kinds_of(layout);
  for (std::size_t k = 0; k < views.size(); ++k) {
    const View& view = layout.views[k];
    for (std::size_t i = 0; i < drawing.device.vents.size(); ++i) {
      const Vent& vent = drawing.device.vents[i];
      if (vent.is_leak || home_view(vent.face, views) != view.kind) continue;
      const bool face = faces(view.kind, vent.face) && vent.face != Face::hinge;
      const bool drawn = !arrows[k].empty() && !is_empty(arrows[k][i]);
      const bool upright = face && vent.turned == 0.0;
      if (upright && write_inside(full_label(drawing, i), vent_box(view, vent), canvas)) continue;
      const Box anchor = face || !drawn ? vent_box(view, vent) : arrows[k][i];
      write_label(full_label(drawing, i), anchor, view.cell, canvas, face ? Box{} : view.chassis);
    }
  }
  if (drawing.flows.empty()) return;
  for (std::size_t k = 0; k < views.size(); ++k) {
    for (std::size_t i = 0; i < drawing.device.vents.size(); ++i) {
      const Box& arrow = arrows[k][i];
      if (is_empty(arrow) || home_view(drawing.device.vents[i].face, views) == views[k]) continue;
      write_label(short_label(drawing, i), arrow, layout.views[k].cell, canvas, layout.views[k].chassis);
    }
  }
}

}  // namespace tuft::figure
