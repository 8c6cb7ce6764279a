// The solver for a page: solves a condition of a model in any pose, and draws it. The same code runs here and
// in a browser.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"
#include "tools/io/case_json.hpp"

namespace tuft::page {

/// A drawing for a page as SVG (Surroundings::page). The request holds
/// - view: "standing", the device as it stands in the room, or "sides", to scale, from six sides
/// - condition: its name; surface and lid are taken from it
/// - solution: what an entry of `conditions` or of a sweep's `points` has in results.json: `pose_to_world`,
///   `room_density_kg_m3`, `vents`
/// - title: begins the alt text
/// - width [px]
/// - axis, standing alone: every pose about this axis has to fit at the same scale
/// - largest_flow_m3_s, standing alone: what the longest arrow stands for; else the largest in this drawing
///
/// Throws std::exception where the request or its numbers don't fit the model.
std::string drawing(const geometry::Case& content, const io::Json& request);

/// What a solved condition (as `solution` above) does, to be laid over a photo of the device: signs, arrows
/// and words as SVG on nothing, in the pixels of the photo, whose size is that which it states. Throws as
/// above.
std::string photo_overlay(const geometry::Case& content, const io::Json& condition,
                          const geometry::Photo& photo);

/// The largest flow that an arrow is drawn for in any of these solutions [m3/s]: drawings that are compared
/// have one scale.
double largest_flow(const geometry::Case& content, const io::Json& solutions);

/// A model that is solved and drawn again and again.
class Engine {
 public:
  /// The model as JSON text (tools/io/case_json.hpp); throws io::ModelError.
  explicit Engine(const std::string& model_text);

  /// Solves the condition with the device turned about an axis of its own by an angle [deg] from lying flat,
  /// from rest, exactly as a point of a sweep is solved. JSON text with what such a point has in
  /// results.json: `angle_deg`, `pose_to_world`, `solved` and so on. Throws std::invalid_argument for a
  /// condition that is not there, an axis without length, or a number of the model that its law refuses.
  std::string turned(int condition, const geometry::Vec3& axis, double angle_deg) const;

  /// The drawing() that a request asks for, as JSON text.
  std::string drawn(const std::string& request) const;

  /// largest_flow() of a list of solutions, as JSON text.
  double largest(const std::string& solutions) const;

 private:
  geometry::Case content_;
};

/// A text that stands for all sources of the engine; it is in the program and, as bytes, in the file of the
/// engine. Both were made from the same sources when these are the same.
const char* mark();

}  // namespace tuft::page
