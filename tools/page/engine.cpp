#include "tools/page/engine.hpp"

#include <cmath>
#include <stdexcept>

#include "solver/numerics/constants.hpp"
#include "solver/study/predict.hpp"
#include "tools/io/case_json.hpp"
#include "tools/io/solution_json.hpp"

namespace tuft::engine {
Engine::Engine(const std::string& model_text) : content_(model::case_of_text(model_text)) {}

std::string Engine::turned(int condition, const geometry::Vec3& axis, double angle_deg) const {
  if (condition < 0 || static_cast<std::size_t>(condition) >= content_.conditions.size())
    throw std::invalid_argument("condition " + std::to_string(condition) + " is not in the model");
  if (!std::isfinite(angle_deg) || !axis.allFinite() || !(axis.norm() > 0.0))
    throw std::invalid_argument("an axis with a length and a finite angle are needed to turn a device");
  const geometry::Pose pose = geometry::tilted("", axis, angle_deg * base::kDegree);
  model::Json json = {{"angle_deg", model::plain(angle_deg)},
                      {"pose_to_world", model::matrix_json(pose.to_world)}};
  model::add_solution(json, content_, study::predict_in_pose(content_, condition, pose));
  return json.dump(-1, ' ', false, model::Json::error_handler_t::replace);
}

}  // namespace tuft::engine
