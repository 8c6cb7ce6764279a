// The files of a section for VTK readers.
#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkStructuredGrid.h>
#include <vtkXMLStructuredGridWriter.h>

#include "tools/io/section_figures.hpp"
#include "tools/io/vtk.hpp"
#include "tools/io/vtk_lines.hpp"
#include "tools/io/vtk_write.hpp"

namespace tuft::output {
namespace {

using geometry::Vec3;

// A point of the plane in the world.
Vec3 in_world(const FieldRun& field, double x, double y) {
  const section::Plane& plane = field.section->result.plane;
  Vec3 point = Vec3::Zero();
  point[plane.normal] = plane.at;
  point[plane.first()] = x;
  point[plane.second()] = y;
  return pose_of(field).to_world * point;
}

Vec3 vector_in_world(const FieldRun& field, double u, double v) {
  const section::Plane& plane = field.section->result.plane;
  Vec3 vector = Vec3::Zero();
  vector[plane.first()] = u;
  vector[plane.second()] = v;
  return pose_of(field).to_world * vector;
}

void insert(vtkPoints* points, const Vec3& at) {
  points->InsertNextPoint(at.x() + 0.0, at.y() + 0.0, at.z() + 0.0);
}

}  // namespace

void write_section_vts(const std::string& path, const FieldRun& field) {
  const section::SectionResult& result = field.section->result;
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const double y : result.y)
    for (const double x : result.x) insert(points, in_world(field, x, y));
  vtkNew<vtkStructuredGrid> grid;
  grid->SetDimensions(static_cast<int>(result.x.size()), static_cast<int>(result.y.size()), 1);
  grid->SetPoints(points);
  vtkNew<vtkDoubleArray> velocity;
  velocity->SetName("velocity_m_s");
  velocity->SetNumberOfComponents(3);
  std::vector<int> solid;
  for (std::size_t k = 0; k < result.u.size(); ++k) {
    const Vec3 world = vector_in_world(field, result.u[k], result.v[k]);
    velocity->InsertNextTuple3(world.x() + 0.0, world.y() + 0.0, world.z() + 0.0);
    const int part = result.part[k];
    solid.push_back(
        part != static_cast<int>(section::Part::air) && part != static_cast<int>(section::Part::mouth) ? 1
                                                                                                       : 0);
  }
  vtkFieldData* cells = grid->GetCellData();
  grid->GetCellData()->SetVectors(velocity);
  add_numbers(cells, "pressure_Pa", result.pressure.values());
  add_numbers(cells, "temperature_K", result.temperature.values());
  add_numbers(cells, "density_kg_m3", result.density.values());
  add_codes(cells, "part", result.part.values());
  add_codes(cells, "solid", solid);
  for (const section::Tracer& tracer : result.tracers)
    add_numbers(cells, "from_" + field.run.content.device.vents[static_cast<std::size_t>(tracer.outlet)].name,
                tracer.share.values());
  add_texts(
      grid->GetFieldData(), "units",
      {"coordinates in m, world frame, +Z up; velocity in m/s; pressure in Pa against still air of the room "
       "at the same height; temperature in K; density in kg/m3; from_...: share of the air that came out of "
       "that vent"});
  vtkNew<vtkXMLStructuredGridWriter> writer;
  writer->SetInputData(grid);
  write_as_text(writer, path);
}

void write_section_lines_vtp(const std::string& path, const FieldRun& field,
                             const std::vector<FlowLine>& lines) {
  const auto place = [&](const FlowLine&, const FlowLine::Point& point) {
    return in_world(field, point.x, point.y);
  };
  write_lines(path, field.run.content.device, lines, place, false);
}

}  // namespace tuft::output
