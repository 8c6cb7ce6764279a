#include "tools/io/solution_json.hpp"

#include "tools/io/model_words.hpp"

namespace tuft::model {
namespace {

const std::string& vent_name(const geometry::Case& content, int vent) {
  return content.device.vents[static_cast<std::size_t>(vent)].name;
}

Json vent_json(const geometry::Case& content, const study::VentResult& vent) {
  Json json;
  json["vent"] = vent_name(content, vent.vent);
  json["leak"] = content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak;
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

Json skin_json(const geometry::Case& content, const study::SkinResult& skin) {
  const geometry::Skin& patch = content.device.skins[static_cast<std::size_t>(skin.skin)];
  return {{"skin", patch.name},
          {"face", geometry::word_of(patch.face)},
          {"temperature_K", plain(skin.temperature)},
          {"lies_on_something", skin.lies_on},
          {"heat_out_W", plain(skin.heat_out)},
          {"material", geometry::word_of(patch.material)},
          {"contact_s", plain(*patch.contact)},
          {"touch_limit_K", plain(skin.limit)},
          {"touch_limit_source", skin.limit_seen ? "seen" : "from memory"}};
}

void add_heat(Json& json, const geometry::Case& content, const study::ConditionResult& result) {
  json["heat"] = {{"with_air_W", plain(result.heat.with_air)},
                  {"through_skin_W", plain(result.heat.through_skin)}};
  json["sources"] = Json::array();
  for (const auto& source : result.sources) json["sources"].push_back(source_json(source));
  json["parts"] = Json::array();
  for (const auto& part : result.parts)
    json["parts"].push_back({{"part", part.name}, {"temperature_K", plain(part.temperature)}});
  json["skin"] = Json::array();
  for (const auto& skin : result.skins) json["skin"].push_back(skin_json(content, skin));
  json["screen_edges"] = Json::array();
  for (const auto& edge : result.lid_edges)
    json["screen_edges"].push_back({{"vent", vent_name(content, edge.vent)},
                                    {"air_temperature_K", plain(edge.air_temperature)},
                                    {"temperature_K", plain(edge.temperature)}});
}

Json states_json(const geometry::Case& content, const study::States& states) {
  Json json = {
      {"stable", states.stable}, {"unstable", states.unstable},   {"growth_per_s", plain(states.growth)},
      {"place", states.place},   {"would_tip", states.would_tip}, {"others", Json::array()}};
  for (const study::OtherState& other : states.others) {
    Json entry = {{"reached_by", other.reached_by}, {"would_tip", other.would_tip}, {"vents", Json::array()}};
    for (const auto& vent : other.vents) entry["vents"].push_back(vent_json(content, vent));
    json["others"].push_back(std::move(entry));
  }
  return json;
}

}  // namespace

void add_solution(Json& json, const geometry::Case& content, const study::ConditionResult& result) {
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
  for (const auto& vent : result.vents) json["vents"].push_back(vent_json(content, vent));
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
  add_heat(json, content, result);
  if (result.states.looked_for) json["states"] = states_json(content, result.states);
}

const char* source_state_word(heat::SourceState state) {
  switch (state) {
    case heat::SourceState::full:
      return "full";
    case heat::SourceState::throttled:
      return "throttled";
    case heat::SourceState::starved:
      return "least-power";
    case heat::SourceState::shut_down:
      return "shut-down";
  }
  return "";
}

const char* laminar_word(network::LaminarKind kind) {
  switch (kind) {
    case network::LaminarKind::passage:
      return "passage";
    case network::LaminarKind::fins:
      return "fins";
    case network::LaminarKind::gap:
      return "gap";
    case network::LaminarKind::none:
      break;
  }
  return "";
}

}  // namespace tuft::model
