// A section on its way out: map, grid read back, words, files.
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkNew.h>
#include <vtkStructuredGrid.h>
#include <vtkXMLStructuredGridReader.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/figure/xml.hpp"
#include "tests/io/field_runs.hpp"
#include "tests/io/sample.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/field_run.hpp"
#include "tools/io/folder.hpp"

using namespace tuft;
using namespace tuft::io;
using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

/// The rooms with a slice made by hand across x: 6 by 4 cells of 20 mm by 10 mm. A table below, a screen
/// above, the device between them, warm air where x is largest, and the outlet's air drawn again by the
/// grille.
FieldRun sliced(double gravity_x, double gravity_y) {
  constexpr int nx = 6, ny = 4;
  FieldRun field = rooms();
  flow2d::SectionResult slice;
  slice.end = flow2d::SectionEnd::steady;
  slice.plane = {0, 0.06};
  slice.why_plane = "it cuts the grille";
  slice.gravity[0] = gravity_x;
  slice.gravity[1] = gravity_y;
  for (int i = 0; i <= nx; ++i) slice.x.push_back(0.02 + 0.02 * i);
  for (int j = 0; j <= ny; ++j) slice.y.push_back(-0.01 + 0.01 * j);
  slice.part = flow2d::Array2T<int>(nx, ny, static_cast<int>(flow2d::Part::air));
  slice.vent = flow2d::Array2T<int>(nx, ny, -1);
  slice.u_face = flow2d::Array2(nx + 1, ny, 0.5);
  slice.v_face = flow2d::Array2(nx, ny + 1, 0.0);
  slice.u = flow2d::Array2(nx, ny, 0.5);
  slice.u(nx - 1, ny - 1) = 0.3;
  slice.v = slice.pressure = flow2d::Array2(nx, ny, 0.0);
  slice.density = flow2d::Array2(nx, ny, 1.2);
  slice.temperature = flow2d::Array2(nx, ny, 294.0);
  for (int j = 0; j < ny; ++j) slice.temperature(nx - 1, j) = 320.0;
  slice.part(0, 0) = static_cast<int>(flow2d::Part::support);
  slice.part(1, 1) = slice.part(2, 1) = static_cast<int>(flow2d::Part::chassis);
  slice.part(3, 3) = static_cast<int>(flow2d::Part::screen);
  slice.tracers = {{3, flow2d::Array2(nx, ny, 0.25)}};
  slice.vents.resize(4);
  slice.vents[2].cut = flow2d::VentCut::cut;
  slice.vents[2].drawn = 296.0;
  slice.recirculation = {{3, 2, 0.2, 0.5, 0.04, 0.02, true}};
  field.section = SectionRun{slice, std::nullopt};
  return field;
}

}  // namespace

TEST_CASE("a slice is drawn with gravity down the page, whatever the pose") {
  // Gravity along the grid: which way is down, and where the warm cells at the far end of x must be.
  struct Way {
    double x, y;
    int warm_row, warm_column;
  };
  for (const Way& way :
       {Way{0.0, -9.8, -1, 5}, Way{0.0, 9.8, -1, 0}, Way{-9.8, 0.0, 5, -1}, Way{9.8, 0.0, 0, -1}}) {
    INFO(way.x << ' ' << way.y);
    const FieldRun field = sliced(way.x, way.y);
    const figure::FieldMap map = section_map(field, MapQuantity::temperature, section_lines(field));
    REQUIRE(map.gravity);
    CHECK(map.gravity->up == Approx(-1.0));
    CHECK(map.gravity->right == Approx(0.0).margin(1e-12));
    const int columns = static_cast<int>(map.x.size()) - 1, rows = static_cast<int>(map.y.size()) - 1;
    REQUIRE(columns * rows == 24);
    CHECK(columns == (way.y != 0.0 ? 6 : 4));
    for (int j = 0; j < rows; ++j)
      for (int i = 0; i < columns; ++i) {
        const bool warm = j == way.warm_row || i == way.warm_column;
        CHECK(map.values[static_cast<std::size_t>(j * columns + i)] == Approx(warm ? 46.85 : 20.85));
      }
    CHECK(std::count(map.solid.begin(), map.solid.end(), true) == 4);
    REQUIRE(map.vents.size() == 1);  // the one that is cut
    CHECK(map.vents[0].name == "grille");
    REQUIRE(map.words.size() == 3);
    CHECK(map.words[0].text == "device");
    const std::string svg = figure::field_map(map);
    for (const std::string& fault : tuft::test::text_faults(svg)) FAIL_CHECK(fault);
  }
}

TEST_CASE("a slice reads back as a grid in the world") {
  const test::Scratch scratch;
  const FieldRun field = sliced(0.0, -9.8);
  const fs::path path = scratch.path() / "section.vts";
  REQUIRE(write_bytes(path, section_vts(field)) == 0);
  vtkNew<vtkXMLStructuredGridReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  REQUIRE(reader->GetErrorCode() == 0);
  vtkStructuredGrid* grid = reader->GetOutput();
  REQUIRE(grid->GetNumberOfCells() == 24);
  double point[3];
  grid->GetPoint(0, point);
  CHECK(point[0] == Approx(0.06));
  CHECK(point[1] == Approx(0.02));
  CHECK(point[2] == Approx(-0.01));
  double velocity[3];
  grid->GetCellData()->GetArray("velocity_m_s")->GetTuple(7, velocity);
  CHECK(velocity[1] == Approx(0.5));  // the grid's x is the device's y
  CHECK(grid->GetCellData()->GetArray("from_outlet")->GetComponent(0, 0) == 0.25);
  CHECK(grid->GetCellData()->GetArray("solid")->GetComponent(0, 0) == 1.0);
}

TEST_CASE("what intakes draw again is told, in words and in the files") {
  const test::Scratch scratch;
  FieldRun field = sliced(0.0, -9.8);
  field.section->fed_back =
      FedBack{network_result(field), network_result(field), network_result(field), {0.1, 0.003}, true, 0.005};
  FedBack& back = *field.section->fed_back;
  back.network.vents[2].temperature_in += 3.0;
  back.lowest.vents[2].temperature_in += 2.0;
  back.highest.vents[2].temperature_in += 4.5;
  const std::string text = section_text(field, Look{});
  CHECK_THAT(text, Contains("section across x at 60 mm") &&
                       Contains("Of the air grille draws, 10.0 % has just come out of outlet") &&
                       Contains("7.0 to 13"));
  CHECK_THAT(text, Contains("no role changes") && Contains("air drawn by grille") && Contains("+3.0 °C") &&
                       Contains("+2.0 to +4.5") && Contains("rounds, 0.3 % in the last"));
  const auto files = write_field(field, scratch.path() / "out");
  for (const char* file : {"vtk/section.vts", "vtk/section-streamlines.vtp",
                           "figures/section-temperature.svg", "figures/section-speed.png"})
    CHECK(std::find(files.begin(), files.end(), file) != files.end());
  const auto json = nlohmann::json::parse(test::bytes_of(scratch.path() / "out/results.json"));
  const auto& section = json["section"];
  CHECK(section["across"] == "x");
  CHECK(section["recirculation"][0]["intake"] == "grille");
  CHECK(section["recirculation"][0]["fraction"].get<double>() == Approx(0.1));
  CHECK(section["fed_back"]["vents"][2]["temperature_in_K"].get<double>() -
            section["fed_back"]["vents"][2]["temperature_in_before_K"].get<double>() ==
        Approx(3.0));
  CHECK(section["recirculation"][0]["lowest"].get<double>() == Approx(0.07));
  CHECK(section["recirculation"][0]["highest"].get<double>() == Approx(0.13));
  CHECK(section["fed_back"]["settled"] == true);
  CHECK(section["fed_back"]["apart"].size() == 2);
  CHECK(section["fed_back"]["vents"][2]["temperature_in_between_K"][1].get<double>() -
            section["fed_back"]["vents"][2]["temperature_in_before_K"].get<double>() ==
        Approx(4.5));
  back.settled = false;
  CHECK_THAT(section_text(field, Look{}), Contains("agree yet"));
  field.section->result.recirculation[0].uncertain = false;
  CHECK_THAT(section_text(field, Look{}), Contains("not known"));
  field.section->result.end = flow2d::SectionEnd::not_converged;
  CHECK_THAT(section_text(field, Look{}), Contains("there are no shares"));
  field.section->fed_back.reset();
  write_field(field, scratch.path() / "sketch");
  const auto sketch = nlohmann::json::parse(test::bytes_of(scratch.path() / "sketch/results.json"));
  CHECK(sketch["section"]["end"] == "not-converged");
  CHECK(sketch["section"]["recirculation"].empty());
}
