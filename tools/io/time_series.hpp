// A course in time of the plan layers as a folder: fields of every moment, a row a step, a summary.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "tools/io/course_record.hpp"
#include "tools/io/folder.hpp"

namespace tuft::output {

/// Writes while the course is followed, so that memory does not grow with the moments. Files:
/// vtk/LAYER.NNNN.vti for every layer and moment, vtk/course.pvd with their times, course.csv,
/// figures/course.svg, results.json. Nothing is in its place before publish(). Throws FolderError, VtkError,
/// NotFinite.
class TimeSeries {
 public:
  /// The hidden folder is made at the first moment.
  TimeSeries(std::filesystem::path place, CourseRecord* record) : place_(std::move(place)), record_(record) {}

  /// Fields at a time; record->field.plan is what is shown.
  void add_moment(double time);
  /// A signal asks to end.
  bool interrupted() const { return folder_ != nullptr && folder_->interrupted(); }
  /// What there is so far is all there will be: it goes to place.partial and says so. The signal takes effect
  /// when this object goes.
  void break_off();
  /// Writes the rest and moves the folder into its place. Returns where it is.
  std::filesystem::path publish();
  std::size_t n_files() const { return files_.size(); }

 private:
  std::filesystem::path place_;
  CourseRecord* record_;
  std::unique_ptr<ResultsFolder> folder_;
  std::vector<std::string> files_ = {"results.json", "course.csv", "figures/course.svg", "vtk/course.pvd"};
};

}  // namespace tuft::output
