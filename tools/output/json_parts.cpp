#include "tools/output/json_parts.hpp"

#include <algorithm>
#include <cmath>

#include "tools/output/heat_words.hpp"
#include "tools/output/json_setting.hpp"
#include "tools/output/json_values.hpp"
#include "tools/output/numbers.hpp"
#include "tools/output/range_words.hpp"
#include "tools/output/words.hpp"

namespace tuft::output {
namespace {

const std::string& vent_name(const Run& run, int vent) {
  return run.content.device.vents[static_cast<std::size_t>(vent)].name;
}

Json vent_json(const Run& run, const study::VentResult& vent) {
  Json json;
  json["vent"] = vent_name(run, vent.vent);
  json["leak"] = run.content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak;
  json["role"] = geometry::role_word(vent.role);
  json["firm"] = vent.firm;
  json["share"] = plain(vent.share);
  json["face_velocity_m_s"] = plain(vent.face_velocity);
  json["inflow_kg_s"] = plain(vent.inflow);
  json["outflow_kg_s"] = plain(vent.outflow);
  json["exchange_kg_s"] = plain(vent.exchange);
  json["temperature_in_K"] = plain(vent.temperature_in);
  json["temperature_out_K"] = plain(vent.temperature_out);
  json["pressure_Pa"] = plain(vent.pressure);
  json["fan_head_Pa"] = plain(vent.fan_head);
  json["buoyancy_head_Pa"] = plain(vent.buoyancy_head);
  json["span_head_Pa"] = plain(vent.span_head);
  json["shut"] = vent.shut;
  json["neutral_level"] = vent.has_neutral_level ? Json(plain(vent.neutral_level)) : Json(nullptr);
  return json;
}

Json zone_json(const study::ZoneResult& zone) {
  return {
      {"zone", zone.name}, {"pressure_Pa", plain(zone.pressure)}, {"temperature_K", plain(zone.temperature)}};
}

Json fan_json(const study::FanResult& fan) {
  return {{"fan", fan.name},
          {"running", fan.running},
          {"follows", fan.follows},
          {"cooling_speed_rev_s", fan.follows ? Json(plain(fan.cooling_speed)) : Json(nullptr)},
          {"speed_rev_s", plain(fan.speed)},
          {"volume_flow_m3_s", plain(fan.volume_flow)},
          {"pressure_rise_Pa", plain(fan.pressure_rise)},
          {"temperature_K", plain(fan.temperature)}};
}

Json fin_json(const study::FinResult& fin) {
  return {{"fins", fin.name},
          {"volume_flow_m3_s", plain(fin.volume_flow)},
          {"temperature_K", plain(fin.temperature)}};
}

Json source_json(const study::SourceResult& source) {
  return {
      {"source", source.name},
      {"asked_W", plain(source.asked)},
      {"power_W", plain(source.power)},
      {"state", source_state_word(source.state)},
      {"temperature_K", source.has_temperature ? Json(plain(source.temperature)) : Json(nullptr)},
      {"throttles_at_K", source.throttles_at > 0.0 ? Json(plain(source.throttles_at)) : Json(nullptr)},
      {"shuts_down_at_K", source.shuts_down_at > 0.0 ? Json(plain(source.shuts_down_at)) : Json(nullptr)}};
}

Json skin_json(const Run& run, const study::SkinResult& skin) {
  const geometry::Skin& patch = run.content.device.skins[static_cast<std::size_t>(skin.skin)];
  return {{"skin", patch.name},
          {"face", geometry::face_word(patch.face)},
          {"temperature_K", plain(skin.temperature)},
          {"lies_on_something", skin.lies_on},
          {"heat_out_W", plain(skin.heat_out)},
          {"material", material_word(patch.material)},
          {"contact_s", plain(*patch.contact)},
          {"touch_limit_K", plain(skin.limit)},
          {"touch_limit_source", skin.limit_seen ? "seen" : "from memory"}};
}

void add_heat(Json& json, const Run& run, const study::ConditionResult& result) {
  json["heat"] = {{"with_air_W", plain(result.heat.with_air)},
                  {"through_skin_W", plain(result.heat.through_skin)}};
  json["sources"] = Json::array();
  for (const auto& source : result.sources) json["sources"].push_back(source_json(source));
  json["parts"] = Json::array();
  for (const auto& part : result.parts)
    json["parts"].push_back({{"part", part.name}, {"temperature_K", plain(part.temperature)}});
  json["skin"] = Json::array();
  for (const auto& skin : result.skins) json["skin"].push_back(skin_json(run, skin));
  json["screen_edges"] = Json::array();
  for (const auto& edge : result.lid_edges)
    json["screen_edges"].push_back({{"vent", vent_name(run, edge.vent)},
                                    {"air_temperature_K", plain(edge.air_temperature)},
                                    {"temperature_K", plain(edge.temperature)}});
}

Json states_json(const Run& run, const study::States& states) {
  Json json = {
      {"stable", states.stable}, {"unstable", states.unstable},   {"growth_per_s", plain(states.growth)},
      {"place", states.place},   {"would_tip", states.would_tip}, {"others", Json::array()}};
  for (const study::OtherState& other : states.others) {
    Json entry = {{"reached_by", other.reached_by}, {"would_tip", other.would_tip}, {"vents", Json::array()}};
    for (const auto& vent : other.vents) entry["vents"].push_back(vent_json(run, vent));
    json["others"].push_back(std::move(entry));
  }
  return json;
}

// The part of a condition that a sweep's points have too.
void add_solution(Json& json, const Run& run, const study::ConditionResult& result) {
  json["solved"] = result.report.converged;
  json["reason"] = result.report.converged ? std::string() : result.report.reason;
  json["iterations"] = result.report.iterations;
  if (!result.report.converged) return;
  json["residual"] = plain(result.report.residual);
  json["balance"] = {{"mass", plain(result.balance.mass)}, {"energy", plain(result.balance.energy)}};
  json["through_flow_kg_s"] = plain(result.through_flow);
  json["power_W"] = plain(result.power);
  json["room_density_kg_m3"] = plain(result.ambient_density);
  json["room_temperature_K"] = plain(result.ambient_temperature);
  json["vents"] = Json::array();
  for (const auto& vent : result.vents) json["vents"].push_back(vent_json(run, vent));
  json["zones"] = Json::array();
  for (const auto& zone : result.zones) json["zones"].push_back(zone_json(zone));
  json["fans"] = Json::array();
  for (const auto& fan : result.fans) json["fans"].push_back(fan_json(fan));
  json["fins"] = Json::array();
  for (const auto& fin : result.fins) json["fins"].push_back(fin_json(fin));
  json["beyond_laminar"] = Json::array();
  for (const auto& range : result.beyond_laminar)
    json["beyond_laminar"].push_back({{"kind", laminar_word(range.kind)},
                                      {"name", range.name},
                                      {"reynolds", plain(range.reynolds)},
                                      {"limit", plain(range.limit)}});
  add_heat(json, run, result);
  if (result.states.looked_for) json["states"] = states_json(run, result.states);
}

const std::string& condition_name(const Run& run, int condition) {
  return run.content.conditions[static_cast<std::size_t>(condition)].name;
}

}  // namespace

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
  add_solution(json, run, result);
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
    add_solution(entry, run, point.result);
    json["points"].push_back(std::move(entry));
  }
  return json;
}

}  // namespace tuft::output
