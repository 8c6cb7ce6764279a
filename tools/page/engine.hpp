// The solver for a page: solves a condition of a model in any pose. The same code runs here and in a browser.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"

namespace tuft::engine {

/// A model that is solved again and again.
class Engine {
 public:
  /// The model as JSON text (tools/io/case_json.hpp); throws model::ModelError.
  explicit Engine(const std::string& model_text);

  /// Solves the condition with the device turned about an axis of its own by an angle [deg] from lying flat,
  /// from rest, exactly as a point of a sweep is solved. JSON text with what such a point has in
  /// results.json: `angle_deg`, `pose_to_world`, `solved` and so on. Throws std::invalid_argument for a
  /// condition that is not there, an axis without length, or a number of the model that its law refuses.
  std::string turned(int condition, const geometry::Vec3& axis, double angle_deg) const;

 private:
  geometry::Case content_;
};

}  // namespace tuft::engine
