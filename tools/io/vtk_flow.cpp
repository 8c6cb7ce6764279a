// The air's way through each vent as points with a vector.
#include <vtkCellArray.h>
#include <vtkDoubleArray.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

#include <algorithm>

#include "tools/io/vtk.hpp"
#include "tools/io/vtk_write.hpp"

namespace tuft::output {
namespace {

using geometry::Vec3;
using study::VentResult;

struct Arrow {
  Vec3 at, velocity;  // world frame
  const VentResult* vent = nullptr;
};

// `out` +1 for air leaving, -1 for air entering. The face velocity belongs to the larger gross flow; the
// smaller one has its part of it, the few per cent between the two densities neglected.
Arrow arrow_of(const geometry::Vent& opening, const geometry::Pose& pose, const VentResult& vent, int out) {
  const double larger = std::max(vent.inflow, vent.outflow);
  const double part = (out > 0 ? vent.outflow : vent.inflow) / larger;
  const Vec3 along = pose.to_world * geometry::face_normal(opening.face);
  return {pose.to_world * opening.centre, out * part * vent.face_velocity * along, &vent};
}

std::vector<Arrow> arrows_of(const geometry::Device& device, const geometry::Pose& pose,
                             const study::ConditionResult& result) {
  std::vector<Arrow> arrows;
  for (const VentResult& vent : result.vents) {
    const geometry::Vent& opening = device.vents[static_cast<std::size_t>(vent.vent)];
    if (opening.is_leak || std::max(vent.inflow, vent.outflow) <= 0.0) continue;
    const int way = vent.outflow >= vent.inflow ? 1 : -1;
    arrows.push_back(arrow_of(opening, pose, vent, way));
    if (vent.role == geometry::Role::both_ways) arrows.push_back(arrow_of(opening, pose, vent, -way));
  }
  return arrows;
}

}  // namespace

void write_flow_vtp(const std::string& path, const geometry::Device& device, const geometry::Pose& pose,
                    const study::ConditionResult& result) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  vtkNew<vtkCellArray> verts;
  vtkNew<vtkDoubleArray> velocity;
  velocity->SetName("velocity_m_s");
  velocity->SetNumberOfComponents(3);
  std::vector<int> roles;
  std::vector<double> speeds;
  std::vector<std::string> names;
  for (const Arrow& arrow : arrows_of(device, pose, result)) {
    const vtkIdType point = points->InsertNextPoint(arrow.at.x(), arrow.at.y(), arrow.at.z());
    verts->InsertNextCell(1, &point);
    velocity->InsertNextTuple3(arrow.velocity.x() + 0.0, arrow.velocity.y() + 0.0, arrow.velocity.z() + 0.0);
    roles.push_back(static_cast<int>(arrow.vent->role));
    speeds.push_back(arrow.velocity.norm());
    names.push_back(device.vents[static_cast<std::size_t>(arrow.vent->vent)].name);
  }
  vtkNew<vtkPolyData> data;
  data->SetPoints(points);
  data->SetVerts(verts);
  data->GetPointData()->SetVectors(velocity);
  add_codes(data->GetPointData(), "role", roles);
  add_numbers(data->GetPointData(), "speed_m_s", speeds);
  add_texts(data->GetPointData(), "name", names);
  add_texts(data->GetFieldData(), "units", {"coordinates in m, world frame, +Z up; velocity in m/s"});
  write_polydata(data, path);
}

}  // namespace tuft::output
