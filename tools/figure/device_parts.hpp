// What the drawings of a device share. For device_*.cpp and standing_drawing.cpp only.
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

/// As on a phone: one column, short labels, no names of what lies inside.
bool is_narrow(const DeviceDrawing& drawing);
/// Margin at both sides [px]; a page has its own.
double edge_of(const DeviceDrawing& drawing);

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

/// Outline of the device with its feet.
void draw_body(const View& view, const geometry::Device& device, Canvas& canvas);
/// Zones, fins, fans and skin, without their names.
void draw_inside(const View& view, const geometry::Device& device, Canvas& canvas);
/// Their names, in the view that shows each.
void name_inside(const View& view, const geometry::Device& device, Canvas& canvas);

/// What the device lies on, where a view sees it from its edge; the box it takes, an empty one for none.
Box draw_support(const View& view, const DeviceDrawing& drawing, Canvas& canvas);
/// Its name beside that box.
void name_support(const View& view, const Box& band, const DeviceDrawing& drawing, Canvas& canvas);
/// Room that it takes beside the device [px], to the right and downwards; negative: to the left, upwards.
Point room_for_support(ViewKind kind, const DeviceDrawing& drawing);

/// Vents of a view: rectangles where their face is seen, bars where it is seen from the side.
void draw_vents(const View& view, const DeviceDrawing& drawing, Canvas& canvas);
/// Arrows of a view, or the sign of vents that move no air; what is drawn for each vent (empty boxes for the
/// vents of other views). `views`: all views of the drawing.
std::vector<Box> draw_arrows(const View& view, const std::vector<ViewKind>& views,
                             const DeviceDrawing& drawing, double pixels_per_flow, Canvas& canvas);
/// Length of the longest arrow, and of the shortest that is drawn [px].
constexpr double kLongestArrow = 54.0, kShortestArrow = 9.0;
constexpr double kSmallMark = 7.0;  ///< radius of the sign of a vent that moves no air [px]
constexpr double kOffFace = 5.0;    ///< between face and arrow [px]

/// Air that passes a vent one way.
struct Stream {
  double flow = 0.0;  ///< [m3/s]
  bool out = false;
  double aside = 0.0;  ///< of its arrow, along the edge [px]
};
/// The streams that arrows are drawn for. Where a vent breathes both ways in a pose, warm air leaves by its
/// upper end: the arrow out stands on that side. `out`: unit vector out of the face; `up`: against gravity.
/// Across the edge `up` says nothing, and the arrows stand as they would lying.
std::vector<Stream> streams_of(const VentFlow& flow, const Point& out, const Point& up);
/// Length of a stream's arrow [px].
double arrow_length(const Stream& stream, double pixels_per_flow);
/// Draws an arrow whose foot stands off `foot` on the page along the unit vector `out`; the box it takes.
Box draw_stream(const Stream& stream, const Point& foot, const Point& out, double length,
                const VentState& vent_state, const Tags& tags, Svg& svg);

/// Labels of all vents: in full where the vent's face is drawn largest, the flow alone at other arrows.
/// `arrows`: one list a view of the layout.
void name_vents(const DeviceLayout& layout, const DeviceDrawing& drawing,
                const std::vector<std::vector<Box>>& arrows, Canvas& canvas);

/// Name, and each stream in a line of its own: "in 0.044 L/s", "out 0.032 L/s"; or that there is none.
Label flow_label_of(const geometry::Vent& vent, const VentFlow& flow, geometry::UnitSystem units);
/// One sentence a vent, with its face.
std::string vent_sentences(const geometry::Device& device, const std::vector<VentFlow>& flows,
                           geometry::UnitSystem units);
/// What found no room, then a note.
std::string small_print(const Canvas& canvas, const std::string& note);
/// Throws std::invalid_argument unless sizes, flows and width are as device_drawing() has them.
void check_drawn(const geometry::Device& device, const std::vector<VentFlow>& flows, double width);

}  // namespace tuft::figure
