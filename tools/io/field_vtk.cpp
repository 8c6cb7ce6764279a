#include "tools/io/vtk.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkFieldData.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkStructuredGrid.h>
#include <vtkXMLImageDataWriter.h>
#include <vtkXMLPolyDataWriter.h>
#include <vtkXMLStructuredGridWriter.h>

#include <functional>

#include "tools/io/field_figures.hpp"
#include "tools/io/field_lists.hpp"
#include "tools/io/vtk_write.hpp"

namespace tuft::io {
namespace {

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

// A vector of the section in the world, or a point of it, where `along_normal` is where the plane lies.
Vec3 in_world(const FieldRun& field, double x, double y, double along_normal) {
  const flow2d::Plane& plane = field.section->result.plane;
  Vec3 vector;
  vector[plane.normal] = along_normal;
  vector[plane.first()] = x;
  vector[plane.second()] = y;
  return pose_of(field).to_world * vector;
}

// Where a point of a line lies in the world [m], +Z up.
using LinePlace = std::function<Vec3(const FlowLine&, const FlowLine::Point&)>;

// Writes lines with speed [m/s] and temperature [K] at their points and with what they begin and end at, and
// the layer each runs in where `layers` is set.
std::string line_file(const geometry::Device& device, const std::vector<FlowLine>& lines,
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
      cells->InsertCellPoint(add_point(points, place(line, point)));
      speeds.push_back(point.speed);
      temperatures.push_back(point.temperature);
    }
    layer.push_back(line.layer);
    begins.emplace_back(line_end_word(line.begins));
    ends.emplace_back(line_end_word(line.ends));
    for (auto [names, vent] : {std::pair{&from, line.from_vent}, std::pair{&to, line.to_vent}})
      names->push_back(vent < 0 ? "" : at(device.vents, vent).name);
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
  return as_text<vtkXMLPolyDataWriter>(data);
}

// What the cells of a layer or slice have, as its list says.
template <class Fields>
void add_arrays(vtkFieldData* cells, const Fields& fields) {
  for_each_array(fields, [&](const numerics::ResultField& array, const flow2d::Array2& values) {
    add_numbers(cells, numerics::key_of(array), values.values());
  });
}

}  // namespace

std::string layer_vti(const FieldRun& field, int layer) {
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
  std::vector<Vec3> velocities;
  for (std::size_t k = 0; k < fields.u.size(); ++k)
    velocities.push_back(pose.to_world * Vec3(fields.u[k], fields.v[k], 0.0));
  vtkDataSetAttributes* cells = image->GetCellData();
  add_velocities(cells, velocities);
  add_arrays(cells, fields);
  add_codes(cells, "layer", std::vector<int>(fields.solid.size(), layer));
  add_codes(cells, "part", fields.part.values());
  add_codes(cells, "solid", codes(fields.solid));
  add_texts(image->GetFieldData(), "layer_name", {fields.name});
  add_texts(image->GetFieldData(), "flows", {flows_word(field)});
  const bool gap = fields.name.rfind("gap-", 0) == 0;
  add_texts(image->GetFieldData(), "parts",
            {gap ? "-1 solid, 0 gap" : "-1 solid, " + part_names(field.run.content.device)});
  add_texts(
      image->GetFieldData(), "units",
      {"coordinates in m, world frame, +Z up; velocity in m/s; pressure in Pa against still air outside at "
       "the same height; temperature in K; density in kg/m3; heat in W/m2; depth and height in m"});
  return as_text<vtkXMLImageDataWriter>(image);
}

std::string lines_vtp(const FieldRun& field, const std::vector<FlowLine>& lines) {
  const geometry::Pose& pose = pose_of(field);
  std::vector<double> heights;
  for (const flow2d::LayerFields& layer : field.plan.layers) heights.push_back(mean_height(layer));
  const auto place = [&](const FlowLine& line, const FlowLine::Point& point) -> Vec3 {
    return pose.to_world * Vec3(point.x, point.y, heights[line.layer]);
  };
  return line_file(field.run.content.device, lines, place, true);
}

study::ConditionResult as_condition(const FieldRun& field) {
  study::ConditionResult result = network_result(field);
  result.through_flow = field.plan.through_flow;
  for (std::size_t v = 0; v < result.vents.size(); ++v) {
    study::VentResult& vent = result.vents[v];
    const study::Side& side = field.comparison.vents[v].field;
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

std::string section_vts(const FieldRun& field) {
  const flow2d::SectionResult& result = field.section->result;
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const double y : result.y)
    for (const double x : result.x) add_point(points, in_world(field, x, y, result.plane.at));
  vtkNew<vtkStructuredGrid> grid;
  grid->SetDimensions(static_cast<int>(result.x.size()), static_cast<int>(result.y.size()), 1);
  grid->SetPoints(points);
  std::vector<Vec3> velocities;
  std::vector<int> solid;
  for (std::size_t k = 0; k < result.u.size(); ++k) {
    velocities.push_back(in_world(field, result.u[k], result.v[k], 0.0));
    solid.push_back(flow2d::is_air(result.part[k]) ? 0 : 1);
  }
  vtkDataSetAttributes* cells = grid->GetCellData();
  add_velocities(cells, velocities);
  add_arrays(cells, result);
  add_codes(cells, "part", result.part.values());
  add_codes(cells, "solid", solid);
  for (const flow2d::Tracer& tracer : result.tracers)
    add_numbers(cells, "from_" + vent_name(field.run.content, tracer.outlet), tracer.share.values());
  // As flow2d::Part counts them.
  add_texts(grid->GetFieldData(), "flows", {flows_word(field)});
  add_texts(grid->GetFieldData(), "parts",
            {"0 air, 1 chassis, 2 support, 3 screen, 4 air just inside a vent"});
  add_texts(grid->GetFieldData(), "units",
            {"coordinates in m, world frame, +Z up; velocity in m/s; pressure in Pa against still air of the "
             "room at the same height; temperature in K; density in kg/m3; from_...: share of the air that "
             "came out of that vent"});
  return as_text<vtkXMLStructuredGridWriter>(grid);
}

std::string section_lines_vtp(const FieldRun& field, const std::vector<FlowLine>& lines) {
  const auto place = [&](const FlowLine&, const FlowLine::Point& point) {
    return in_world(field, point.x, point.y, field.section->result.plane.at);
  };
  return line_file(field.run.content.device, lines, place, false);
}

}  // namespace tuft::io
