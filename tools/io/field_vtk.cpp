#include "tools/io/field_vtk.hpp"

#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkFieldData.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkXMLImageDataWriter.h>

#include "tools/io/vtk.hpp"
#include "tools/io/vtk_lines.hpp"
#include "tools/io/vtk_write.hpp"

namespace tuft::output {
namespace {

using geometry::Vec3;

// Height of a layer's picture: the mean of its open cells; its own height is in height_m.
double mean_height(const plan::LayerFields& layer) {
  double sum = 0.0;
  int n = 0;
  for (std::size_t k = 0; k < layer.solid.size(); ++k) {
    if (layer.solid[k] != 0) continue;
    sum += layer.height[k];
    ++n;
  }
  return n > 0 ? sum / n : 0.0;
}

std::vector<int> codes(const field::Mask& mask) { return {mask.values().begin(), mask.values().end()}; }

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

void add_velocity(const plan::LayerFields& layer, const Eigen::Matrix3d& to_world, vtkImageData* image) {
  vtkNew<vtkDoubleArray> velocity;
  velocity->SetName("velocity_m_s");
  velocity->SetNumberOfComponents(3);
  for (std::size_t k = 0; k < layer.u.size(); ++k) {
    const Vec3 world = to_world * Vec3(layer.u[k], layer.v[k], 0.0);
    velocity->InsertNextTuple3(world.x() + 0.0, world.y() + 0.0, world.z() + 0.0);
  }
  image->GetCellData()->SetVectors(velocity);
}

}  // namespace

void write_layer_vti(const std::string& path, const FieldRun& field, int layer) {
  const plan::LayerFields& fields = field.plan.layers[static_cast<std::size_t>(layer)];
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
  add_numbers(cells, "pressure_Pa", fields.pressure.values());
  add_numbers(cells, "temperature_K", fields.temperature.values());
  add_numbers(cells, "density_kg_m3", fields.density.values());
  add_numbers(cells, "heat_W_m2", fields.heat.values());
  add_numbers(cells, "depth_m", fields.depth.values());
  add_numbers(cells, "height_m", fields.height.values());
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
  for (const plan::LayerFields& layer : field.plan.layers) heights.push_back(mean_height(layer));
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
    const agreement::Side& side = field.agreement.vents[v].field;
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

}  // namespace tuft::output
