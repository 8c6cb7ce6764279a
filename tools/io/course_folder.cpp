// results.json of a course in time, and the folder that grows while it is followed.
#include "tools/io/course_record.hpp"

#include <fmt/format.h>

#include "tools/io/field_vtk.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/vtk.hpp"

namespace tuft::io {
namespace {

Json vents_json(const CourseRecord& record) {
  Json list = Json::array();
  if (record.rows.empty()) return list;
  const study::ConditionResult& network = network_result(record.field);
  const flow2d::CourseStep& last = record.rows.back();
  for (std::size_t v = 0; v < last.vents.size(); ++v) {
    const VentCourse course = vent_course(record, v);
    list.push_back({{"vent", record.field.run.content.device.vents[v].name},
                    {"inflow_kg_s", plain(last.vents[v].inflow)},
                    {"outflow_kg_s", plain(last.vents[v].outflow)},
                    {"temperature_out_K", plain(last.vents[v].temperature_out)},
                    {"least_net_inflow_kg_s", plain(course.least)},
                    {"greatest_net_inflow_kg_s", plain(course.greatest)},
                    {"settles_after_s", plain(course.settles)},
                    {"network_net_inflow_kg_s", plain(network.vents[v].inflow - network.vents[v].outflow)}});
  }
  return list;
}

Json moment_json(const CourseMoment& moment) {
  return {{"time_s", plain(moment.time)}, {"files", moment.files}};
}

Json layer_json(const flow2d::LayerFields& layer) {
  return {{"name", layer.name}, {"cells", {layer.solid.nx(), layer.solid.ny()}}};
}

Json stores_json(const CourseRecord& record) {
  Json list = Json::array();
  for (std::size_t s = 0; s < record.stores.size() && !record.rows.empty(); ++s)
    list.push_back({{"in", record.stores[s]}, {"temperature_K", plain(record.rows.back().stores[s])}});
  return list;
}

}  // namespace

std::string course_json(const CourseRecord& record, const std::vector<std::string>& files) {
  Json json = results_document(record.field.run, files);
  json["partial"] = record.partial;
  Json course;
  course["condition"] = network_result(record.field).name;
  course["start"] = record.start;
  course["partial"] = record.partial;
  course["followed_to_s"] = plain(record.end.time);
  course["until_s"] = plain(record.until);
  course["message"] = record.end.message;
  course["cell_m"] = plain(record.field.cell);
  course["layers"] = list_json(record.field.plan.layers, layer_json);
  course["steps"] = record.end.steps;
  course["steps_taken_again"] = record.end.again;
  course["newton_steps"] = record.end.newton;
  course["factorisations"] = record.end.factorisations;
  course["linear_iterations"] = record.end.linear_iterations;
  course["balance"] = {{"mass", plain(record.end.mass)}, {"energy", plain(record.end.energy)}};
  course["unrest"] = plain(record.end.unrest);
  course["still_stored"] = plain(record.end.stored);
  course["taken_as_steady"] = quasi_steady_words();
  course["moments"] = list_json(record.moments, moment_json);
  course["vents"] = vents_json(record);
  course["solids"] = stores_json(record);
  json["course"] = std::move(course);
  return json_text(json);
}

void TimeSeries::add_moment(double time) {
  if (folder_ == nullptr)
    folder_.reset(
        new ResultsFolder(place_, {"results.json", "course.csv", "figures/course.svg", "vtk/course.pvd"}));
  if (folder_->interrupted()) return;  // the step after it breaks off and comes back here
  CourseMoment moment;
  moment.time = time;
  for (std::size_t l = 0; l < record_->field.plan.layers.size(); ++l) {
    moment.files.push_back(
        fmt::format("vtk/{}.{:04}.vti", record_->field.plan.layers[l].name, record_->moments.size()));
    write_layer_vti(folder_->path_for(moment.files.back()).string(), record_->field, static_cast<int>(l));
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
  for (const CourseMoment& moment : record_->moments)
    for (std::size_t l = 0; l < moment.files.size(); ++l)
      entries.push_back(
          {moment.time, static_cast<int>(l), moment.files[l].substr(4)});  // beside the collection
  folder_->write("vtk/course.pvd", collection_pvd(entries));
  folder_->write("course.csv", course_csv(*record_));
  folder_->write("figures/course.svg", course_chart(*record_));
  folder_->write("results.json", course_json(*record_, folder_->files()));
  folder_->publish();
  return folder_->place();
}

}  // namespace tuft::io
