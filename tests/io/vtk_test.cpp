// The VTK files, read back with VTK's own readers.
#include <vtkCell.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkSmartPointer.h>
#include <vtkStringArray.h>
#include <vtkXMLDataElement.h>
#include <vtkXMLPolyDataReader.h>
#include <vtkXMLUtilities.h>

#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "tests/io/sample.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/vtk.hpp"

using namespace tuft;
using namespace tuft::io;
using geometry::Vec3;

namespace {

vtkSmartPointer<vtkPolyData> read_vtp(const std::filesystem::path& path) {
  vtkNew<vtkXMLPolyDataReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  REQUIRE(reader->GetErrorCode() == 0);
  return reader->GetOutput();
}

double number(vtkFieldData* data, const char* name, vtkIdType at) {
  vtkDataArray* array = data->GetArray(name);
  REQUIRE(array != nullptr);
  return array->GetComponent(at, 0);
}

std::string text(vtkFieldData* data, const char* name, vtkIdType at) {
  auto* array = vtkStringArray::SafeDownCast(data->GetAbstractArray(name));
  REQUIRE(array != nullptr);
  return array->GetValue(at);
}

// Mean of a cell's corners.
Vec3 middle(vtkPolyData* data, vtkIdType cell) {
  vtkPoints* points = data->GetCell(cell)->GetPoints();
  Vec3 sum = Vec3::Zero();
  for (vtkIdType i = 0; i < points->GetNumberOfPoints(); ++i) sum += Vec3(points->GetPoint(i));
  return sum / static_cast<double>(points->GetNumberOfPoints());
}

Vec3 normal(vtkPolyData* data, vtkIdType cell) {
  vtkPoints* points = data->GetCell(cell)->GetPoints();
  const Vec3 a(points->GetPoint(0));
  const Vec3 b(points->GetPoint(1));
  const Vec3 c(points->GetPoint(2));
  return (b - a).cross(c - b).normalized();
}

constexpr vtkIdType kFirstVent = 1 + 12;  // after one leak and the twelve edges of the box

}  // namespace

TEST_CASE("the device in its pose, vents with their results") {
  const Run run = test::sample_run();
  const test::Scratch scratch;
  const auto path = scratch.path() / "bench.vtp";
  const geometry::Pose& pose = run.content.poses[1];
  REQUIRE(write_bytes(path, device_vtp(run.content.device, pose, run.conditions[1])) == 0);
  const auto data = read_vtp(path);
  REQUIRE(data->GetNumberOfCells() == 1 + 12 + 3);
  vtkCellData* cells = data->GetCellData();
  CHECK(number(cells, "part", 0) == 2);
  CHECK(number(cells, "part", 1) == 0);
  CHECK(number(cells, "role", 1) == -1);
  for (vtkIdType vent = 0; vent < 3; ++vent) {
    const auto& expected = run.conditions[1].vents[static_cast<std::size_t>(vent)];
    const auto& opening = run.content.device.vents[static_cast<std::size_t>(vent)];
    const vtkIdType cell = kFirstVent + vent;
    CHECK(number(cells, "part", cell) == 1);
    CHECK(number(cells, "role", cell) == static_cast<double>(expected.role));
    CHECK(number(cells, "net_inflow_kg_s", cell) ==
          Approx(expected.inflow - expected.outflow).epsilon(1e-10));
    CHECK(number(cells, "pressure_Pa", cell) == Approx(expected.pressure).epsilon(1e-10));
    CHECK(text(cells, "name", cell) == opening.name);
    CHECK((middle(data, cell) - pose.to_world * opening.centre).norm() < 1e-12);
    CHECK((normal(data, cell) - pose.to_world * geometry::face_normal(opening.face)).norm() < 1e-9);
  }
  CHECK(text(data->GetFieldData(), "title", 0) == "Sample box (invented), bench");
}

TEST_CASE("on the left edge the left side is down, in the files too") {
  const Run run = test::sample_run();
  const test::Scratch scratch;
  const auto path = scratch.path() / "bench.vtp";
  REQUIRE(write_bytes(path, device_vtp(run.content.device, run.content.poses[1], run.conditions[1])) == 0);
  const auto data = read_vtp(path);
  CHECK(normal(data, kFirstVent + 2).isApprox(-Vec3::UnitZ(), 1e-12));
  double bounds[6];
  data->GetBounds(bounds);
  CHECK(bounds[4] == Approx(0.0).margin(1e-12));
  CHECK(bounds[5] == Approx(0.3));
}

TEST_CASE("arrows point into intakes, out of exhausts, and both ways where a vent breathes so") {
  const Run run = test::sample_run();
  const test::Scratch scratch;
  const auto path = scratch.path() / "use.flow.vtp";
  REQUIRE(write_bytes(path, flow_vtp(run.content.device, run.content.poses[0], run.conditions[0])) == 0);
  const auto data = read_vtp(path);
  REQUIRE(data->GetNumberOfPoints() == 4);
  vtkDataArray* velocity = data->GetPointData()->GetVectors();
  REQUIRE(velocity != nullptr);
  const auto arrow = [&](vtkIdType i) { return Vec3(velocity->GetTuple3(i)); };
  CHECK(arrow(0).isApprox(0.4 * Vec3::UnitZ(), 1e-10));     // grille in the base: air goes up, in
  CHECK(arrow(1).isApprox(0.45 * Vec3::UnitY(), 1e-10));    // slot at the rear: out
  CHECK(arrow(2).isApprox(0.075 * Vec3::UnitX(), 1e-10));   // left side: mostly in
  CHECK(arrow(3).isApprox(-0.025 * Vec3::UnitX(), 1e-10));  // and out
  CHECK(number(data->GetPointData(), "speed_m_s", 0) == Approx(0.4));
  CHECK(Vec3(data->GetPoint(0)).isApprox(run.content.device.vents[0].centre));
}

TEST_CASE("names with anything in them survive the format") {
  Run run = test::sample_run();
  run.content.device.vents[0].name = "<a & \"b\"> 通風口";
  run.content.device.vents[1].name = std::string("zero\0byte", 9);
  const test::Scratch scratch;
  const auto path = scratch.path() / "use.vtp";
  REQUIRE(write_bytes(path, device_vtp(run.content.device, run.content.poses[0], run.conditions[0])) == 0);
  const auto data = read_vtp(path);
  CHECK(text(data->GetCellData(), "name", kFirstVent) == "<a & \"b\"> 通風口");
  CHECK(text(data->GetCellData(), "name", kFirstVent + 1) == "zero\\x00byte");
}

TEST_CASE("the same condition gives the same bytes") {
  const Run run = test::sample_run();
  const auto bytes = [&] { return device_vtp(run.content.device, run.content.poses[0], run.conditions[0]); };
  CHECK(bytes() == bytes());
}

TEST_CASE("a collection lists its files by angle") {
  const std::string pvd = collection_pvd({{0.0, 0, "around/0000.vtp"}, {15.0, 1, "around/0001.flow.vtp"}});
  vtkSmartPointer<vtkXMLDataElement> root;
  root.TakeReference(vtkXMLUtilities::ReadElementFromString(pvd.c_str()));
  REQUIRE(root != nullptr);
  CHECK(root->GetAttribute("type") == std::string("Collection"));
  vtkXMLDataElement* collection = root->FindNestedElementWithName("Collection");
  REQUIRE(collection != nullptr);
  REQUIRE(collection->GetNumberOfNestedElements() == 2);
  CHECK(collection->GetNestedElement(1)->GetAttribute("timestep") == std::string("15"));
  CHECK(collection->GetNestedElement(1)->GetAttribute("file") == std::string("around/0001.flow.vtp"));
}
