// A device in use and at the bench, side by side and in parallel projection, with strips hanging as they
// would be seen.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/device_drawing.hpp"

namespace tuft::figure {

/// A strip before a vent.
struct StripDrawing {
  int vent = 0;                              ///< index into Device::vents
  std::vector<geometry::Vec3> still, shape;  ///< from hold to tip in still air and as blown, device frame [m]
};

/// One half of the drawing.
struct BenchPanel {
  std::string heading, remark;
  geometry::Pose pose;
  bool rests = true;  ///< on something level under it; else free in the air
  bool lid = false;   ///< the device's lid is drawn, open by `lid_angle` [rad]
  double lid_angle = 0.0;
  std::vector<VentFlow> flows;  ///< one per Device::vents
  std::vector<StripDrawing> strips;
  std::vector<std::string> words;  ///< one per Device::vents: what a strip there shows; may be empty
};

struct BenchDrawing {
  std::string title, subtitle, note;
  geometry::Device device;
  BenchPanel use, bench;
  double width = 1000.0;  ///< [px], 900..8000; the height follows
  Surroundings surroundings = Surroundings::adaptive;
  geometry::UnitSystem units = geometry::UnitSystem::metric;
};

/// The drawing as an SVG document: both halves to one scale, seen from where most vents are in sight, vents
/// numbered, with signs and arrows for what they do (dashed where they face away), strips in still air
/// (faint) and as blown, gravity down the page; below each half a line a vent. Leaks are left out. Elements
/// carry data-panel, data-vent, data-role. Throws std::invalid_argument when sizes or flows do not fit.
std::string bench_drawing(const BenchDrawing& drawing);

}  // namespace tuft::figure
