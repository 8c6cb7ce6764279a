// A device to scale, in six views, with what each vent does.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/device/device.hpp"
#include "geometry/device/pose.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/svg.hpp"
#include "tools/figure/view.hpp"

namespace tuft::figure {

/// What one vent does in the condition that is drawn.
struct VentFlow {
  geometry::Role role = geometry::Role::idle;
  bool shut = false;                  ///< no way through at all
  bool firm = true;                   ///< false: the role is a close call, and the label says so
  double inflow = 0.0;                ///< gross, >= 0 [m3/s]
  double outflow = 0.0;               ///< gross, >= 0 [m3/s]
  double share = 0.0;                 ///< larger gross flow over the through-flow [-]
  std::optional<double> temperature;  ///< of the air that passes [K]; shown where air leaves

  VentState vent_state() const { return {role, shut}; }
};

/// What a device lies on or hangs at.
struct Rest {
  geometry::SupportKind kind = geometry::SupportKind::air;
  std::string name = {};  ///< written beside it; may be empty

  bool is_soft() const { return kind == geometry::SupportKind::soft || kind == geometry::SupportKind::lap; }
};
/// The face that lies on it; none where a device hangs free or leans on an edge.
std::optional<geometry::Face> resting_face(const Rest& rest, const geometry::Pose& pose);

/// A drawing of a device.
struct DeviceDrawing {
  std::string title, subtitle;
  geometry::Device device;
  geometry::Pose pose;
  Rest rest;                    ///< drawn in the views that see it from its edge
  std::vector<VentFlow> flows;  ///< one per Device::vents; empty: the device alone, with sizes instead
  std::vector<ViewKind> views;  ///< which of the six; empty: all
  std::string note;
  double width = 1280.0;  ///< [px], 300..8000; the height follows. Below 640 the views stand in one column
  Surroundings surroundings = Surroundings::adaptive;
  geometry::UnitSystem units = geometry::UnitSystem::metric;
  int columns = 2;          ///< of views where there is room for more than one; 3 only with all six
  double two_rows = 225.0;  ///< height of two views below each other in three columns, at most [px]
};

/// The drawing as an SVG document: top, base, front, rear, left and right (or some of them), all to one
/// scale. Vents stand where the device says, with a sign for their role; arrows as long as their flow stand
/// where a face is seen from the side; fans, fins, zones and skin are drawn faintly; every view shows where
/// gravity points. Leaks are left out. Elements carry data-vent, data-view, data-role and data-flow. No text
/// lies on text; what finds no room is named below. Throws std::invalid_argument when sizes or flows are not
/// as said above.
std::string device_drawing(const DeviceDrawing& drawing);

/// A device as it stands in the room, with what each vent does.
struct StandingDrawing {
  std::string title;  ///< begins the alt text; nothing is written above the drawing
  geometry::Device device;
  geometry::Pose pose;
  Rest rest;
  std::optional<double> lid_angle;   ///< none: the lid is left out [rad]
  std::vector<VentFlow> flows;       ///< one per Device::vents
  double largest_flow = 0.0;         ///< what the longest arrow stands for [m3/s]; 0: the largest of `flows`
  std::vector<geometry::Pose> fits;  ///< poses that all have to fit at the same scale; empty: its own
  double width = 640.0;              ///< [px], 300..8000; the height follows
  Surroundings surroundings = Surroundings::adaptive;
  geometry::UnitSystem units = geometry::UnitSystem::metric;
};

/// The drawing as an SVG document: the device in its pose, seen a little from above and always from the same
/// side of the room, on what it lies on; vents that face away are dashed, and a dashed line leads to their
/// arrows. Arrows are as long as their flow. Elements carry data-vent, data-role and data-flow. No text lies
/// on text; what finds no room is named below. Throws std::invalid_argument as device_drawing() does.
std::string standing_drawing(const StandingDrawing& drawing);

/// The same with words around it, and how far it is turned: a picture of a film. What it lies on stays where
/// it is in all pictures whose `fits` agree; the device turns above it. `turned`: such as "30°". `height`
/// [px] holds all of it. Throws as above, and for a height that leaves too little for the device.
std::string turned_drawing(const StandingDrawing& drawing, const Heading& heading, const std::string& turned,
                           double height);

/// The largest flow that an arrow is drawn for [m3/s].
double largest_flow(const geometry::Device& device, const std::vector<VentFlow>& flows);

}  // namespace tuft::figure
