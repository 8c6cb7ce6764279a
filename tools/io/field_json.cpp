#include "tools/io/field_run.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "tools/io/field_lists.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/solution_json.hpp"

namespace tuft::io {
namespace {

const char* end_word(flow2d::PlanEnd end) {
  return word_among(end, {"converged", "reduced", "averaged", "in-time", "not-converged", "no-network"});
}

Json field_comparison_json(const FieldRun& field) {
  const study::FieldComparison& comparison = field.comparison;
  Json json;
  json["roles_differ"] = comparison.roles_differ;
  json["through_flow_apart"] = plain(comparison.through_flow);
  json["start_apart"] = plain(comparison.start_apart);
  json["same_state"] = comparison.start_apart <= study::kSameState;
  json["vents"] = list_json(comparison.vents, [&](const study::VentComparison& row) {
    Json entry;
    entry["vent"] = vent_name(field.run.content, row.vent);
    entry["leak"] = at(field.run.content.device.vents, row.vent).is_leak;
    for_each_field(row, AddFields(entry));
    for_each_difference(row, AddFields(entry));
    entry["network"] = fields_json({}, row.network);
    entry["field"] = fields_json({}, row.field);
    return entry;
  });
  return json;
}

// What cells half as large change.
Json refined_json(const FieldRun& field) {
  const study::Refined& refined = *field.refined;
  Json json = {{"cell_m", plain(refined.cell)}, {"found", refined.found}, {"message", refined.message}};
  if (!refined.found) return json;
  json["through_flow_apart"] = plain(refined.through_flow);
  json["roles_differ"] = refined.roles_differ;
  json["vents"] = list_json(refined.vents, [&](const study::VentRefined& row) -> Json {
    return {{"vent", vent_name(field.run.content, row.vent)},
            {"role", geometry::role_word(row.role)},
            {"role_differs", row.role_differs},
            {"flow_apart_of_through_flow", plain(row.of_through_flow)},
            {"temperature_apart_K", plain(row.temperature)}};
  });
  return json;
}

/// Ends of what the maps show: the coolest, hottest and fastest air, of the cells that are air.
template <typename IsAir>
void put_extremes(const flow2d::Array2& temperature, const flow2d::Array2& u, const flow2d::Array2& v,
                  IsAir is_air, Json& json) {
  double coolest = std::numeric_limits<double>::infinity(), hottest = -coolest, fastest = 0.0;
  for (std::size_t k = 0; k < temperature.size(); ++k) {
    if (!is_air(k)) continue;
    coolest = std::min(coolest, temperature[k]);
    hottest = std::max(hottest, temperature[k]);
    fastest = std::max(fastest, std::hypot(u[k], v[k]));
  }
  if (coolest > hottest) return;
  json["coolest_K"] = plain(coolest);
  json["hottest_K"] = plain(hottest);
  json["fastest_m_s"] = plain(fastest);
}

Json layers_json(const FieldRun& field) {
  return list_json(field.plan.layers, [](const flow2d::LayerFields& layer) {
    Json json = {{"name", layer.name}, {"cells", {layer.solid.nx(), layer.solid.ny()}}};
    put_extremes(
        layer.temperature, layer.u, layer.v, [&](std::size_t k) { return layer.solid[k] == 0; }, json);
    return json;
  });
}

Json links_json(const std::vector<flow2d::LinkFlow>& links, const char* kind, const char* pressure) {
  return list_json(links, [&](const flow2d::LinkFlow& link) -> Json {
    return {{kind, link.name},
            {"flow_kg_s", plain(link.flow)},
            {"volume_flow_m3_s", plain(link.volume_flow)},
            {pressure, plain(link.pressure_rise)},
            {"temperature_K", plain(link.temperature)}};
  });
}

const char* end_word(flow2d::SectionEnd end) {
  return word_among(end, {"steady", "averaged", "not-converged"});
}

// What the network says once it was told what intakes draw again.
Json fed_back_json(const FieldRun& field) {
  const study::ConditionResult& before = network_result(field);
  const FedBack& back = *field.section->fed_back;
  const study::ConditionResult& after = back.network;
  Json json = {{"solved", after.report.converged},
               {"reason", after.report.converged ? std::string() : after.report.reason},
               {"flows", "network"},
               {"settled", back.settled},
               {"tolerance", plain(back.tolerance)},
               {"apart", list_json(back.apart, plain)}};
  if (!after.report.converged) return json;
  const auto between = [&](auto temperature_of) {
    const auto ends = back.between(temperature_of);
    return ends ? Json{plain(ends->first), plain(ends->second)} : Json();
  };
  json["vents"] = Json::array();
  for (std::size_t v = 0; v < after.vents.size(); ++v)
    json["vents"].push_back({{"vent", vent_name(field.run.content, v)},
                             {"role_before", geometry::role_word(before.vents[v].role)},
                             {"role", geometry::role_word(after.vents[v].role)},
                             {"inflow_kg_s", plain(after.vents[v].inflow)},
                             {"outflow_kg_s", plain(after.vents[v].outflow)},
                             {"temperature_in_before_K", plain(before.vents[v].temperature_in)},
                             {"temperature_in_K", plain(after.vents[v].temperature_in)},
                             {"temperature_in_between_K",
                              between([v](const auto& end) { return end.vents[v].temperature_in; })}});
  json["sources"] = Json::array();
  for (std::size_t s = 0; s < after.sources.size(); ++s) {
    if (!after.sources[s].has_temperature) continue;
    json["sources"].push_back(
        {{"source", after.sources[s].name},
         {"temperature_before_K", plain(before.sources[s].temperature)},
         {"temperature_K", plain(after.sources[s].temperature)},
         {"temperature_between_K", between([s](const auto& end) { return end.sources[s].temperature; })}});
  }
  return json;
}

/// What is known of the stability of a steady state; rates that are not known are null. Of a state that is
/// stable only that is known, not how fast disturbances fade (F35).
Json stability_json(const flow2d::Steadiness& state) {
  Json json;
  json["known"] = state.known;
  const bool grows = state.known && state.growth > 0.0;
  json["stable"] = state.known ? Json(!grows) : Json(nullptr);
  json["growth_rate_1_s"] = grows ? Json(plain(state.growth)) : Json(nullptr);
  json["frequency_Hz"] = grows ? Json(plain(state.swings)) : Json(nullptr);
  json["left_an_unstable_state"] = state.left > 0.0;
  if (state.left > 0.0) json["left_growth_rate_1_s"] = plain(state.left);
  return json;
}

Json slice_json(const FieldRun& field) {
  const flow2d::SectionResult& result = field.section->result;
  const char* axes[] = {"x", "y", "z"};
  Json json;
  json["flows"] = flows_word(field);
  json["end"] = end_word(result.end);
  json["message"] = result.message;
  json["across"] = axes[result.plane.normal];
  json["at_m"] = plain(result.plane.at);
  json["why"] = result.why_plane;
  json["notes"] = result.notes;
  json["first_order"] = result.first_order;
  json["stability"] = stability_json(result.steadiness);
  json["cells"] = {result.u.nx(), result.u.ny()};
  put_extremes(
      result.temperature, result.u, result.v, [&](std::size_t k) { return flow2d::is_air(result.part[k]); },
      json);
  json["steps"] = result.steps;
  json["marched_steps"] = result.marched_steps;
  json["averaged_from_s"] = plain(result.begins);
  json["averaged_over_s"] = plain(result.span);
  json["averaged_passages"] = result.passages;
  json["fluctuation"] = plain(result.fluctuation);
  json["residual"] = plain(result.residual);
  json["balance"] = {
      {"mass", plain(result.mass)}, {"energy", plain(result.energy)}, {"tracer", plain(result.tracer)}};
  json["gravity_across"] = plain(result.gravity_across);
  json["vents"] = Json::array();
  for (std::size_t v = 0; v < result.vents.size(); ++v) {
    const flow2d::SectionVent& vent = result.vents[v];
    json["vents"].push_back({{"vent", vent_name(field.run.content, v)},
                             {"cut", word_among(vent.cut, {"missed", "cut", "shut", "narrow"})},
                             {"length_m", plain(vent.length)},
                             {"inflow_kg_s_m", plain(vent.inflow)},
                             {"outflow_kg_s_m", plain(vent.outflow)},
                             {"speed_m_s", plain(vent.speed)},
                             {"drawn_K", plain(vent.drawn)}});
  }
  const auto recirculation_json = [&](const flow2d::Recirculation& pair) -> Json {
    return {{"intake", vent_name(field.run.content, pair.intake)},
            {"outlet", vent_name(field.run.content, pair.outlet)},
            {"fraction", plain(pair.fraction())},
            {"lowest", plain(pair.lowest())},
            {"highest", plain(pair.highest())},
            {"by_cells", pair.uncertain ? Json(plain(pair.by_cells)) : Json()},
            {"by_start", plain(pair.by_start)},
            {"in_plane", plain(pair.in_plane)},
            {"facing", plain(pair.facing)}};
  };
  // A sketch has no fractions.
  json["recirculation"] =
      result.usable() ? list_json(result.recirculation, recirculation_json) : Json::array();
  if (field.section->fed_back) json["fed_back"] = fed_back_json(field);
  return json;
}

// The run in time where no steady state was found at first.
Json in_time_json(const FieldRun& field) {
  const flow2d::PlanResult& plan = field.plan;
  Json json = {{"steps", plan.marched_steps},
               {"time_s", plain(plan.marched)},
               {"averaged_over_s", plain(plan.span)},
               {"air_changes", plain(plan.air_changes)},
               {"swings_are_whole", plan.swings_are_whole}};
  json["swings"] = Json::array();
  for (std::size_t v = 0; v < plan.amplitudes.size(); ++v)
    json["swings"].push_back(
        {{"vent", vent_name(field.run.content, v)}, {"amplitude_kg_s", plain(plan.amplitudes[v])}});
  return json;
}

Json layers_part(const FieldRun& field) {
  const flow2d::PlanResult& plan = field.plan;
  Json json;
  json["condition"] = network_result(field).name;
  json["flows"] = flows_word(field);
  json["end"] = end_word(plan.end);
  json["message"] = plan.message;
  json["momentum_share"] = plain(plan.momentum_share);
  json["first_order"] = plan.first_order;
  json["stability"] = stability_json(plan.steadiness);
  json["cell_m"] = plain(field.cell);
  json["layers"] = layers_json(field);
  json["steps"] = plan.steps;
  json["factorisations"] = plan.factorisations;
  json["linear_iterations"] = plan.linear_iterations;
  if (plan.marched_steps > 0) json["in_time"] = in_time_json(field);
  json["residual"] = plain(plan.residual);
  json["balance"] = {
      {"mass", plain(plan.mass)}, {"energy", plain(plan.energy)}, {"energy_cells", plain(plan.energy_cells)}};
  json["through_flow_kg_s"] = plain(plan.through_flow);
  json["power_W"] = plain(plan.power);
  json["fins"] = list_json(plan.fins, [&](const flow2d::FinHeat& fins) -> Json {
    return {{"fins", at(field.run.content.device.fin_stacks, fins.stack).name},
            {"metal_K", plain(fins.metal)},
            {"heat_W", plain(fins.heat)},
            {"network_heat_W", plain(fins.network_heat)}};
  });
  json["fans"] = links_json(plan.fans, "fan", "pressure_rise_Pa");
  json["passages"] = links_json(plan.passages, "passage", "pressure_lost_Pa");
  json["network_and_field"] = field_comparison_json(field);
  if (field.refined) json["refined"] = refined_json(field);
  return json;
}

}  // namespace

std::string field_json(const FieldRun& field, const Contents& contents) {
  Json json = results_document(field.run, contents);
  Json& vents = json["conditions"][0]["vents"];
  for (std::size_t v = 0; v < vents.size() && v < field.comparison.vents.size(); ++v) {
    vents[v]["field_role"] = geometry::role_word(field.comparison.vents[v].field.role);
    vents[v]["field_disagrees"] = field.comparison.vents[v].roles_differ;
  }
  json["field"] = layers_part(field);
  if (field.section) json["section"] = slice_json(field);
  return json_text(json);
}

}  // namespace tuft::io
