#include "tools/io/time_series.hpp"

#include <fmt/format.h>

#include "tools/io/field_vtk.hpp"
#include "tools/io/vtk.hpp"

namespace tuft::output {

void TimeSeries::add_moment(double time) {
  if (folder_ == nullptr) folder_ = std::make_unique<ResultsFolder>(place_);
  if (folder_->interrupted()) return;  // the step after it breaks off and comes back here
  CourseMoment moment;
  moment.time = time;
  for (std::size_t l = 0; l < record_->field.plan.layers.size(); ++l) {
    const std::string name =
        fmt::format("{}.{:04}.vti", record_->field.plan.layers[l].name, record_->moments.size());
    write_layer_vti(folder_->path_for("vtk/" + name).string(), record_->field, static_cast<int>(l));
    files_.push_back("vtk/" + name);
    moment.files.push_back("vtk/" + name);
  }
  record_->moments.push_back(std::move(moment));
}

void TimeSeries::break_off() {
  folder_->make_partial();
  record_->partial = true;
}

std::filesystem::path TimeSeries::publish() {
  if (folder_->interrupted() && !record_->partial) break_off();
  require_finite(*record_);
  std::vector<CollectionEntry> entries;
  for (const CourseMoment& moment : record_->moments)
    for (std::size_t l = 0; l < moment.files.size(); ++l)
      entries.push_back(
          {moment.time, static_cast<int>(l), moment.files[l].substr(4)});  // beside the collection
  folder_->write("vtk/course.pvd", collection_pvd(entries));
  folder_->write("course.csv", course_csv(*record_));
  folder_->write("figures/course.svg", course_chart(*record_));
  folder_->write("results.json", course_json(*record_, files_));
  folder_->publish();
  return folder_->place();
}

}  // namespace tuft::output
