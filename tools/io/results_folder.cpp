#include "tools/io/run.hpp"

#include <fmt/format.h>

#include "tools/io/csv.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/json.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/vtk.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

// Writes one run; remembers the names of its files.
class Writer {
 public:
  Writer(const Run& run, ResultsFolder& folder) : run_(run), folder_(folder), names_(picture_names(run)) {}

  std::vector<std::string> write_all() {
    files_ = {"results.json", "vents.csv", "temperatures.csv"};
    folder_.write("vents.csv", vents_csv(run_));
    folder_.write("temperatures.csv", temperatures_csv(run_));
    for (std::size_t i = 0; i < run_.conditions.size(); ++i) write_condition(run_.conditions[i], names_[i]);
    for (std::size_t i = 0; i < run_.sweeps.size(); ++i) {
      write_sweep(run_.sweeps[i], names_[run_.conditions.size() + i]);
    }
    folder_.write("results.json", results_json(run_, files_));
    return files_;
  }

 private:
  // Conditions and sweeps share a folder, so their names must differ from each other too.
  static std::vector<std::string> picture_names(const Run& run) {
    std::vector<std::string> names;
    for (const auto& condition : run.conditions) names.push_back(condition.name);
    for (const auto& sweep : run.sweeps) names.push_back(sweep.name);
    return file_names_of(names);
  }

  void write_picture(const std::string& name, const geometry::Pose& pose,
                     const study::ConditionResult& result) {
    const geometry::Device& device = run_.content.device;
    files_.push_back(name + ".vtp");
    write_device_vtp(folder_.path_for(files_.back()).string(), device, pose, result);
    files_.push_back(name + ".flow.vtp");
    write_flow_vtp(folder_.path_for(files_.back()).string(), device, pose, result);
  }

  void write_condition(const study::ConditionResult& result, const std::string& name) {
    if (!result.report.converged) return;
    const auto& condition = at(run_.content.conditions, result.condition);
    write_picture("vtk/" + name, at(run_.content.poses, condition.pose), result);
  }

  void write_sweep(const study::SweepResult& result, const std::string& name) {
    std::vector<CollectionEntry> entries;
    for (std::size_t i = 0; i < result.points.size(); ++i) {
      const study::SweepPoint& point = result.points[i];
      if (!point.result.report.converged) continue;
      const std::string file = fmt::format("{}/{:04}", name, i);
      const double angle = clean_degrees(point.angle);
      write_picture("vtk/" + file, geometry::tilted("", axis_of(result), point.angle), point.result);
      entries.push_back({angle, 0, file + ".vtp"});
      entries.push_back({angle, 1, file + ".flow.vtp"});
    }
    files_.push_back("vtk/" + name + ".pvd");
    folder_.write(files_.back(), collection_pvd(entries));
  }

  geometry::Vec3 axis_of(const study::SweepResult& result) const {
    for (const auto& sweep : run_.content.sweeps) {
      if (sweep.name == result.name) return sweep.axis;
    }
    return geometry::Vec3::UnitX();
  }

  const Run& run_;
  ResultsFolder& folder_;
  std::vector<std::string> names_;
  std::vector<std::string> files_;
};

}  // namespace

std::vector<std::string> write_results(const Run& run, const std::filesystem::path& place) {
  results_json(run, {});  // throws before anything begins
  ResultsFolder folder(place);
  std::vector<std::string> files = Writer(run, folder).write_all();
  folder.publish();
  return files;
}

}  // namespace tuft::io
