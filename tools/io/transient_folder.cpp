// results.json of a transient, and the folder that grows while it is followed.
#include "tools/io/transient_record.hpp"

#include <fmt/format.h>

#include "tools/io/json_parts.hpp"
#include "tools/io/vtk.hpp"

namespace tuft::io {
namespace {

Json vents_json(const TransientRecord& record) {
  Json list = Json::array();
  if (record.rows.empty()) return list;
  const study::ConditionResult& network = network_result(record.field);
  const flow2d::TransientStep& last = record.rows.back();
  for (std::size_t v = 0; v < last.vents.size(); ++v) {
    const VentTransient transient = vent_transient(record, v);
    list.push_back({{"vent", record.field.run.content.device.vents[v].name},
                    {"inflow_kg_s", plain(last.vents[v].inflow)},
                    {"outflow_kg_s", plain(last.vents[v].outflow)},
                    {"temperature_out_K", plain(last.vents[v].temperature_out)},
                    {"least_net_inflow_kg_s", plain(transient.least)},
                    {"greatest_net_inflow_kg_s", plain(transient.greatest)},
                    {"settles_after_s", plain(transient.settles)},
                    {"network_net_inflow_kg_s", plain(network.vents[v].inflow - network.vents[v].outflow)}});
  }
  return list;
}

Json moment_json(const TransientMoment& moment) {
  return {{"time_s", plain(moment.time)}, {"files", moment.files}};
}

Json layer_json(const flow2d::LayerFields& layer) {
  return {{"name", layer.name}, {"cells", {layer.solid.nx(), layer.solid.ny()}}};
}

Json thermal_masses_json(const TransientRecord& record) {
  Json list = Json::array();
  for (std::size_t s = 0; s < record.thermal_masses.size() && !record.rows.empty(); ++s)
    list.push_back(
        {{"in", record.thermal_masses[s]}, {"temperature_K", plain(record.rows.back().thermal_masses[s])}});
  return list;
}

}  // namespace

std::string transient_json(const TransientRecord& record, const Contents& contents) {
  Json json = results_document(record.field.run, contents);
  json["partial"] = record.partial;
  Json transient;
  transient["condition"] = network_result(record.field).name;
  transient["start"] = record.start;
  transient["partial"] = record.partial;
  transient["followed_to_s"] = plain(record.end.time);
  transient["until_s"] = plain(record.until);
  transient["message"] = record.end.message;
  transient["cell_m"] = plain(record.field.cell);
  transient["layers"] = list_json(record.field.plan.layers, layer_json);
  transient["steps"] = record.end.steps;
  transient["steps_taken_again"] = record.end.again;
  transient["newton_steps"] = record.end.newton;
  transient["factorisations"] = record.end.factorisations;
  transient["linear_iterations"] = record.end.linear_iterations;
  transient["balance"] = {{"mass", plain(record.end.mass)}, {"energy", plain(record.end.energy)}};
  transient["rate_of_change"] = plain(record.end.rate_of_change);
  transient["still_stored"] = plain(record.end.stored);
  transient["taken_as_steady"] = quasi_steady_words();
  transient["moments"] = list_json(record.moments, moment_json);
  transient["vents"] = vents_json(record);
  transient["solids"] = thermal_masses_json(record);
  json["transient"] = std::move(transient);
  return json_text(json);
}

void TimeSeries::add_moment(double time) {
  if (folder_ == nullptr)
    folder_.reset(new ResultsFolder(
        place_, {"results.json", "transient.csv", "figures/transient.svg", "vtk/transient.pvd"}));
  if (folder_->interrupted()) return;  // the step after it breaks off and comes back here
  TransientMoment moment;
  moment.time = time;
  for (std::size_t l = 0; l < record_->field.plan.layers.size(); ++l) {
    moment.files.push_back(
        fmt::format("vtk/{}.{:04}.vti", record_->field.plan.layers[l].name, record_->moments.size()));
    folder_->write(moment.files.back(), layer_vti(record_->field, static_cast<int>(l)));
  }
  record_->moments.push_back(std::move(moment));
}

void TimeSeries::break_off() {
  folder_->make_partial();
  record_->partial = true;
}

std::filesystem::path TimeSeries::publish() {
  if (folder_->interrupted() && !record_->partial) break_off();
  std::vector<CollectionEntry> entries;
  for (const TransientMoment& moment : record_->moments)
    for (std::size_t l = 0; l < moment.files.size(); ++l)
      entries.push_back(
          {moment.time, static_cast<int>(l), moment.files[l].substr(4)});  // beside the collection
  folder_->write("vtk/transient.pvd", collection_pvd(entries));
  folder_->write("transient.csv", transient_csv(*record_));
  folder_->write("figures/transient.svg", transient_chart(*record_));
  folder_->write("results.json", transient_json(*record_, folder_->contents()));
  folder_->publish();
  return folder_->place();
}

}  // namespace tuft::io
