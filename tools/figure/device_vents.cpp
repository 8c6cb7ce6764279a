// Vents and their arrows.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/figure/device_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::Role;
using geometry::Vent;

constexpr double kMark = 9.0;    // radius of a sign [px]
constexpr double kBar = 4.5;     // thickness of a vent seen from the side [px]
constexpr double kBeside = 7.0;  // half the distance between the two arrows of one vent [px]

Tags vent_tags(const View& view, const Vent& vent) {
  return {{"data-vent", clean(vent.name)}, {"data-view", view_word(view.kind)}};
}

// A vent as its face is seen.
void draw_face(const View& view, const DeviceDrawing& drawing, std::size_t index, Canvas& canvas) {
  const Vent& vent = drawing.device.vents[index];
  const Box box = vent_box(view, vent);
  const std::vector<Point> rim = vent_rim(view, vent);
  const bool known = !drawing.flows.empty();
  const VentState vent_state = known ? drawing.flows[index].vent_state() : VentState{};
  const Paint paint = known ? vent_state_paint(vent_state) : Paint::part;
  Tags tags = vent_tags(view, vent);
  if (known) tags.push_back({"data-role", vent_state_word(vent_state)});
  const Look ground{paint, Paint::none, 0.0, {}, known ? 0.22 : 0.14}, edge{Paint::none, paint, 1.6};
  if (vent.turned != 0.0) {
    canvas.svg.polygon(rim, ground, tags);
    canvas.svg.polygon(rim, edge);
  } else {
    canvas.svg.rect(box, ground, 1.0, tags);
    canvas.svg.rect(box, edge, 1.0);
  }
  if (!known) return;
  draw_mark(vent_state, box.centre(), kMark, canvas.svg);
  canvas.placer.block(box_around(box.centre(), box.centre(), kMark));
}

// A vent as it is seen from the side: a bar on the edge.
void draw_edge(const View& view, const DeviceDrawing& drawing, std::size_t index, Canvas& canvas) {
  const Vent& vent = drawing.device.vents[index];
  const Box line = vent_box(view, vent);
  const Paint paint =
      drawing.flows.empty() ? Paint::part : vent_state_paint(drawing.flows[index].vent_state());
  const Box bar = line.width() < line.height()
                      ? Box{line.left - 0.5 * kBar, line.top, line.left + 0.5 * kBar, line.bottom}
                      : Box{line.left, line.top - 0.5 * kBar, line.right, line.top + 0.5 * kBar};
  Tags tags = vent_tags(view, vent);
  tags.push_back({"data-edge", "true"});
  canvas.svg.rect(bar, {paint}, 0.0, tags);
}

// Unit vector on the page that leads out of a face, and the middle of the vent's edge on the outline.
struct Outlet {
  Point middle, out;
};
Outlet outlet_of(const View& view, const Vent& vent) {
  const Point out = view.direction(geometry::face_normal(vent.face));
  const double length = std::hypot(out.x, out.y);
  const Box box = vent_box(view, vent);
  Outlet outlet{box.centre(), {out.x / length, out.y / length}};
  // The hinge slot is seen aslant: its arrow starts at its outer edge.
  if (vent.face == geometry::Face::hinge) outlet.middle.y = box.top;
  return outlet;
}

std::vector<Stream> streams_lying(const VentFlow& flow) {
  if (flow.shut || flow.role == Role::idle) return {};
  if (flow.role == Role::intake) return {{flow.inflow, false, 0.0}};
  if (flow.role == Role::exhaust) return {{flow.outflow, true, 0.0}};
  return {{flow.inflow, false, -kBeside}, {flow.outflow, true, kBeside}};
}

// Moves the foot of an arrow along the edge until it keeps clear of the arrows before it.
Outlet clear_of(const std::vector<Box>& others, Outlet outlet, double half_width, double length) {
  const Point edge{-outlet.out.y, outlet.out.x};
  const Point start = outlet.middle;
  for (int step = 0; step < 12; ++step) {
    const double shift = (step % 2 == 0 ? 1.0 : -1.0) * 9.0 * ((step + 1) / 2);
    outlet.middle = along(start, edge, shift);
    const Box box =
        box_around(outlet.middle, along(outlet.middle, outlet.out, length + kOffFace), half_width);
    const bool free =
        std::none_of(others.begin(), others.end(), [&](const Box& b) { return overlap(b, box); });
    if (free) return outlet;
  }
  outlet.middle = start;
  return outlet;
}

}  // namespace

double largest_flow(const geometry::Device& device, const std::vector<VentFlow>& flows) {
  double most = 0.0;
  for (std::size_t i = 0; i < flows.size(); ++i) {
    if (device.vents[i].is_leak) continue;
    for (const Stream& stream : streams_lying(flows[i])) most = std::max(most, stream.flow);
  }
  return most;
}

std::vector<Stream> streams_of(const VentFlow& flow, const Point& out, const Point& up) {
  std::vector<Stream> streams = streams_lying(flow);
  const double along_edge = -out.y * up.x + out.x * up.y;
  if (along_edge > -1e-9) return streams;
  for (Stream& stream : streams) stream.aside = -stream.aside;
  return streams;
}

double arrow_length(const Stream& stream, double pixels_per_flow) {
  return std::max(kShortestArrow, pixels_per_flow * stream.flow);
}

Box draw_stream(const Stream& stream, const Point& foot, const Point& out, double length,
                const VentState& vent_state, const Tags& tags, Svg& svg) {
  const Point near = along(along(foot, out, kOffFace), {-out.y, out.x}, stream.aside);
  const Point far = along(near, out, length);
  Arrow arrow{
      stream.out ? near : far, stream.out ? far : near, 11.0, vent_state_paint(vent_state), stream.out, tags};
  arrow.tags.push_back({"data-direction", stream.out ? "out" : "in"});
  arrow.tags.push_back({"data-flow", fmt::format("{:.6g}", stream.flow)});
  draw_arrow(arrow, svg);
  return box_around(near, far, 6.0);
}

void draw_vents(const View& view, const DeviceDrawing& drawing, Canvas& canvas) {
  for (std::size_t i = 0; i < drawing.device.vents.size(); ++i) {
    const Vent& vent = drawing.device.vents[i];
    if (vent.is_leak) continue;  // seams run along whole edges; they are reported apart
    const double towards = geometry::face_normal(vent.face).dot(view_frame(view.kind).towards);
    if (towards > 0.5) {
      draw_face(view, drawing, i, canvas);
    } else if (towards > -0.5) {
      draw_edge(view, drawing, i, canvas);
    }
    if (towards <= -0.5) continue;
    busy_edges(vent_box(view, vent), canvas);
    canvas.placer.busy(vent_box(view, vent), kBusyTint);
  }
}

std::vector<Box> draw_arrows(const View& view, const std::vector<ViewKind>& views,
                             const DeviceDrawing& drawing, double pixels_per_flow, Canvas& canvas) {
  std::vector<Box> drawn, result(drawing.device.vents.size());
  for (std::size_t i = 0; i < drawing.flows.size(); ++i) {
    const Vent& vent = drawing.device.vents[i];
    if (vent.is_leak || arrow_view_of(vent.face, views) != view.kind) continue;
    const std::vector<Stream> streams =
        streams_of(drawing.flows[i], outlet_of(view, vent).out, view.direction(-drawing.pose.down()));
    const double half = streams.size() > 1 ? kBeside + 6.0 : 8.0;
    double longest = 2.0 * kSmallMark;
    for (const Stream& stream : streams) longest = std::max(longest, arrow_length(stream, pixels_per_flow));
    const Outlet outlet = clear_of(drawn, outlet_of(view, vent), half, longest);
    const VentState vent_state = drawing.flows[i].vent_state();
    Box box = box_around(outlet.middle, outlet.middle, 0.0);
    for (const Stream& stream : streams) {
      const Box part = draw_stream(stream, outlet.middle, outlet.out, arrow_length(stream, pixels_per_flow),
                                   vent_state, vent_tags(view, vent), canvas.svg);
      canvas.placer.block(part);
      box = united(box, part);
    }
    if (streams.empty() && !faces(view.kind, vent.face)) {
      const Point centre = along(outlet.middle, outlet.out, kOffFace + kSmallMark);
      draw_mark(vent_state, centre, kSmallMark, canvas.svg);
      box = box_around(centre, centre, kSmallMark);
      canvas.placer.block(box);
    }
    drawn.push_back(box);
    result[i] = box;
  }
  return result;
}

}  // namespace tuft::figure
