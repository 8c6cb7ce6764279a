#include "tools/io/run.hpp"

#include <fmt/format.h>

#include "tools/io/csv.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/vtk.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

void write_picture(const Run& run, const std::string& name, const geometry::Pose& pose,
                   const study::ConditionResult& result, ResultsFolder& folder) {
  folder.write("vtk/" + name + ".vtp", device_vtp(run.content.device, pose, result));
  folder.write("vtk/" + name + ".flow.vtp", flow_vtp(run.content.device, pose, result));
}

geometry::Vec3 axis_of(const Run& run, const study::SweepResult& result) {
  for (const auto& sweep : run.content.sweeps)
    if (sweep.name == result.name) return sweep.axis;
  return geometry::Vec3::UnitX();
}

void write_sweep(const Run& run, const std::string& name, const study::SweepResult& result,
                 ResultsFolder& folder) {
  std::vector<CollectionEntry> entries;
  for (std::size_t i = 0; i < result.points.size(); ++i) {
    const study::SweepPoint& point = result.points[i];
    if (!point.result.report.converged) continue;
    const std::string file = fmt::format("{}/{:04}", name, i);
    const double angle = clean_degrees(point.angle);
    write_picture(run, file, geometry::tilted("", axis_of(run, result), point.angle), point.result, folder);
    entries.push_back({angle, 0, file + ".vtp"});
    entries.push_back({angle, 1, file + ".flow.vtp"});
  }
  folder.write("vtk/" + name + ".pvd", collection_pvd(entries));
}

}  // namespace

std::vector<std::string> write_results(const Run& run, const ResultsPlace& place) {
  results_json(run, {});  // throws before anything begins
  ResultsFolder folder(place);
  folder.write("vents.csv", vents_csv(run));
  folder.write("temperatures.csv", temperatures_csv(run));
  // Conditions and sweeps share a folder, so their names must differ from each other too.
  std::vector<std::string> names;
  for (const auto& condition : run.conditions) names.push_back(condition.name);
  for (const auto& sweep : run.sweeps) names.push_back(sweep.name);
  names = file_names_of(names);
  auto name = names.begin();
  for (const auto& result : run.conditions) {
    const auto& condition = at(run.content.conditions, result.condition);
    if (result.report.converged)
      write_picture(run, *name, at(run.content.poses, condition.pose), result, folder);
    ++name;
  }
  for (const auto& sweep : run.sweeps) write_sweep(run, *name++, sweep, folder);
  folder.write("results.json", results_json(run, folder.contents()));
  folder.publish();
  return folder.files();
}

}  // namespace tuft::io
