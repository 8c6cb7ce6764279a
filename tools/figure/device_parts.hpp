// What the files of the device drawing share. For device_*.cpp only.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/device_drawing.hpp"
#include "tools/figure/placer.hpp"
#include "tools/figure/view.hpp"

namespace tuft::figure {

/// Where everything stands.
struct DeviceLayout {
  std::vector<View> views;  ///< those chosen, in the order of kViews
  double scale = 1000.0;    ///< [px/m]
  double bottom = 0.0;      ///< of the views [px]
};
DeviceLayout lay_out_device(const DeviceDrawing& drawing, double top);

/// The view of a kind, null when it was not chosen.
const View* view_of(const DeviceLayout& layout, ViewKind kind);
/// The kinds of the views that are there.
std::vector<ViewKind> kinds_of(const DeviceLayout& layout);
/// Where a vent's arrow is drawn among these views: arrow_view() if it is one of them, else the first that
/// sees the face from the side; none when no view does.
std::optional<ViewKind> arrow_view_of(geometry::Face face, const std::vector<ViewKind>& views);

/// A drawing under way: the page, what stands where, and what found no room.
struct Canvas {
  Svg& svg;
  Placer placer = {};
  std::vector<std::string> left_out = {};
};

/// Lines of text that belong together, the first one bold.
struct Label {
  std::vector<std::string> lines;
  double size = 12.0;
  Paint first = Paint::text;
  Paint rest = Paint::muted;
  bool bold = true;
};

/// Writes a label beside an anchor, with a leader if it stands apart; notes the first line when there is no
/// room. False then.
bool write_label(const Label& label, const Box& anchor, const Box& room, Canvas& canvas,
                 const Box& shunned = {});
/// Writes a label within an area if there is room; else notes it.
bool write_within(const Label& label, const Box& area, Canvas& canvas);

/// Notes four edges of a box as busy.
void busy_edges(const Box& box, Canvas& canvas);

/// Names fit for a label: isolated and shortened to `width` [px].
std::string label_name(const std::string& name, double width, double size, bool bold);

/// Heading of a view with its gravity sign.
void draw_view_heading(const View& view, const DeviceDrawing& drawing, Canvas& canvas);
/// Outline of the device with its feet.
void draw_body(const View& view, const geometry::Device& device, Canvas& canvas);
/// Zones, fins, fans and skin, without their names.
void draw_inside(const View& view, const geometry::Device& device, Canvas& canvas);
/// Their names, in the view that shows each.
void name_inside(const View& view, const geometry::Device& device, Canvas& canvas);

/// Vents of a view: rectangles where their face is seen, bars where it is seen from the side.
void draw_vents(const View& view, const DeviceDrawing& drawing, Canvas& canvas);
/// Arrows of a view, or the sign of vents that move no air; what is drawn for each vent (empty boxes for the
/// vents of other views). `views`: all views of the drawing.
std::vector<Box> draw_arrows(const View& view, const std::vector<ViewKind>& views,
                             const DeviceDrawing& drawing, double pixels_per_flow, Canvas& canvas);
/// Length of the longest arrow, and of the shortest that is drawn [px].
constexpr double kLongestArrow = 54.0, kShortestArrow = 9.0;
/// Pixels per flow [px s/m3], so that the largest flow gets the longest arrow; 0 without flows.
double arrow_scale(const DeviceDrawing& drawing);

/// Labels of all vents: in full where the vent's face is drawn largest, the flow alone at other arrows.
/// `arrows`: one list a view of the layout.
void name_vents(const DeviceLayout& layout, const DeviceDrawing& drawing,
                const std::vector<std::vector<Box>>& arrows, Canvas& canvas);

/// What a vent does.
Doing doing_of(const DeviceDrawing& drawing, std::size_t vent);
/// One sentence on a vent: "takes air in, 1.2 L/s, 54 %".
std::string vent_sentence(const VentFlow& flow);

}  // namespace tuft::figure
