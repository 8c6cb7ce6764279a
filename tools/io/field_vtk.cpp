#include "tools/io/field_vtk.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkFieldData.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkStructuredGrid.h>
#include <vtkXMLImageDataWriter.h>
#include <vtkXMLStructuredGridWriter.h>

#include <functional>

#include "tools/io/field_figures.hpp"
#include "tools/io/field_lists.hpp"
#include "tools/io/vtk_write.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

std::string line_vent_name(const geometry::Device& device, int vent) {
  return vent < 0 ? std::string() : at(device.vents, vent).name;
}

using geometry::Vec3;

// Height of a layer's picture: the mean of its open cells; its own height is in height_m.
double mean_height(const flow2d::LayerFields& layer) {
  double sum = 0.0;
  int n = 0;
  for (std::size_t k = 0; k < layer.solid.size(); ++k) {
    if (layer.solid[k] != 0) continue;
    sum += layer.height[k];
    ++n;
  }
  return n > 0 ? sum / n : 0.0;
}

std::vector<int> codes(const flow2d::Mask& mask) { return {mask.values().begin(), mask.values().end()}; }

std::string part_names(const geometry::Device& device) {
  std::string text;
  int number = 0;
  const auto add = [&](const std::string& name) {
    text += (number == 0 ? "" : ", ") + std::to_string(number) + " " + name;
    ++number;
  };
  for (const auto& zone : device.zones) add(zone.name);
  for (const auto& fins : device.fin_stacks) add(fins.name);
  return text;
}

void add_velocity(const flow2d::LayerFields& layer, const Eigen::Matrix3d& to_world, vtkImageData* image) {
  vtkNew<vtkDoubleArray> velocity;
  velocity->SetName("velocity_m_s");
  velocity->SetNumberOfComponents(3);
  for (std::size_t k = 0; k < layer.u.size(); ++k) {
    const Vec3 world = to_world * Vec3(layer.u[k], layer.v[k], 0.0);
    velocity->InsertNextTuple3(world.x() + 0.0, world.y() + 0.0, world.z() + 0.0);
  }
  image->GetCellData()->SetVectors(velocity);
}

// A point of the plane in the world.
Vec3 in_world(const FieldRun& field, double x, double y) {
  const flow2d::Plane& plane = field.section->result.plane;
  Vec3 point = Vec3::Zero();
  point[plane.normal] = plane.at;
  point[plane.first()] = x;
  point[plane.second()] = y;
  return pose_of(field).to_world * point;
}

Vec3 vector_in_world(const FieldRun& field, double u, double v) {
  const flow2d::Plane& plane = field.section->result.plane;
  Vec3 vector = Vec3::Zero();
  vector[plane.first()] = u;
  vector[plane.second()] = v;
  return pose_of(field).to_world * vector;
}

void insert(vtkPoints* points, const Vec3& at) {
  points->InsertNextPoint(at.x() + 0.0, at.y() + 0.0, at.z() + 0.0);
}

// Where a point of a line lies in the world [m], +Z up.
using LinePlace = std::function<Vec3(const FlowLine&, const FlowLine::Point&)>;

// Writes lines with speed [m/s] and temperature [K] at their points and with what they begin and end at, and
// the layer each runs in where `layers` is set.
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

// What the cells of a layer or slice have, as its list says.
template <class Fields>
void add_arrays(vtkFieldData* cells, const Fields& fields) {
  for_each_array(fields, [&](const numerics::ResultField& array, const flow2d::Array2& values) {
    add_numbers(cells, numerics::key_of(array), values.values());
  });
}

}  // namespace

void write_layer_vti(const std::string& path, const FieldRun& field, int layer) {
  const flow2d::LayerFields& fields = at(field.plan.layers, layer);
  const geometry::Pose& pose = pose_of(field);
  const int nx = fields.solid.nx(), ny = fields.solid.ny();
  vtkNew<vtkImageData> image;
  image->SetDimensions(nx + 1, ny + 1, 1);
  const Vec3 corner = pose.to_world * Vec3(fields.x.front(), fields.y.front(), mean_height(fields));
  image->SetOrigin(corner.x() + 0.0, corner.y() + 0.0, corner.z() + 0.0);
  image->SetSpacing((fields.x.back() - fields.x.front()) / nx, (fields.y.back() - fields.y.front()) / ny,
                    1.0);
  double direction[9];
  for (int r = 0; r < 3; ++r)
    for (int c = 0; c < 3; ++c) direction[3 * r + c] = pose.to_world(r, c) + 0.0;
  image->SetDirectionMatrix(direction);
  add_velocity(fields, pose.to_world, image);
  vtkFieldData* cells = image->GetCellData();
  add_arrays(cells, fields);
  add_codes(cells, "layer", std::vector<int>(fields.solid.size(), layer));
  add_codes(cells, "part", fields.part.values());
  add_codes(cells, "solid", codes(fields.solid));
  add_texts(image->GetFieldData(), "layer_name", {fields.name});
  add_texts(image->GetFieldData(), "parts", {part_names(field.run.content.device)});
  add_texts(
      image->GetFieldData(), "units",
      {"coordinates in m, world frame, +Z up; velocity in m/s; pressure in Pa against still air outside at "
       "the same height; temperature in K; density in kg/m3; heat in W/m2; depth and height in m"});
  vtkNew<vtkXMLImageDataWriter> writer;
  writer->SetInputData(image);
  write_as_text(writer, path);
}

void write_lines_vtp(const std::string& path, const FieldRun& field, const std::vector<FlowLine>& lines) {
  const geometry::Pose& pose = pose_of(field);
  std::vector<double> heights;
  for (const flow2d::LayerFields& layer : field.plan.layers) heights.push_back(mean_height(layer));
  const auto place = [&](const FlowLine& line, const FlowLine::Point& point) -> Vec3 {
    return pose.to_world * Vec3(point.x, point.y, heights[static_cast<std::size_t>(line.layer)]);
  };
  write_lines(path, field.run.content.device, lines, place, true);
}

study::ConditionResult as_condition(const FieldRun& field) {
  study::ConditionResult result = network_result(field);
  result.through_flow = field.plan.through_flow;
  for (std::size_t v = 0; v < result.vents.size(); ++v) {
    study::VentResult& vent = result.vents[v];
    const study::Side& side = field.agreement.vents[v].field;
    vent.role = side.role;
    vent.firm = side.firm;
    vent.inflow = side.inflow;
    vent.outflow = side.outflow;
    vent.exchange = field.plan.vents[v].exchange;
    vent.share = side.share;
    vent.face_velocity = side.face_velocity;
    vent.temperature_in = side.temperature_in;
    vent.temperature_out = side.temperature_out;
  }
  return result;
}

void write_section_vts(const std::string& path, const FieldRun& field) {
  const flow2d::SectionResult& result = field.section->result;
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
        part != static_cast<int>(flow2d::Part::air) && part != static_cast<int>(flow2d::Part::mouth) ? 1 : 0);
  }
  vtkFieldData* cells = grid->GetCellData();
  grid->GetCellData()->SetVectors(velocity);
  add_arrays(cells, result);
  add_codes(cells, "part", result.part.values());
  add_codes(cells, "solid", solid);
  for (const flow2d::Tracer& tracer : result.tracers)
    add_numbers(cells, "from_" + vent_name(field.run.content, tracer.outlet), tracer.share.values());
  add_texts(grid->GetFieldData(), "units",
            {"coordinates in m, world frame, +Z up; velocity in m/s; pressure in Pa against still air of the "
             "room at the same height; temperature in K; density in kg/m3; from_...: share of the air that "
             "came out of that vent"});
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

}  // namespace tuft::io
