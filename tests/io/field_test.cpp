// A field run on its way out: fields read back, table, folder, time left.
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkFieldData.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkStringArray.h>
#include <vtkXMLImageDataReader.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "tests/io/field_runs.hpp"
#include "tests/io/sample.hpp"
#include "tools/io/field_progress.hpp"
#include "tools/io/field_run.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/vtk.hpp"

using namespace tuft;
using namespace tuft::io;
using namespace tuft::test;
using Catch::Matchers::Contains;
using geometry::Role;
using geometry::Vec3;
namespace fs = std::filesystem;

namespace {

std::string text_at(vtkFieldData* data, const char* name, vtkIdType at) {
  auto* array = vtkStringArray::SafeDownCast(data->GetAbstractArray(name));
  REQUIRE(array != nullptr);
  return array->GetValue(at);
}

}  // namespace

TEST_CASE("a layer reads back as an image with all its fields, turned by the pose") {
  const test::Scratch scratch;
  FieldRun field = rooms();
  field.run.content.poses[0] = geometry::named_pose("on-left-edge");
  const fs::path path = scratch.path() / "inside.vti";
  REQUIRE(write_bytes(path, layer_vti(field, 0)) == 0);
  vtkNew<vtkXMLImageDataReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  REQUIRE(reader->GetErrorCode() == 0);
  vtkImageData* image = reader->GetOutput();
  const flow2d::LayerFields& layer = field.plan.layers[0];
  REQUIRE(image->GetNumberOfCells() == 24 * 16);
  for (const char* name : {"pressure_Pa", "temperature_K", "density_kg_m3", "heat_W_m2", "depth_m",
                           "height_m", "layer", "part", "solid"})
    CHECK(image->GetCellData()->GetArray(name) != nullptr);
  for (const int cell : {0, 100, 383}) {
    const auto k = static_cast<std::size_t>(cell);
    CHECK(image->GetCellData()->GetArray("temperature_K")->GetComponent(cell, 0) == layer.temperature[k]);
    CHECK(image->GetCellData()->GetArray("pressure_Pa")->GetComponent(cell, 0) == layer.pressure[k]);
    // On the left edge the device's x points up.
    double velocity[3];
    image->GetCellData()->GetArray("velocity_m_s")->GetTuple(cell, velocity);
    CHECK(velocity[2] == Approx(layer.u[k]).margin(1e-12));
  }
  double corner[3];
  image->GetPoint(24, corner);  // the far end of the first row of points
  const Vec3 expected = field.run.content.poses[0].to_world * Vec3(0.24, 0.0, 0.02);
  for (int axis = 0; axis < 3; ++axis) CHECK(corner[axis] == Approx(expected[axis]).margin(1e-12));
  CHECK_THAT(text_at(image->GetFieldData(), "units", 0), Contains("pressure in Pa"));
  CHECK(text_at(image->GetFieldData(), "layer_name", 0) == "inside");
  CHECK_THAT(text_at(image->GetFieldData(), "parts", 0), Contains("0 left") && Contains("1 right"));
}

TEST_CASE("the table of both says who differs, and by how much") {
  FieldRun field = rooms();
  const Look look;
  std::string text = field_text(field, look);
  CHECK_THAT(text, Contains("give all 4 vents the same role") && Contains("grille") && Contains("outlet"));
  field.comparison.vents[2].roles_differ = true;
  field.comparison.vents[2].field.role = Role::idle;
  text = field_text(field, look);
  CHECK_THAT(text, Contains("differ on what grille (intake by the network, idle by the field) does."));
  CHECK_THAT(text, Contains("grille !"));
  field.plan.end = flow2d::PlanEnd::reduced;
  field.plan.momentum_share = 0.3;
  field.comparison.start_apart = 0.4;
  text = field_text(field, look);
  CHECK_THAT(text, Contains("only 30.0 % of the air's inertia") && Contains("another steady state"));
  const std::string csv = field_comparison_csv(field);
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 5);
  CHECK_THAT(csv, Contains("grille,base,no,no,yes,intake,") && Contains("temperature apart [K]"));
}

TEST_CASE("a field becomes one folder that lists its files, the same twice") {
  const test::Scratch scratch;
  const std::vector<std::string> files = write_field(rooms(), scratch.path() / "a");
  REQUIRE(write_field(rooms(), scratch.path() / "b") == files);
  CHECK(scratch.entries() == 2);
  std::size_t found = 0;
  for (const auto& entry : fs::recursive_directory_iterator(scratch.path() / "a"))
    found += entry.is_regular_file() ? 1 : 0;
  CHECK(found == files.size());
  for (const std::string& file : files) {
    INFO(file);
    const std::string bytes = test::bytes_of(scratch.path() / "a" / file);
    CHECK(bytes == test::bytes_of(scratch.path() / "b" / file));
    CHECK(bytes.find(scratch.path().string()) == std::string::npos);
  }
  const auto json = nlohmann::json::parse(test::bytes_of(scratch.path() / "a/results.json"));
  CHECK(json["files"].get<std::vector<std::string>>() == files);
  const auto& field = json["field"];
  CHECK(field["end"] == "converged");
  CHECK(field["cell_m"] == kCell);
  CHECK(field["balance"]["mass"].get<double>() <= 1e-10);
  CHECK(field["network_and_field"]["roles_differ"] == 0);
  CHECK(field["network_and_field"]["vents"].size() == 4);
  CHECK(json["conditions"][0]["vents"][0]["field_role"] == "intake");
  CHECK(json["conditions"][0]["vents"][0]["field_disagrees"] == false);
  // Written over: ours to replace.
  CHECK_NOTHROW(write_field(rooms(), scratch.path() / "a"));
}

TEST_CASE("a field that is not finite leaves nothing behind") {
  const test::Scratch scratch;
  FieldRun field = rooms();
  field.plan.layers[0].temperature[7] = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_WITH(write_field(field, scratch.path() / "out"), Contains("inside.temperature"));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("time left is what the residual's fall says") {
  TimeLeft left;
  left.step(1.0, 1e-1, 1e-9);
  CHECK(left.seconds() < 0.0);  // nothing to go by
  left.step(2.0, 1e-2, 1e-9);
  CHECK(left.seconds() == Approx(7.0));  // seven decades at one a second
  left.step(3.0, 1e-2, 1e-9);
  CHECK(left.seconds() == Approx(14.0));
  left.step(4.0, 1.0, 1e-9);  // a new stage
  CHECK(left.seconds() < 0.0);
  left.step(6.0, 1e-10, 1e-9);
  CHECK(left.seconds() == 0.0);
  flow2d::Progress progress;
  progress.nx = 156;
  progress.ny = 110;
  progress.step = 7;
  progress.residual = 3.1e-4;
  CHECK(progress_text(progress, 6.0, 9.0) ==
        "cells 156 x 110, step 7, residual 3.1e-04, 6 s, about 9 s left");
  CHECK(count_text("samples", 256, 1024, 2.0) == "samples: 256 of 1024, 2 s, about 6 s left");
  CHECK(count_text("samples", 0, 1024, 2.0) == "samples: 0 of 1024, 2 s");
  CHECK(progress_text(progress, 6.0, -1.0) == "cells 156 x 110, step 7, residual 3.1e-04, 6 s");
}
