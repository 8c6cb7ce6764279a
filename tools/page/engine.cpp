#include "tools/page/engine.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/numerics/constants.hpp"
#include "solver/study/predict.hpp"
#include "tools/figure/device_drawing.hpp"
#include "tools/figure/photo_drawing.hpp"
#include "tools/io/solution_json.hpp"

namespace tuft::page {
namespace {

using geometry::Role;
using io::Json;

constexpr double kFitStep = 15.0;    // between the angles that have to fit [degree]
constexpr double kPhotoType = 15.0;  // of words on a photo [px]

const geometry::Condition& condition_named(const geometry::Case& content, const std::string& name) {
  for (const geometry::Condition& condition : content.conditions)
    if (condition.name == name) return condition;
  throw std::invalid_argument("condition '" + name + "' is not in the model");
}

Role role_of(const std::string& word) {
  if (word == geometry::word_of(study::Doing::shut)) return Role::idle;  // it says by itself that it is shut
  for (const Role role : {Role::intake, Role::exhaust, Role::both_ways, Role::idle})
    if (word == geometry::role_word(role)) return role;
  throw std::invalid_argument("no role is called '" + word + "'");
}

std::vector<figure::VentFlow> flows_of(const Json& solution) {
  const double density = solution.at("room_density_kg_m3");
  std::vector<figure::VentFlow> flows;
  for (const Json& vent : solution.at("vents")) {
    figure::VentFlow flow;
    flow.role = role_of(vent.at("role"));
    flow.shut = vent.at("shut");
    flow.firm = vent.at("firm");
    flow.inflow = vent.at("inflow_kg_s").get<double>() / density;
    flow.outflow = vent.at("outflow_kg_s").get<double>() / density;
    flow.share = vent.at("share");
    flow.temperature = vent.at("temperature_out_K").get<double>();
    flows.push_back(flow);
  }
  return flows;
}

geometry::Pose pose_of(const Json& solution) {
  geometry::Pose pose;
  const Json& rows = solution.at("pose_to_world");
  for (int i = 0; i < 3; ++i)
    for (int k = 0; k < 3; ++k) pose.to_world(i, k) = rows.at(i).at(k);
  return pose;
}

figure::Rest rest_of(const geometry::Case& content, const geometry::Condition& condition) {
  const geometry::Support& support = content.supports.at(condition.support);
  return {support.kind, support.name};
}

std::string standing(const geometry::Case& content, const Json& request) {
  const geometry::Condition& condition = condition_named(content, request.at("condition"));
  figure::StandingDrawing drawing;
  drawing.title = request.at("title");
  drawing.device = content.device;
  drawing.units = content.units;
  drawing.pose = pose_of(request.at("solution"));
  drawing.flows = flows_of(request.at("solution"));
  drawing.rest = rest_of(content, condition);
  if (content.device.lid.present)
    drawing.lid_angle = condition.lid_given ? *condition.lid_angle : *content.device.lid.angle;
  if (request.contains("axis")) {
    const Json& axis = request["axis"];
    const geometry::Vec3 about(axis.at(0), axis.at(1), axis.at(2));
    for (double angle = 0.0; angle < 360.0; angle += kFitStep)
      drawing.fits.push_back(geometry::tilted("", about, angle * numerics::kDegree));
  }
  drawing.largest_flow = request.value("largest_flow_m3_s", 0.0);
  drawing.width = request.at("width");
  drawing.surroundings = figure::Surroundings::page;
  return figure::standing_drawing(drawing);
}

std::string sides(const geometry::Case& content, const Json& request) {
  const geometry::Condition& condition = condition_named(content, request.at("condition"));
  figure::DeviceDrawing drawing;
  drawing.title = request.at("title");
  drawing.device = content.device;
  drawing.units = content.units;
  drawing.pose = pose_of(request.at("solution"));
  drawing.pose.name = content.poses.at(condition.pose).name;
  drawing.rest = rest_of(content, condition);
  drawing.flows = flows_of(request.at("solution"));
  drawing.width = request.at("width");
  drawing.surroundings = figure::Surroundings::page;
  return figure::device_drawing(drawing);
}

}  // namespace

std::string drawing(const geometry::Case& content, const io::Json& request) {
  if (request.at("view") == "standing") return standing(content, request);
  if (request["view"] == "sides") return sides(content, request);
  throw std::invalid_argument("no such view of a device");
}

std::string photo_overlay(const geometry::Case& content, const io::Json& condition,
                          const geometry::Photo& photo) {
  const geometry::Condition& solved = condition_named(content, condition.at("name"));
  figure::PhotoDrawing drawing;
  drawing.title = photo.name + ", " + solved.name;
  drawing.device = content.device;
  drawing.units = content.units;
  drawing.flows = flows_of(condition);
  drawing.rest = rest_of(content, solved);
  drawing.pose = pose_of(condition);
  drawing.photo = photo;
  drawing.picture_width = photo.width;
  drawing.picture_height = photo.height;
  drawing.width = static_cast<int>(photo.width);
  drawing.height = static_cast<int>(photo.height);
  drawing.type_size = kPhotoType;
  return figure::photo_drawing(drawing);
}

double largest_flow(const geometry::Case& content, const io::Json& solutions) {
  double largest = 0.0;
  for (const Json& solution : solutions)
    largest = std::max(largest, figure::largest_flow(content.device, flows_of(solution)));
  return largest;
}

Engine::Engine(const std::string& model_text) : content_(io::case_of_text(model_text)) {}

std::string Engine::turned(int condition, const geometry::Vec3& axis, double angle_deg) const {
  if (condition < 0 || static_cast<std::size_t>(condition) >= content_.conditions.size())
    throw std::invalid_argument("condition " + std::to_string(condition) + " is not in the model");
  if (!std::isfinite(angle_deg) || !axis.allFinite() || !(axis.norm() > 0.0))
    throw std::invalid_argument("an axis with a length and a finite angle are needed to turn a device");
  const geometry::Pose pose = geometry::tilted("", axis, angle_deg * numerics::kDegree);
  io::Json json = {{"angle_deg", io::plain(angle_deg)}, {"pose_to_world", io::matrix_json(pose.to_world)}};
  io::add_solution(json, content_, study::predict_in_pose(content_, condition, pose));
  return json.dump(-1, ' ', false, io::Json::error_handler_t::replace);
}

std::string Engine::drawn(const std::string& request) const {
  return drawing(content_, io::Json::parse(request));
}

double Engine::largest(const std::string& solutions) const {
  return largest_flow(content_, io::Json::parse(solutions));
}

}  // namespace tuft::page
