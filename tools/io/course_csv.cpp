#include <fmt/format.h>

#include "tools/io/course_record.hpp"
#include "tools/io/csv.hpp"

namespace tuft::output {

std::string course_csv(const CourseRecord& record) {
  require_finite(record);
  const geometry::Device& device = record.field.run.content.device;
  std::vector<std::string> header = {"time [s]", "through-flow [kg/s]", "warmest air [K]"};
  for (const geometry::Vent& vent : device.vents)
    for (const char* what : {"gross in ", "gross out "}) header.push_back(what + vent.name + " [kg/s]");
  for (const geometry::Vent& vent : device.vents) header.push_back("temperature out " + vent.name + " [K]");
  for (const geometry::Fan& fan : device.fans) header.push_back("flow " + fan.name + " [kg/s]");
  for (const std::string& store : record.stores) header.push_back("temperature solid in " + store + " [K]");
  std::string text = csv_line(header);
  for (const plan::CourseStep& row : record.rows) {
    std::vector<std::string> cells;
    const auto add = [&](double value) { cells.push_back(fmt::format("{}", value + 0.0)); };
    add(row.time);
    add(row.through_flow);
    add(row.warmest);
    for (const plan::VentFlows& vent : row.vents) {
      add(vent.inflow);
      add(vent.outflow);
    }
    for (const plan::VentFlows& vent : row.vents) add(vent.temperature_out);
    for (const plan::LinkFlow& fan : row.fans) add(fan.flow);
    for (const double store : row.stores) add(store);
    text += csv_line(cells);
  }
  return text;
}

}  // namespace tuft::output
