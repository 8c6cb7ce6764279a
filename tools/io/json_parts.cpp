#include "tools/io/json_parts.hpp"

#include <algorithm>

#include "tools/io/solution_json.hpp"
#include "tools/io/json_setting.hpp"
#include "tools/io/json_values.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::output {
namespace {}  // namespace

const std::string& condition_name(const Run& run, int condition) {
  return run.content.conditions[static_cast<std::size_t>(condition)].name;
}

Json thresholds_json(const geometry::RoleThresholds& thresholds) {
  return {{"idle_share", plain(thresholds.idle_share)},
          {"idle_velocity_m_s", plain(thresholds.idle_velocity)},
          {"still_velocity_m_s", plain(thresholds.still_velocity)},
          {"both_ways_ratio", plain(thresholds.both_ways_ratio)},
          {"margin", plain(thresholds.margin)}};
}

Json condition_json(const Run& run, const study::ConditionResult& result) {
  const auto& content = run.content;
  const auto& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  const auto& pose = content.poses[static_cast<std::size_t>(condition.pose)];
  Json json;
  json["name"] = result.name;
  json["pose"] = pose.name;
  json["pose_to_world"] = matrix_json(pose.to_world);
  add_setting(json, content, condition);
  model::add_solution(json, run.content, result);
  add_words(json, content, result);
  return json;
}

Json sweep_json(const Run& run, const study::SweepResult& result) {
  Json json;
  json["name"] = result.name;
  const auto wanted = std::find_if(run.content.sweeps.begin(), run.content.sweeps.end(),
                                   [&](const geometry::Sweep& sweep) { return sweep.name == result.name; });
  if (wanted != run.content.sweeps.end()) {
    json["condition"] = condition_name(run, wanted->condition);
    json["axis"] = vector_json(wanted->axis);
  }
  json["points"] = Json::array();
  for (const auto& point : result.points) {
    Json entry;
    entry["angle_deg"] = clean_degrees(point.angle);
    if (wanted != run.content.sweeps.end())
      entry["pose_to_world"] = matrix_json(geometry::tilted("", wanted->axis, point.angle).to_world);
    model::add_solution(entry, run.content, point.result);
    json["points"].push_back(std::move(entry));
  }
  return json;
}

}  // namespace tuft::output
