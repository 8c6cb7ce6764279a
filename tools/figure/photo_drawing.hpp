// What each vent does, drawn on a photo of the device, or alone, to be laid over it.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/device_drawing.hpp"

namespace tuft::figure {

/// A photo with what is drawn on it.
struct PhotoDrawing {
  std::string title, subtitle;  ///< for people who cannot see the picture; the note is written below it
  std::string note;
  geometry::Device device;
  std::vector<VentFlow> flows;  ///< one per Device::vents
  Rest rest;                    ///< drawn where the photo sees it from its edge; said where it hides the face
  geometry::Pose pose;          ///< of the device as it is computed, not as it was photographed
  geometry::Photo photo;
  double picture_width = 0.0,
         picture_height = 0.0;  ///< of the picture [px]; places of the case are scaled to it
  std::string jpeg;             ///< the picture, a JPEG's bytes in base 64; empty: nothing, and no ground
  bool words = true;            ///< names, roles, flows and shares beside the signs
  double type_size = 17.0;      ///< of words [px]; signs and arrows grow with it
  geometry::UnitSystem units = geometry::UnitSystem::metric;
  double largest_flow = 0.0;  ///< what the longest arrow stands for [m3/s]; 0: the largest of `flows`
  int width = 1920,
      height = 1080;  ///< of the figure [px]; the picture lies in its middle, as large as it fits
};

/// The drawing as an SVG document. A vent of the face shown has its outline and the sign of its role; one of
/// a face seen from the side has an arrow at that edge, as long as its flow; on a photo of the inside, those
/// of base and top are dashed. What the device lies on stands along the edge where it is. Vents of the far
/// face and leaks are left out. No text lies on text; what finds no room goes without. Elements carry
/// data-vent, data-role and data-flow. Throws std::invalid_argument when the photo's places state no plane,
/// or counts do not agree.
std::string photo_drawing(const PhotoDrawing& drawing);

}  // namespace tuft::figure
