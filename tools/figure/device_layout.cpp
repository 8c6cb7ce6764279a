// Where the views of a device drawing stand on the page.
#include <algorithm>

#include "tools/figure/device_parts.hpp"
#include "tools/figure/heading.hpp"

namespace tuft::figure {
namespace {

constexpr double kColumnGap = 20.0, kViewHead = 30.0;                     // [px]
constexpr double kArrowSide = 176.0, kPlainSide = 36.0;                   // beside the top view [px]
constexpr double kArrowRoom = 92.0, kPlainRoom = 20.0, kNameRoom = 44.0;  // above and below a view [px]
constexpr double kMostPlan = 440.0, kMostTall = 320.0;                    // heights of views [px]

bool has_vent(const geometry::Device& device, std::initializer_list<geometry::Face> faces_) {
  return std::any_of(device.vents.begin(), device.vents.end(), [&](const geometry::Vent& vent) {
    return !vent.is_leak && std::find(faces_.begin(), faces_.end(), vent.face) != faces_.end();
  });
}

struct Rooms {
  double left, right, above, below;
};

Rooms rooms_of(ViewKind kind, const DeviceDrawing& drawing) {
  using geometry::Face;
  const auto pick = [&](std::initializer_list<Face> list, double with, double without) {
    return has_vent(drawing.device, list) ? with : without;
  };
  const double arrow = drawing.flows.empty() ? kNameRoom : kArrowRoom;
  switch (kind) {
    case ViewKind::top:
      return {pick({Face::left}, kArrowSide, kPlainSide), pick({Face::right}, kArrowSide, kPlainSide),
              pick({Face::rear, Face::hinge}, arrow, kPlainRoom), pick({Face::front}, arrow, kPlainRoom)};
    case ViewKind::base:
      return {kPlainSide, kPlainSide, kPlainRoom, kPlainRoom};
    case ViewKind::front:
      return {kPlainSide, kPlainSide, pick({Face::top}, arrow, kNameRoom),
              pick({Face::base}, arrow, kNameRoom)};
    default:
      return {kPlainSide, kPlainSide, kNameRoom, kPlainRoom};
  }
}

// Width and height of the device in a view [m].
Point extent(ViewKind kind, const geometry::Vec3& size) {
  const ViewFrame frame = view_frame(kind);
  return {size.dot(frame.right.cwiseAbs()), size.dot(frame.up.cwiseAbs())};
}

double scale_for(const DeviceDrawing& drawing) {
  const geometry::Vec3& size = drawing.device.size;
  const Rooms top = rooms_of(ViewKind::top, drawing);
  const double free = drawing.width - 2.0 * kPageEdge - kColumnGap - top.left - top.right - 2.0 * kPlainSide;
  const double widest = std::max(size.x(), size.y());
  return std::min({free / (size.x() + widest), kMostPlan / size.y(), kMostTall / size.z()});
}

View place(ViewKind kind, const DeviceDrawing& drawing, double scale, const Box& column) {
  const Rooms rooms = rooms_of(kind, drawing);
  const Point wide = extent(kind, drawing.device.size);
  View view;
  view.kind = kind;
  view.scale = scale;
  view.size = drawing.device.size;
  const double spare = column.width() - rooms.left - rooms.right - scale * wide.x;
  const double left = column.left + rooms.left + std::max(0.0, 0.5 * spare);
  const double top = column.top + kViewHead + rooms.above;
  view.chassis = {left, top, left + scale * wide.x, top + scale * wide.y};
  view.cell = {column.left, column.top, column.right, view.chassis.bottom + rooms.below};
  return view;
}

}  // namespace

DeviceLayout lay_out_device(const DeviceDrawing& drawing, double top) {
  DeviceLayout layout;
  layout.scale = scale_for(drawing);
  const Rooms around = rooms_of(ViewKind::top, drawing);
  const geometry::Vec3& size = drawing.device.size;
  const double right_width = layout.scale * std::max(size.x(), size.y()) + 2.0 * kPlainSide;
  const double left_width = layout.scale * size.x() + around.left + around.right;
  // What is left of the width goes to both columns alike.
  const double spare = drawing.width - 2.0 * kPageEdge - kColumnGap - right_width - left_width;
  const double split = kPageEdge + left_width + 0.5 * spare;
  double y = top;
  for (std::size_t i = 0; i < kViews.size(); i += 2) {
    const View a = place(kViews[i], drawing, layout.scale, {kPageEdge, y, split, y});
    const View b =
        place(kViews[i + 1], drawing, layout.scale, {split + kColumnGap, y, drawing.width - kPageEdge, y});
    layout.views.insert(layout.views.end(), {a, b});
    y = std::max(a.cell.bottom, b.cell.bottom);
    for (std::size_t k = 0; k < 2; ++k) layout.views[i + k].cell.bottom = y;
  }
  layout.bottom = y;
  return layout;
}

const View& view_of(const DeviceLayout& layout, ViewKind kind) {
  return layout.views[static_cast<std::size_t>(kind)];
}

}  // namespace tuft::figure
