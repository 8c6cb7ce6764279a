// The six views of a device, and how the device frame maps onto each.
#pragma once

#include <array>
#include <vector>

#include "geometry/device/device.hpp"
#include "geometry/device/pose.hpp"
#include "tools/figure/marks.hpp"

namespace tuft::figure {

enum class ViewKind { top, base, front, rear, left, right };

constexpr std::array<ViewKind, 6> kViews = {ViewKind::top,  ViewKind::base, ViewKind::front,
                                            ViewKind::rear, ViewKind::left, ViewKind::right};

/// The device frame as it lies on the page in a view: unit vectors to the right, up, and towards the reader.
struct ViewFrame {
  geometry::Vec3 right, up, towards;
};
ViewFrame view_frame(ViewKind kind);

/// Word for a view in data-view: the face that is seen.
const char* view_word(ViewKind kind);
/// Its heading, and a remark on how it lies.
const char* view_title(ViewKind kind);
const char* view_remark(ViewKind kind);

/// A view on the page.
struct View {
  ViewKind kind = ViewKind::top;
  Box cell;                                      ///< the part of the page it has to itself [px]
  Box chassis;                                   ///< the device's outline in it [px]
  double scale = 1000.0;                         ///< [px/m]
  geometry::Vec3 size = geometry::Vec3::Zero();  ///< of the device [m]

  /// A point of the device frame on the page.
  Point at(const geometry::Vec3& point) const;
  /// The box of an upright rectangle in the device frame: its centre and half its extents along two axes.
  Box box(const geometry::Vec3& centre, const geometry::Vec3& half_a, const geometry::Vec3& half_b) const;
  /// A direction of the device frame on the page: x to the right, y downwards; not normalised.
  Point direction(const geometry::Vec3& vector) const;
};

/// The upright rectangle that holds a vent in a view; a line (of no width) when it is seen from the side.
Box vent_box(const View& view, const geometry::Vent& vent);
/// A vent's four corners in a view.
std::vector<Point> vent_rim(const View& view, const geometry::Vent& vent);

/// True when the face is turned to the reader of this view.
bool faces(ViewKind kind, geometry::Face face);

/// The view in which a vent's arrow is drawn: the one that looks along its face. Side vents and the hinge
/// slot in the top view, base and top vents in the front view.
ViewKind arrow_view(geometry::Face face);

/// Gravity of a pose in a view.
Gravity gravity_in(ViewKind kind, const geometry::Pose& pose);

}  // namespace tuft::figure
