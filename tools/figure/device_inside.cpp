// The device itself: outline, zones, fins, fans, skin.
#include <algorithm>
#include <cmath>

#include "tools/figure/device_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::Device;
using geometry::Vec3;

constexpr double kName = 12.0, kInsideNameWidth = 150.0;  // [px]
constexpr double kBusyFan = 0.12;                 // weight of a fan's circle for names other than its own
const std::vector<double> kHidden = {4.0, 3.0};   // dash of what lies inside
const std::vector<double> kNoPlace = {1.5, 4.0};  // and of what lies somewhere inside

// A box given by its centre and extents, in a view.
Box block_box(const View& view, const Vec3& centre, const Vec3& size) {
  const ViewFrame frame = view_frame(view.kind);
  const double right = 0.5 * size.dot(frame.right.cwiseAbs()), up = 0.5 * size.dot(frame.up.cwiseAbs());
  return view.box(centre, right * frame.right, up * frame.up);
}

bool fills_device(const geometry::Zone& zone, const Device& device) {
  return (zone.size - device.size).cwiseAbs().maxCoeff() < 1e-3 * device.size.maxCoeff();
}

Box fan_box(const View& view, const geometry::Fan& fan, const Device& device) {
  const Vec3 axis = geometry::fan_axis(fan, device);
  return block_box(view, fan.centre, Vec3::Constant(*fan.diameter) + axis * (*fan.thickness - *fan.diameter));
}

void draw_fan(const View& view, const geometry::Fan& fan, const Device& device, Svg& svg) {
  const Vec3 axis = geometry::fan_axis(fan, device);
  const Look look{Paint::none, Paint::part, 1.3, fan.is_placed ? kHidden : kNoPlace};
  const Tags tags = {{"data-fan", clean(fan.name)}, {"data-view", view_word(view.kind)}};
  if (std::abs(axis.dot(view_frame(view.kind).towards)) > 0.9) {
    const Point centre = view.at(fan.centre);
    const double radius = 0.5 * *fan.diameter * view.scale;
    svg.circle(centre, radius, look, tags);
    if (fan.is_placed) svg.circle(centre, 0.28 * radius, {Paint::none, Paint::part, 1.0});
  } else {
    svg.rect(fan_box(view, fan, device), look, 2.0, tags);
  }
}

void draw_fins(const View& view, std::size_t index, const Device& device, Svg& svg) {
  const geometry::FinStack& stack = device.fin_stacks[index];
  const Box box = block_box(view, stack.centre, fin_extents(device, index));
  const Look look{Paint::none, Paint::part, 1.0, stack.is_placed ? std::vector<double>{} : kNoPlace};
  svg.rect(box, look, 0.0, {{"data-fins", clean(stack.name)}, {"data-view", view_word(view.kind)}});
  if (!stack.is_placed) return;
  const Point along = view.direction(fin_direction(device, index));
  constexpr double kPitch = 3.5;  // [px]
  std::vector<Point> lines;
  if (std::abs(along.x) > 0.5) {
    for (double y = box.top + kPitch; y < box.bottom - 0.5; y += kPitch)
      lines.insert(lines.end(), {{box.left, y}, {box.right, y}});
  } else {
    for (double x = box.left + kPitch; x < box.right - 0.5; x += kPitch)
      lines.insert(lines.end(), {{x, box.top}, {x, box.bottom}});
  }
  svg.segments(lines, {Paint::none, Paint::part, 0.7});
}

Box skin_box(const View& view, const geometry::Skin& skin) {
  Vec3 first, second;
  geometry::face_axes(skin.face, first, second);
  return view.box(skin.centre, 0.5 * skin.width * first, 0.5 * skin.height * second);
}

Label quiet(const std::string& name) {
  return {{label_name(name, kInsideNameWidth, kName, false)}, kName, Paint::muted, Paint::muted, false};
}

// Of a thing that may stand anywhere inside, the label says so.
Label quiet(const std::string& name, bool is_placed) {
  Label label = quiet(name);
  if (!is_placed) label.lines.push_back("place not given");
  return label;
}

// A name within what it names, or else beside it.
void name_at(const Label& label, const Box& box, const View& view, Canvas& canvas) {
  const double lines = static_cast<double>(label.lines.size());
  const bool fits = text_width(label.lines.back(), kName) < 0.8 * box.width() &&
                    text_width(label.lines.front(), kName) < 0.8 * box.width() &&
                    (0.5 + 1.3 * lines) * kName < box.height();
  if (fits)
    write_within(label, box, canvas);
  else
    write_label(label, box, view.cell, canvas);
}

// Below the hub, so that the name stands within the circle when it is large enough.
Box hub_box(const View& view, const geometry::Fan& fan, const Device& device) {
  const Box box = fan_box(view, fan, device);
  if (std::abs(geometry::fan_axis(fan, device).dot(view_frame(view.kind).towards)) < 0.9) return box;
  return grown(box, -0.36 * box.width());
}

}  // namespace

void busy_edges(const Box& box, Canvas& canvas) {
  constexpr double kHalf = 2.0;  // [px]
  canvas.placer.busy({box.left - kHalf, box.top, box.left + kHalf, box.bottom}, kBusyLines);
  canvas.placer.busy({box.right - kHalf, box.top, box.right + kHalf, box.bottom}, kBusyLines);
  canvas.placer.busy({box.left, box.top - kHalf, box.right, box.top + kHalf}, kBusyLines);
  canvas.placer.busy({box.left, box.bottom - kHalf, box.right, box.bottom + kHalf}, kBusyLines);
}

void draw_body(const View& view, const Device& device, Canvas& canvas) {
  canvas.svg.rect(view.chassis, {Paint::body, Paint::chassis, 1.6}, 3.0,
                  {{"data-chassis", view_word(view.kind)}});
  busy_edges(view.chassis, canvas);
  const bool from_side = view.kind != ViewKind::top && view.kind != ViewKind::base;
  const double height = *device.feet * view.scale;
  if (!from_side || height <= 0.0) return;
  const double wide = std::min(14.0, 0.1 * view.chassis.width());
  for (const double left : {view.chassis.left + wide, view.chassis.right - 2.0 * wide})
    canvas.svg.rect({left, view.chassis.bottom, left + wide, view.chassis.bottom + height}, {Paint::chassis});
}

void draw_inside(const View& view, const Device& device, Canvas& canvas) {
  if (view.kind == ViewKind::top) {
    for (const geometry::Zone& zone : device.zones) {
      if (fills_device(zone, device) || zone.size.minCoeff() <= 0.0) continue;
      canvas.svg.rect(block_box(view, zone.centre, zone.size), {Paint::none, Paint::zone, 1.0, kHidden}, 0.0,
                      {{"data-zone", clean(zone.name)}});
      busy_edges(block_box(view, zone.centre, zone.size), canvas);
    }
    for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) {
      draw_fins(view, i, device, canvas.svg);
      canvas.placer.busy(block_box(view, device.fin_stacks[i].centre, fin_extents(device, i)), kBusyLines);
    }
    for (const geometry::Fan& fan : device.fans) {
      draw_fan(view, fan, device, canvas.svg);
      canvas.placer.busy(hub_box(view, fan, device), kBusyLines);
    }
  }
  for (const geometry::Skin& skin : device.skins) {
    if (!faces(view.kind, skin.face)) continue;
    canvas.svg.rect(skin_box(view, skin), {Paint::skin, Paint::skin, 1.0, {1.5, 2.5}, 0.28}, 6.0,
                    {{"data-skin", clean(skin.name)}, {"data-view", view_word(view.kind)}});
    canvas.placer.busy(skin_box(view, skin), kBusyTint);
  }
}

void name_inside(const View& view, const Device& device, Canvas& canvas) {
  if (view.kind == ViewKind::top) {
    for (const geometry::Fan& fan : device.fans) {
      write_label(quiet(fan.name, fan.is_placed), hub_box(view, fan, device), view.cell, canvas);
      canvas.placer.busy(fan_box(view, fan, device), kBusyFan);
    }
    for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) {
      const Box box = block_box(view, device.fin_stacks[i].centre, fin_extents(device, i));
      name_at(quiet(device.fin_stacks[i].name, device.fin_stacks[i].is_placed), box, view, canvas);
    }
    for (const geometry::Zone& zone : device.zones) {
      if (fills_device(zone, device) || zone.size.minCoeff() <= 0.0) continue;
      name_at(quiet(zone.name), block_box(view, zone.centre, zone.size), view, canvas);
    }
  }
  for (const geometry::Skin& skin : device.skins)
    if (faces(view.kind, skin.face)) name_at(quiet(skin.name), skin_box(view, skin), view, canvas);
}

}  // namespace tuft::figure
