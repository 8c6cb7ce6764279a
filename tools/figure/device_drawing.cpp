#include "tools/figure/device_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/figure/device_parts.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

std::string described(const DeviceDrawing& drawing) {
  return fmt::format("{}, drawn to scale, pose {}.", isolated(drawing.device.name),
                     isolated(drawing.pose.name)) +
         vent_sentences(drawing.device, drawing.flows, drawing.units);
}

// A round flow whose arrow is easy to measure with the eye.
double sample_flow(double pixels_per_flow, geometry::UnitSystem units) {
  return round_in(geometry::flow_unit(units), kLongestArrow / pixels_per_flow);
}

std::vector<KeyEntry> key_of(const DeviceDrawing& drawing, double scale, double pixels_per_flow) {
  std::vector<VentState> there;
  for (std::size_t i = 0; i < drawing.flows.size(); ++i)
    if (!drawing.device.vents[i].is_leak) there.push_back(drawing.flows[i].vent_state());
  std::vector<KeyEntry> key = mark_entries(there);
  if (pixels_per_flow > 0.0) {
    const double flow = sample_flow(pixels_per_flow, drawing.units), length = flow * pixels_per_flow;
    key.push_back({KeyEntry::Sign::arrow_in, "in", length});
    key.push_back(
        {KeyEntry::Sign::arrow_out, "out: this long for " + round_flow_label(flow, drawing.units), length});
    const double least = kShortestArrow / pixels_per_flow;
    key.push_back(
        {KeyEntry::Sign::arrow_in, round_flow_label(least, drawing.units) + " or less", kShortestArrow});
  }
  const double bar = round_in(geometry::length_unit(drawing.units), 130.0 / scale);
  key.push_back({KeyEntry::Sign::scale, length_text(bar, drawing.units), bar * scale});
  key.push_back(gravity_entry("gravity, in each view", {0.0, -1.0, 0.0}));
  key.push_back(gravity_entry("away from you", {0.0, 0.0, -1.0}));
  key.push_back(gravity_entry("towards you", {0.0, 0.0, 1.0}));
  if (!drawing.device.fin_stacks.empty()) key.push_back({KeyEntry::Sign::hatch, "fins", 22.0, Paint::part});
  if (!drawing.device.skins.empty())
    key.push_back({KeyEntry::Sign::block, "skin that is watched", 22.0, Paint::skin});
  return key;
}

// Heading of a view with its gravity sign.
void draw_view_heading(const View& view, const DeviceDrawing& drawing, Canvas& canvas) {
  constexpr double kHead = 14.0, kRemark = 12.0;  // [px]
  const Point at{view.cell.left + 24.0, view.cell.top + 18.0};
  draw_gravity(gravity_in(view.kind, drawing.pose), {view.cell.left + 9.0, at.y - 5.0}, 8.5, canvas.svg);
  const std::string title = view_title(view.kind);
  const double wide = text_width(title, kHead, true);
  canvas.svg.text(at, title, {kHead, true});
  const double left = at.x + wide + 9.0;
  const bool arrows = view.kind == ViewKind::front && !drawing.flows.empty() && drawing.views.empty();
  const std::string words = arrows ? "arrows: what base and top do" : view_remark(view.kind);
  const std::string remark = fitted(words, view.cell.right - left, kRemark);
  canvas.svg.text({left, at.y}, remark, {kRemark, false, Anchor::start, Paint::muted});
  canvas.placer.block({view.cell.left, view.cell.top, left + text_width(remark, kRemark), at.y + 5.0});
}

void draw_all(const DeviceDrawing& drawing, const DeviceLayout& layout, double pixels_per_flow,
              Canvas& canvas) {
  std::vector<std::vector<Box>> arrows;
  std::vector<Box> supports;
  for (const View& view : layout.views) {
    canvas.svg.open({{"data-view-group", view_word(view.kind)}});
    draw_view_heading(view, drawing, canvas);
    supports.push_back(draw_support(view, drawing, canvas));
    draw_body(view, drawing.device, canvas);
    draw_inside(view, drawing.device, canvas);
    draw_vents(view, drawing, canvas);
    arrows.push_back(draw_arrows(view, kinds_of(layout), drawing, pixels_per_flow, canvas));
    canvas.svg.close();
  }
  name_vents(layout, drawing, arrows, canvas);
  for (std::size_t i = 0; i < supports.size(); ++i)
    name_support(layout.views[i], supports[i], drawing, canvas);
  if (is_narrow(drawing)) return;
  for (const View& view : layout.views) name_inside(view, drawing.device, canvas);
}

}  // namespace

void check_drawn(const geometry::Device& device, const std::vector<VentFlow>& flows, double width) {
  const geometry::Vec3& size = device.size;
  require("device drawing", size.allFinite() && size.minCoeff() > 0.0, "all sizes of the device must be > 0");
  require("device drawing", size.maxCoeff() <= 200.0 * size.minCoeff(),
          "the device is too thin to be drawn to scale");
  require("device drawing", width >= 300.0 && width <= 8000.0,
          fmt::format("width {} must be 300 .. 8000", width));
  require("device drawing", flows.empty() || flows.size() == device.vents.size(),
          fmt::format("{} flows for {} vents", flows.size(), device.vents.size()));
  for (std::size_t i = 0; i < flows.size(); ++i) {
    const VentFlow& flow = flows[i];
    const bool finite =
        std::isfinite(flow.inflow) && std::isfinite(flow.outflow) && std::isfinite(flow.share);
    require("device drawing", finite && flow.inflow >= 0.0 && flow.outflow >= 0.0,
            fmt::format("flows of '{}' must be finite and >= 0", clean(device.vents[i].name)));
    require("device drawing", !flow.temperature || std::isfinite(*flow.temperature),
            "temperatures must be finite");
  }
}

std::string small_print(const Canvas& canvas, const std::string& note) {
  if (canvas.left_out.empty()) return note;
  std::string text = "Without a name in the drawing: ";
  const std::size_t most = std::min<std::size_t>(canvas.left_out.size(), 12);
  for (std::size_t i = 0; i < most; ++i)
    text += (i == 0 ? "" : ", ") + fitted(canvas.left_out[i], 160.0, 12.0);
  if (most < canvas.left_out.size()) text += fmt::format(" and {} more", canvas.left_out.size() - most);
  return text + "." + (note.empty() ? "" : " " + note);
}

std::string device_drawing(const DeviceDrawing& drawing) {
  check_drawn(drawing.device, drawing.flows, drawing.width);
  // A page has a heading of its own; there the title is but a part of the alt text.
  const bool in_page = drawing.surroundings == Surroundings::page;
  const Heading heading = in_page ? Heading{} : Heading{drawing.title, drawing.subtitle, ""};
  const DeviceLayout layout =
      lay_out_device(drawing, in_page ? 0.0 : heading_bottom(heading, drawing.width) + 6.0);
  const double largest = largest_flow(drawing.device, drawing.flows);
  const double pixels_per_flow = largest > 0.0 ? kLongestArrow / largest : 0.0;
  const std::vector<KeyEntry> key = key_of(drawing, layout.scale, pixels_per_flow);
  const double inner = drawing.width - 2.0 * edge_of(drawing);
  const double key_top = layout.bottom + 8.0, key_bottom = key_top + key_height(key, inner) + 4.0;

  // The height depends on the small print, which depends on what finds no room: drawn twice, once to find
  // out.
  Svg trial(drawing.width, key_bottom, "", "");
  Canvas first{trial};
  draw_all(drawing, layout, pixels_per_flow, first);
  const Heading all{heading.title, heading.subtitle, small_print(first, drawing.note)};

  Svg svg(drawing.width, key_bottom + note_height(all, drawing.width) + 8.0, clean(drawing.title),
          described(drawing), drawing.surroundings);
  if (in_page) svg.mark("data-pixels-per-metre", number(layout.scale));
  draw_heading(heading, svg);
  Canvas canvas{svg};
  draw_all(drawing, layout, pixels_per_flow, canvas);
  draw_key(key, {edge_of(drawing), key_top}, inner, svg);
  draw_note(all, key_bottom, svg);
  return svg.document();
}

}  // namespace tuft::figure
