#include "tools/io/solution_json.hpp"

#include "tools/io/result_fields.hpp"
namespace tuft::io {
namespace {

const std::string& vent_name(const geometry::Case& content, int vent) {
  return content.device.vents[static_cast<std::size_t>(vent)].name;
}

Json vent_json(const geometry::Case& content, const study::VentResult& vent) {
  return fields_json({{"vent", vent_name(content, vent.vent)},
                      {"leak", content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak}},
                     vent);
}

Json skin_json(const geometry::Case& content, const study::SkinResult& skin) {
  const geometry::Skin& patch = content.device.skins[static_cast<std::size_t>(skin.skin)];
  Json json = fields_json({{"skin", patch.name}, {"face", geometry::word_of(patch.face)}}, skin);
  json["material"] = geometry::word_of(patch.material);
  json["contact_s"] = plain(*patch.contact);
  for_each_limit(skin, AddFields(json));
  return json;
}

// The named results of a list, each with its fields.
template <class Results>
Json named_json(const char* kind, const Results& results) {
  Json list = Json::array();
  for (const auto& result : results) list.push_back(fields_json({{kind, result.name}}, result));
  return list;
}

void add_heat(Json& json, const geometry::Case& content, const study::ConditionResult& result) {
  json["heat"] = {{"with_air_W", plain(result.heat.with_air)},
                  {"through_skin_W", plain(result.heat.through_skin)}};
  json["sources"] = named_json("source", result.sources);
  json["parts"] = named_json("part", result.parts);
  json["skin"] = Json::array();
  for (const auto& skin : result.skins) json["skin"].push_back(skin_json(content, skin));
  json["screen_edges"] = Json::array();
  for (const auto& edge : result.lid_edges)
    json["screen_edges"].push_back(fields_json({{"vent", vent_name(content, edge.vent)}}, edge));
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
  json["zones"] = named_json("zone", result.zones);
  json["fans"] = named_json("fan", result.fans);
  json["fins"] = named_json("fins", result.fins);
  json["beyond_laminar"] = Json::array();
  for (const auto& range : result.beyond_laminar)
    json["beyond_laminar"].push_back(
        fields_json({{"kind", laminar_word(range.kind)}, {"name", range.name}}, range));
  add_heat(json, content, result);
  if (result.states.looked_for) json["states"] = states_json(content, result.states);
}

const char* source_state_word(network::SourceState state) {
  switch (state) {
    case network::SourceState::full:
      return "full";
    case network::SourceState::throttled:
      return "throttled";
    case network::SourceState::starved:
      return "least-power";
    case network::SourceState::shut_down:
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

}  // namespace tuft::io
