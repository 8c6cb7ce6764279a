// Where the views of a device drawing stand on the page.
#include <algorithm>
#include <limits>

#include "geometry/device/lists.hpp"
#include "tools/figure/device_parts.hpp"
#include "tools/figure/heading.hpp"

namespace tuft::figure {
namespace {

constexpr double kColumnGap = 20.0, kViewHead = 30.0;                     // [px]
constexpr double kArrowSide = 176.0, kPlainSide = 36.0;                   // beside the top view [px]
constexpr double kArrowRoom = 92.0, kPlainRoom = 20.0, kNameRoom = 44.0;  // above and below a view [px]
constexpr double kNarrowArrowSide = 66.0, kNarrowPlainSide = 8.0;         // where there is one column [px]
constexpr double kNarrow = 640.0, kPageMargin = 3.0;                      // [px]
constexpr double kMostPlan = 440.0, kMostTall = 320.0;                    // heights of views [px]

struct Rooms {
  double left = kPlainSide, right = kPlainSide, above = kNameRoom, below = kPlainRoom;
};

std::vector<ViewKind> chosen(const DeviceDrawing& drawing) {
  std::vector<ViewKind> list;
  for (const ViewKind kind : kViews)
    if (drawing.views.empty() || geometry::contains(drawing.views, kind)) list.push_back(kind);
  return list;
}

// Room around a view: more where arrows stand.
Rooms rooms_of(ViewKind kind, const DeviceDrawing& drawing, const std::vector<ViewKind>& list) {
  Rooms rooms;
  if (is_narrow(drawing)) rooms.left = rooms.right = kNarrowPlainSide;
  const double side = is_narrow(drawing) ? kNarrowArrowSide : kArrowSide;
  if (kind == ViewKind::top || kind == ViewKind::base) rooms.above = kPlainRoom;
  if (kind == ViewKind::front) rooms.below = kNameRoom;
  const double arrow = drawing.flows.empty() ? kNameRoom : kArrowRoom;
  View view;
  view.kind = kind;
  for (const geometry::Vent& vent : drawing.device.vents) {
    if (vent.is_leak || arrow_view_of(vent.face, list) != kind) continue;
    const Point out = view.direction(geometry::face_normal(vent.face));
    if (out.x < -0.5) rooms.left = side;
    if (out.x > 0.5) rooms.right = side;
    if (out.y < -0.5) rooms.above = arrow;
    if (out.y > 0.5) rooms.below = arrow;
  }
  const Point rest = room_for_support(kind, drawing);
  if (rest.y > 0.0) rooms.below = std::max(rooms.below, rest.y);
  if (rest.y < 0.0) rooms.above = std::max(rooms.above, -rest.y);
  if (rest.x > 0.0) rooms.right = std::max(rooms.right, rest.x);
  if (rest.x < 0.0) rooms.left = std::max(rooms.left, -rest.x);
  return rooms;
}

// Width and height of the device in a view [m].
Point extent(ViewKind kind, const geometry::Vec3& size) {
  const ViewFrame frame = view_frame(kind);
  return {size.dot(frame.right.cwiseAbs()), size.dot(frame.up.cwiseAbs())};
}

// A view, and what it needs.
struct Wanted {
  ViewKind kind;
  Rooms rooms;
  Point extent;  // [m]

  double sides() const { return rooms.left + rooms.right; }
  double width(double scale) const { return sides() + scale * extent.x; }
};

std::vector<Wanted> wanted_views(const DeviceDrawing& drawing) {
  const std::vector<ViewKind> list = chosen(drawing);
  std::vector<Wanted> views;
  for (const ViewKind kind : list)
    views.push_back({kind, rooms_of(kind, drawing, list), extent(kind, drawing.device.size)});
  return views;
}

// Where views stand: the thin ones of three columns one below the other.
struct Slot {
  std::size_t column = 0, row = 0;
};

std::size_t columns_of(const DeviceDrawing& drawing, const std::vector<Wanted>& views) {
  if (views.size() < 2 || is_narrow(drawing)) return 1;
  return drawing.columns == 3 && views.size() == kViews.size() ? 3 : 2;
}

Slot slot_of(std::size_t index, std::size_t columns) {
  constexpr Slot kThree[] = {{0, 0}, {1, 0}, {0, 1}, {1, 1}, {2, 0}, {2, 1}};
  return columns == 3 ? kThree[index] : Slot{index % columns, index / columns};
}

double column_width(const std::vector<Wanted>& views, std::size_t column, std::size_t columns, double scale) {
  double width = 0.0;
  for (std::size_t i = 0; i < views.size(); ++i)
    if (slot_of(i, columns).column == column) width = std::max(width, views[i].width(scale));
  return width;
}

double width_of(const std::vector<Wanted>& views, std::size_t columns, double scale) {
  double width = kColumnGap * static_cast<double>(columns - 1);
  for (std::size_t column = 0; column < columns; ++column)
    width += column_width(views, column, columns, scale);
  return width;
}

// The least scale of all ways to take one view of each column: what they leave of the width over what they
// measure [m].
double tightest(const std::vector<Wanted>& views, std::size_t columns, std::size_t column, double free,
                double extent) {
  if (column == columns) return free / extent;
  double scale = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < views.size(); ++i)
    if (slot_of(i, columns).column == column)
      scale = std::min(
          scale, tightest(views, columns, column + 1, free - views[i].sides(), extent + views[i].extent.x));
  return scale;
}

// The largest scale at which all columns stand beside each other.
double scale_for(const DeviceDrawing& drawing, const std::vector<Wanted>& views) {
  const geometry::Vec3& size = drawing.device.size;
  const std::size_t columns = columns_of(drawing, views);
  const double inner = drawing.width - 2.0 * edge_of(drawing);
  double scale = std::min(kMostPlan / size.y(), kMostTall / size.z());
  if (columns == 3) scale = std::min(scale, drawing.two_rows / (size.y() + size.z()));
  const double free = inner - kColumnGap * static_cast<double>(columns - 1);
  return std::min(scale, tightest(views, columns, 0, free, 0.0));
}

View place(const Wanted& wanted, const DeviceDrawing& drawing, double scale, const Box& column) {
  View view;
  view.kind = wanted.kind;
  view.scale = scale;
  view.size = drawing.device.size;
  const double spare = column.width() - wanted.width(scale);
  const double left = column.left + wanted.rooms.left + std::max(0.0, 0.5 * spare);
  const double top = column.top + kViewHead + wanted.rooms.above;
  view.chassis = {left, top, left + scale * wanted.extent.x, top + scale * wanted.extent.y};
  view.cell = {column.left, column.top, column.right, view.chassis.bottom + wanted.rooms.below};
  return view;
}

}  // namespace

bool is_narrow(const DeviceDrawing& drawing) { return drawing.width < kNarrow; }

double edge_of(const DeviceDrawing& drawing) {
  return drawing.surroundings == Surroundings::page ? kPageMargin : kPageEdge;
}

DeviceLayout lay_out_device(const DeviceDrawing& drawing, double top) {
  const std::vector<Wanted> views = wanted_views(drawing);
  DeviceLayout layout;
  layout.scale = scale_for(drawing, views);
  const double left_edge = edge_of(drawing), right_edge = drawing.width - left_edge;
  const std::size_t columns = columns_of(drawing, views);
  // What is left of the width goes to all columns alike.
  const double spare =
      (right_edge - left_edge - width_of(views, columns, layout.scale)) / static_cast<double>(columns);
  std::vector<Box> areas;
  double x = left_edge, y = top;
  for (std::size_t column = 0; column < columns; ++column) {
    const double right = x + column_width(views, column, columns, layout.scale) + spare;
    areas.push_back({x, top, column + 1 == columns ? right_edge : right, top});
    x = right + kColumnGap;
  }
  layout.views.resize(views.size());
  for (std::size_t row = 0; row * columns < views.size(); ++row) {
    double bottom = y;
    for (std::size_t i = 0; i < views.size(); ++i) {
      if (slot_of(i, columns).row != row) continue;
      Box area = areas[slot_of(i, columns).column];
      area.top = y;
      layout.views[i] = place(views[i], drawing, layout.scale, area);
      bottom = std::max(bottom, layout.views[i].cell.bottom);
    }
    for (std::size_t i = 0; i < views.size(); ++i)
      if (slot_of(i, columns).row == row) layout.views[i].cell.bottom = bottom;
    y = bottom;
  }
  layout.bottom = y;
  return layout;
}

std::optional<ViewKind> arrow_view_of(geometry::Face face, const std::vector<ViewKind>& views) {
  if (geometry::contains(views, arrow_view(face))) return arrow_view(face);
  for (const ViewKind kind : views) {
    const double towards = geometry::face_normal(face).dot(view_frame(kind).towards);
    if (towards > -0.5 && towards < 0.5) return kind;
  }
  return std::nullopt;
}

std::vector<ViewKind> kinds_of(const DeviceLayout& layout) {
  std::vector<ViewKind> kinds;
  for (const View& view : layout.views) kinds.push_back(view.kind);
  return kinds;
}

}  // namespace tuft::figure
