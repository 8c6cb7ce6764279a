#include "tools/io/vtk_lines.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

#include "tools/io/vtk_write.hpp"

namespace tuft::output {
namespace {

std::string line_vent_name(const geometry::Device& device, int vent) {
  return vent < 0 ? std::string() : device.vents[static_cast<std::size_t>(vent)].name;
}

}  // namespace

void write_lines(const std::string& path, const geometry::Device& device, const std::vector<FlowLine>& lines,
                 const LinePlace& place, bool layers) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  vtkNew<vtkCellArray> cells;
  std::vector<double> speeds, temperatures;
  std::vector<int> layer;
  std::vector<std::string> begins, ends, from, to;
  for (const FlowLine& line : lines) {
    cells->InsertNextCell(static_cast<int>(line.points.size()));
    for (const FlowLine::Point& point : line.points) {
      const geometry::Vec3 at = place(line, point);
      cells->InsertCellPoint(points->InsertNextPoint(at.x() + 0.0, at.y() + 0.0, at.z() + 0.0));
      speeds.push_back(point.speed);
      temperatures.push_back(point.temperature);
    }
    layer.push_back(line.layer);
    begins.emplace_back(line_end_word(line.begins));
    ends.emplace_back(line_end_word(line.ends));
    from.push_back(line_vent_name(device, line.from_vent));
    to.push_back(line_vent_name(device, line.to_vent));
  }
  vtkNew<vtkPolyData> data;
  data->SetPoints(points);
  data->SetLines(cells);
  add_numbers(data->GetPointData(), "speed_m_s", speeds);
  add_numbers(data->GetPointData(), "temperature_K", temperatures);
  if (layers) add_codes(data->GetCellData(), "layer", layer);
  add_texts(data->GetCellData(), "begins", begins);
  add_texts(data->GetCellData(), "ends", ends);
  add_texts(data->GetCellData(), "from_vent", from);
  add_texts(data->GetCellData(), "to_vent", to);
  add_texts(data->GetFieldData(), "units",
            {"coordinates in m, world frame, +Z up; speed in m/s; temperature in K"});
  write_polydata(data, path);
}

}  // namespace tuft::output
