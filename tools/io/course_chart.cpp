#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "tools/figure/line_chart.hpp"
#include "tools/io/course_record.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using numerics::kZeroCelsius;
constexpr double kLeast = 0.01;           // of the through-flow; a vent that never passes more is not drawn
constexpr std::size_t kMostLines = 8;     // lines that can be told apart
constexpr double kShortestCourse = 1e-3;  // a course without length gets an axis all the same [s]

figure::Series series(const CourseRecord& record, const std::string& name,
                      double (*value)(const flow2d::CourseStep&, std::size_t), std::size_t index,
                      double factor, double offset) {
  figure::Series out;
  out.name = name;
  for (const flow2d::CourseStep& row : record.rows) {
    out.x.push_back(row.time);
    out.y.push_back(factor * value(row, index) - offset);
  }
  if (out.x.size() == 1) {
    out.x.push_back(out.x[0] + kShortestCourse);
    out.y.push_back(out.y[0]);
  }
  return out;
}

figure::Panel flows(const CourseRecord& record) {
  figure::Panel panel;
  panel.quantity = "Net flow in";
  panel.unit = "L/s";
  const study::ConditionResult& network = network_result(record.field);
  const geometry::Device& device = record.field.run.content.device;
  for (std::size_t v = 0; v < device.vents.size() && panel.series.size() < kMostLines; ++v) {
    const VentCourse course = vent_course(record, v);
    const double most = std::max(std::abs(course.least), std::abs(course.greatest));
    if (most < kLeast * record.rows.back().through_flow) continue;
    panel.series.push_back(series(
        record, device.vents[v].name,
        [](const flow2d::CourseStep& row, std::size_t k) {
          return row.vents[k].inflow - row.vents[k].outflow;
        },
        v, 1000.0 * room_volume_flow(1.0, network), 0.0));
  }
  return panel;
}

figure::Panel temperatures(const CourseRecord& record) {
  figure::Panel panel;
  panel.quantity = "Temperature";
  panel.unit = "°C";
  panel.series.push_back(series(
      record, "warmest air", [](const flow2d::CourseStep& row, std::size_t) { return row.warmest; }, 0, 1.0,
      kZeroCelsius));
  for (std::size_t s = 0; s < record.stores.size() && panel.series.size() < kMostLines; ++s)
    panel.series.push_back(series(
        record, "solid in " + record.stores[s],
        [](const flow2d::CourseStep& row, std::size_t k) { return row.stores[k]; }, s, 1.0, kZeroCelsius));
  return panel;
}

}  // namespace

std::string course_chart(const CourseRecord& record) {
  figure::LineChart chart;
  const Run& run = record.field.run;
  chart.title = run.content.device.name + ": " + network_result(record.field).name;
  chart.subtitle = circumstances(run.content, condition_of(record.field)) + "; start " + record.start +
                   (record.partial ? "; broken off" : "");
  chart.x_kind = figure::AxisKind::time;
  chart.x_name = "Time";
  figure::Panel vents = flows(record);
  if (!vents.series.empty()) chart.panels.push_back(std::move(vents));
  chart.panels.push_back(temperatures(record));
  chart.note =
      "tuft " + run.version + ", " + run.case_file + ", plan layers. A prediction, no safety assessment.";
  chart.height = 260.0 + 160.0 * static_cast<double>(chart.panels.size());
  return figure::line_chart(chart);
}

}  // namespace tuft::io
