// The device in its pose as VTK polygons with the results on them, and the air's way through each vent.
#include "tools/io/vtk.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkXMLPolyDataWriter.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>

#include "tools/figure/projection.hpp"
#include "tools/io/vtk_write.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using geometry::Vec3;
using study::VentResult;

constexpr int kBoxPart = 0;
constexpr int kVentPart = 1;
constexpr int kLeakPart = 2;
constexpr int kNoRole = -1;

// Geometry and, cell by cell in VTK's order (points, lines, polygons), what each cell shows.
struct Scene {
  Eigen::Matrix3d to_world;
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> verts, lines, polys;
  std::vector<const VentResult*> leaks, vents;

  vtkIdType add(const Vec3& in_device) { return add_point(points, to_world * in_device); }
};

void add_box(Scene& scene, const Vec3& size) {
  std::array<vtkIdType, 8> corner{};
  for (int i = 0; i < 8; ++i) {
    const Vec3 choice((i & 1) != 0, (i & 2) != 0, (i & 4) != 0);
    corner[i] = scene.add(choice.cwiseProduct(size));
  }
  for (std::size_t i = 0; i < 8; ++i) {
    for (std::size_t bit = 1; bit < 8; bit *= 2) {
      if ((i & bit) != 0) continue;
      const std::array<vtkIdType, 2> edge = {corner[i], corner[i | bit]};
      scene.lines->InsertNextCell(2, edge.data());
    }
  }
}

// Corners in an order that makes the polygon's normal point out of the device.
void add_vent(Scene& scene, const geometry::Vent& vent) {
  Vec3 u, v;
  geometry::face_axes(vent.face, u, v);
  std::vector<Vec3> outline = figure::outline_of(vent);
  if (u.cross(v).dot(geometry::face_normal(vent.face)) <= 0.0) std::swap(outline[1], outline[3]);
  std::array<vtkIdType, 4> corners{};
  for (std::size_t i = 0; i < corners.size(); ++i) corners[i] = scene.add(outline[i]);
  scene.polys->InsertNextCell(4, corners.data());
}

void add_leak(Scene& scene, const geometry::Vent& leak) {
  const vtkIdType centre = scene.add(leak.centre);
  scene.verts->InsertNextCell(1, &centre);
}

// Values of one field on all cells.
struct ShapeArray {
  enum class Kind { code, flow, other };  // the order in which they are written
  std::string name;
  Kind kind;
  std::vector<double> values;
};

// Adds one cell to the arrays of a vent's fields that stand on its shape.
class AddCell {
 public:
  explicit AddCell(std::vector<ShapeArray>& arrays) : arrays_(arrays) {}

  void operator()(const numerics::ResultField& field, study::Doing doing) {
    add(field, ShapeArray::Kind::code, static_cast<int>(doing));
  }
  void operator()(const numerics::ResultField& field, bool value) {
    add(field, ShapeArray::Kind::code, value ? 1 : 0);
  }
  void operator()(const numerics::ResultField& field, double value) {
    add(field, field.unit == std::string("kg/s") ? ShapeArray::Kind::flow : ShapeArray::Kind::other, value);
  }
  void operator()(const numerics::ResultField&, const numerics::MaybeNumber&) {}

 private:
  void add(const numerics::ResultField& field, ShapeArray::Kind kind, double value) {
    if (!field.on_shape) return;
    if (next_ == arrays_.size()) arrays_.push_back({numerics::key_of(field), kind, {}});
    arrays_[next_++].values.push_back(value);
  }

  std::vector<ShapeArray>& arrays_;
  std::size_t next_ = 0;
};

double passing_temperature(const VentResult& vent) {
  return vent.inflow > vent.outflow ? vent.temperature_in : vent.temperature_out;
}

void add_results(vtkPolyData* data, const Scene& scene, const geometry::Device& device,
                 double room_temperature) {
  VentResult box;
  box.temperature_in = box.temperature_out = room_temperature;
  box.role = static_cast<geometry::Role>(kNoRole);
  std::vector<const VentResult*> cells = scene.leaks;  // then the box's edges, then vents
  cells.insert(cells.end(), static_cast<std::size_t>(scene.lines->GetNumberOfCells()), &box);
  cells.insert(cells.end(), scene.vents.begin(), scene.vents.end());
  std::vector<ShapeArray> arrays;
  std::vector<int> parts;
  std::vector<double> net, temperatures;
  std::vector<std::string> names;
  for (const VentResult* cell : cells) {
    for_each_field(*cell, AddCell(arrays));
    const geometry::Vent* opening = cell == &box ? nullptr : &at(device.vents, cell->vent);
    parts.push_back(opening == nullptr ? kBoxPart : opening->is_leak ? kLeakPart : kVentPart);
    net.push_back(cell->inflow - cell->outflow);
    temperatures.push_back(passing_temperature(*cell));
    names.push_back(opening == nullptr ? "device" : opening->name);
  }
  vtkCellData* to = data->GetCellData();
  const auto add_all = [&](ShapeArray::Kind kind) {
    for (const ShapeArray& array : arrays) {
      if (array.kind != kind) continue;
      if (kind == ShapeArray::Kind::code)
        add_codes(to, array.name, {array.values.begin(), array.values.end()});
      else
        add_numbers(to, array.name, array.values);
    }
  };
  add_codes(to, "part", parts);
  add_all(ShapeArray::Kind::code);
  add_numbers(to, "net_inflow_kg_s", net);
  add_all(ShapeArray::Kind::flow);
  add_all(ShapeArray::Kind::other);
  add_numbers(to, "temperature_K", temperatures);
  add_texts(to, "name", names);
}

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
    const geometry::Vent& opening = at(device.vents, vent.vent);
    if (opening.is_leak || std::max(vent.inflow, vent.outflow) <= 0.0) continue;
    const int way = vent.outflow >= vent.inflow ? 1 : -1;
    arrows.push_back(arrow_of(opening, pose, vent, way));
    if (vent.role == geometry::Role::both_ways) arrows.push_back(arrow_of(opening, pose, vent, -way));
  }
  return arrows;
}

}  // namespace

std::string device_vtp(const geometry::Device& device, const geometry::Pose& pose,
                       const study::ConditionResult& result, const std::string& flows) {
  Scene scene;
  scene.to_world = pose.to_world;
  scene.points->SetDataTypeToDouble();
  add_box(scene, device.size);
  for (const VentResult& vent : result.vents) {
    const geometry::Vent& opening = at(device.vents, vent.vent);
    if (opening.is_leak) {
      add_leak(scene, opening);
      scene.leaks.push_back(&vent);
    } else {
      add_vent(scene, opening);
      scene.vents.push_back(&vent);
    }
  }
  vtkNew<vtkPolyData> data;
  data->SetPoints(scene.points);
  data->SetVerts(scene.verts);
  data->SetLines(scene.lines);
  data->SetPolys(scene.polys);
  add_results(data, scene, device, result.ambient_temperature);
  add_texts(data->GetFieldData(), "title", {device.name + ", " + result.name});
  add_texts(data->GetFieldData(), "flows", {flows});
  add_texts(
      data->GetFieldData(), "units",
      {"coordinates in m, world frame, +Z up; SI units in array names; pressures and heads by the network"});
  return as_text<vtkXMLPolyDataWriter>(data);
}

std::string flow_vtp(const geometry::Device& device, const geometry::Pose& pose,
                     const study::ConditionResult& result, const std::string& flows) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  vtkNew<vtkCellArray> verts;
  std::vector<Vec3> velocities;
  std::vector<int> roles;
  std::vector<double> speeds;
  std::vector<std::string> names;
  for (const Arrow& arrow : arrows_of(device, pose, result)) {
    const vtkIdType point = points->InsertNextPoint(arrow.at.x(), arrow.at.y(), arrow.at.z());
    verts->InsertNextCell(1, &point);
    velocities.push_back(arrow.velocity);
    roles.push_back(static_cast<int>(arrow.vent->role));
    speeds.push_back(arrow.velocity.norm());
    names.push_back(at(device.vents, arrow.vent->vent).name);
  }
  vtkNew<vtkPolyData> data;
  data->SetPoints(points);
  data->SetVerts(verts);
  add_velocities(data->GetPointData(), velocities);
  add_codes(data->GetPointData(), "role", roles);
  add_numbers(data->GetPointData(), "speed_m_s", speeds);
  add_texts(data->GetPointData(), "name", names);
  add_texts(data->GetFieldData(), "flows", {flows});
  add_texts(data->GetFieldData(), "units", {"coordinates in m, world frame, +Z up; velocity in m/s"});
  return as_text<vtkXMLPolyDataWriter>(data);
}

}  // namespace tuft::io
