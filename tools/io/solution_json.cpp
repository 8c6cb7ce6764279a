#include "tools/io/solution_json.hpp"

namespace tuft::io {
namespace {

const std::string& vent_name(const geometry::Case& content, int vent) {
  return content.device.vents[vent].name;
}

Json vent_json(const geometry::Case& content, const study::VentResult& vent) {
  return fields_json(
      {{"vent", vent_name(content, vent.vent)}, {"leak", content.device.vents[vent.vent].is_leak}}, vent);
}

Json skin_json(const geometry::Case& content, const study::SkinResult& skin) {
  const geometry::Skin& patch = content.device.skins[skin.skin];
  Json json = fields_json({{"skin", patch.name}, {"face", geometry::word_of(patch.face)}}, skin);
  json["material"] = geometry::word_of(patch.material);
  json["contact_s"] = plain(*patch.contact);
  for_each_limit(skin, AddFields(json));
  return json;
}

// The named results of a list, each with its fields.
template <class Results>
Json named_json(const char* kind, const Results& results) {
  return list_json(results, [&](const auto& result) { return fields_json({{kind, result.name}}, result); });
}

void add_heat(Json& json, const geometry::Case& content, const study::ConditionResult& result) {
  json["heat"] = {{"with_air_W", plain(result.heat.with_air)},
                  {"through_skin_W", plain(result.heat.through_skin)}};
  json["sources"] = named_json("source", result.sources);
  json["parts"] = named_json("part", result.parts);
  json["skin"] = list_json(result.skins, [&](const auto& skin) { return skin_json(content, skin); });
  json["screen_edges"] = list_json(result.lid_edges, [&](const auto& edge) {
    return fields_json({{"vent", vent_name(content, edge.vent)}}, edge);
  });
}

Json vents_json(const geometry::Case& content, const std::vector<study::VentResult>& vents) {
  return list_json(vents, [&](const auto& vent) { return vent_json(content, vent); });
}

Json states_json(const geometry::Case& content, const study::States& states) {
  const auto other_json = [&](const study::OtherState& other) -> Json {
    return {{"reached_by", other.reached_by},
            {"would_trigger", other.would_tip},
            {"vents", vents_json(content, other.vents)}};
  };
  return {{"stable", states.stable},
          {"unstable", states.unstable},
          {"growth_per_s", plain(states.growth)},
          {"place", states.place},
          {"would_trigger", states.would_tip},
          {"left_out", states.left_out},
          {"others", list_json(states.others, other_json)}};
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
  json["vents"] = vents_json(content, result.vents);
  json["zones"] = named_json("zone", result.zones);
  json["fans"] = named_json("fan", result.fans);
  json["fins"] = named_json("fins", result.fins);
  json["beyond_laminar"] = list_json(result.beyond_laminar, [](const auto& range) {
    return fields_json({{"kind", geometry::word_of(range.kind)}, {"name", range.name}}, range);
  });
  add_heat(json, content, result);
  if (result.states.looked_for) json["states"] = states_json(content, result.states);
}

}  // namespace tuft::io
