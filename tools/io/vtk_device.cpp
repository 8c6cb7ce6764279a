// The device in its pose as VTK polygons with the results on them.
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

#include <Eigen/Geometry>
#include <array>
#include <functional>

#include "tools/io/vtk.hpp"
#include "tools/io/vtk_write.hpp"

namespace tuft::output {
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

  vtkIdType add(const Vec3& in_device) {
    const Vec3 x = to_world * in_device;
    return points->InsertNextPoint(x.x() + 0.0, x.y() + 0.0, x.z() + 0.0);
  }
};

void add_box(Scene& scene, const Vec3& size) {
  std::array<vtkIdType, 8> corner{};
  for (int i = 0; i < 8; ++i) {
    const Vec3 choice((i & 1) != 0, (i & 2) != 0, (i & 4) != 0);
    corner[static_cast<std::size_t>(i)] = scene.add(choice.cwiseProduct(size));
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
  Vec3 u;
  Vec3 v;
  geometry::face_axes(vent.face, u, v);
  const Vec3 a = 0.5 * vent.width * u;
  const Vec3 b = 0.5 * vent.height * v;
  const bool outward = u.cross(v).dot(geometry::face_normal(vent.face)) > 0.0;
  const Vec3& p = outward ? a : b;
  const Vec3& q = outward ? b : a;
  const std::array<vtkIdType, 4> corners = {scene.add(vent.centre - p - q), scene.add(vent.centre + p - q),
                                            scene.add(vent.centre + p + q), scene.add(vent.centre - p + q)};
  scene.polys->InsertNextCell(4, corners.data());
}

void add_leak(Scene& scene, const geometry::Vent& leak) {
  const vtkIdType centre = scene.add(leak.centre);
  scene.verts->InsertNextCell(1, &centre);
}

// Values of all cells: leaks, then the box's edges, then vents.
template <typename Number>
std::vector<Number> cell_values(const Scene& scene, Number box,
                                const std::function<Number(const VentResult&)>& of) {
  std::vector<Number> values;
  for (const VentResult* leak : scene.leaks) values.push_back(of(*leak));
  values.insert(values.end(), static_cast<std::size_t>(scene.lines->GetNumberOfCells()), box);
  for (const VentResult* vent : scene.vents) values.push_back(of(*vent));
  return values;
}

double passing_temperature(const VentResult& vent) {
  return vent.inflow > vent.outflow ? vent.temperature_in : vent.temperature_out;
}

void add_results(vtkPolyData* data, const Scene& scene, const geometry::Device& device) {
  vtkCellData* cells = data->GetCellData();
  const auto opening = [&](const VentResult& vent) -> const geometry::Vent& {
    return device.vents[static_cast<std::size_t>(vent.vent)];
  };
  const auto numbers = [&](const char* name, const std::function<double(const VentResult&)>& of) {
    add_numbers(cells, name, cell_values<double>(scene, 0.0, of));
  };
  const auto codes = [&](const char* name, int box, const std::function<int(const VentResult&)>& of) {
    add_codes(cells, name, cell_values<int>(scene, box, of));
  };
  codes("part", kBoxPart, [&](const VentResult& v) { return opening(v).is_leak ? kLeakPart : kVentPart; });
  codes("role", kNoRole, [](const VentResult& v) { return static_cast<int>(v.role); });
  codes("firm", 0, [](const VentResult& v) { return v.firm ? 1 : 0; });
  numbers("net_inflow_kg_s", [](const VentResult& v) { return v.inflow - v.outflow; });
  numbers("inflow_kg_s", [](const VentResult& v) { return v.inflow; });
  numbers("outflow_kg_s", [](const VentResult& v) { return v.outflow; });
  numbers("share", [](const VentResult& v) { return v.share; });
  numbers("face_velocity_m_s", [](const VentResult& v) { return v.face_velocity; });
  numbers("pressure_Pa", [](const VentResult& v) { return v.pressure; });
  numbers("fan_head_Pa", [](const VentResult& v) { return v.fan_head; });
  numbers("buoyancy_head_Pa", [](const VentResult& v) { return v.buoyancy_head; });
  numbers("temperature_K", passing_temperature);
  add_texts(cells, "name",
            cell_values<std::string>(scene, "device", [&](const VentResult& v) { return opening(v).name; }));
}

}  // namespace

void write_device_vtp(const std::string& path, const geometry::Device& device, const geometry::Pose& pose,
                      const study::ConditionResult& result) {
  Scene scene;
  scene.to_world = pose.to_world;
  scene.points->SetDataTypeToDouble();
  add_box(scene, device.size);
  for (const VentResult& vent : result.vents) {
    const geometry::Vent& opening = device.vents[static_cast<std::size_t>(vent.vent)];
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
  add_results(data, scene, device);
  add_texts(data->GetFieldData(), "title", {device.name + ", " + result.name});
  add_texts(data->GetFieldData(), "units", {"coordinates in m, world frame, +Z up; SI units in array names"});
  write_polydata(data, path);
}

}  // namespace tuft::output
