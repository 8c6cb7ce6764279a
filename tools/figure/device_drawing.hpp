// A device to scale, in six views, with what each vent does.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/device/device.hpp"
#include "geometry/device/pose.hpp"
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
};

/// A drawing of a device.
struct DeviceDrawing {
  std::string title, subtitle;
  std::string description;  ///< alt text; empty: one sentence a vent
  geometry::Device device;
  geometry::Pose pose;
  std::vector<VentFlow> flows;  ///< one per Device::vents; empty: the device alone, with sizes instead
  std::vector<ViewKind> views;  ///< which of the six; empty: all
  std::string note;
  double width = 1280.0;  ///< [px], 640..8000; the height follows
  Surroundings surroundings = Surroundings::adaptive;
};

/// The drawing as an SVG document: top, base, front, rear, left and right (or some of them), all to one
/// scale. Vents stand where the device says, with a sign for their role; arrows as long as their flow stand
/// where a face is seen from the side; fans, fins, zones and skin are drawn faintly; every view shows where
/// gravity points. Leaks are left out. Elements carry data-vent, data-view, data-role and data-flow. No text
/// lies on text; what finds no room is named below. Throws std::invalid_argument when sizes or flows are not
/// as said above.
std::string device_drawing(const DeviceDrawing& drawing);

}  // namespace tuft::figure
