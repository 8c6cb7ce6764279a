// A field run on its way out: streamlines, VTK files read back, figures, table, folder.
#include <vtkCell.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkFieldData.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkSmartPointer.h>
#include <vtkStringArray.h>
#include <vtkStructuredGrid.h>
#include <vtkXMLImageDataReader.h>
#include <vtkXMLPolyDataReader.h>
#include <vtkXMLStructuredGridReader.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <set>

#include "solver/agreement/given.hpp"
#include "solver/plan/solve.hpp"
#include "solver/study/predict.hpp"
#include "tests/figure/xml.hpp"
#include "tests/output/sample.hpp"
#include "tests/plan/support.hpp"
#include "tools/output/field_csv.hpp"
#include "tools/output/field_figures.hpp"
#include "tools/output/field_folder.hpp"
#include "tools/output/field_progress.hpp"
#include "tools/output/field_text.hpp"
#include "tools/output/field_vtk.hpp"
#include "tools/output/finite.hpp"
#include "tools/output/section_figures.hpp"
#include "tools/output/section_text.hpp"

using namespace tuft;
using namespace tuft::output;
using Catch::Matchers::Contains;
using geometry::Face;
using geometry::Role;
using geometry::Vec3;
namespace fs = std::filesystem;

namespace {

constexpr double kCell = 0.01;

/// Two rooms with a passage between them. Air comes in by slots in front and left and a grille in the base of
/// the first, and a fan in the second blows it out to the right.
geometry::Case two_rooms() {
  geometry::Case c = plan::test::box({0.24, 0.16, 0.04});
  geometry::Zone& left = c.device.zones[0];
  left.name = "left";
  left.size.x() = 0.12;
  left.centre.x() = 0.06;
  geometry::Zone right = left;
  right.name = "right";
  right.centre.x() = 0.18;
  c.device.zones.push_back(right);
  geometry::Passage passage;
  passage.name = "slot";
  passage.zone_b = 1;
  passage.centre = {0.12, 0.05, 0.02};
  passage.width = 0.04;
  passage.height = 0.02;
  passage.length = 0.004;
  c.device.passages = {passage};
  c.device.vents = {plan::test::vent("front", Face::front, {0.05, 0.0, 0.02}, 0.06, 0.01),
                    plan::test::vent("side", Face::left, {0.0, 0.08, 0.02}, 0.05, 0.01),
                    plan::test::vent("grille", Face::base, {0.06, 0.11, 0.0}, 0.06, 0.05),
                    plan::test::vent("outlet", Face::right, {0.24, 0.08, 0.02}, 0.04, 0.03)};
  c.device.vents[3].behind = {geometry::PlaceKind::fan_outlet, 0};
  geometry::Fan fan = plan::test::fan_into_zone(0, 12.0, 3e-3);
  fan.kind = geometry::FanKind::axial;
  fan.draws_from = {geometry::PlaceKind::zone, 1};
  fan.blows_into = {geometry::PlaceKind::vent, 3};
  fan.centre = {0.2, 0.08, 0.02};
  c.device.fans = {fan};
  geometry::Source source;
  source.name = "board";
  source.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  c.device.sources = {source};
  c.loads[0].powers = {{0, 12.0}};
  return c;
}

FieldRun solved_run(geometry::Case c) {
  FieldRun field;
  field.run.content = std::move(c);
  field.run.case_file = "rooms.yaml";
  field.run.case_sha256 = "0";
  field.run.version = "0";
  field.run.conditions = {study::predict(field.run.content, 0)};
  REQUIRE(network_result(field).report.converged);
  field.cell = kCell;
  plan::PlanOptions options;
  options.cell = kCell;
  field.plan = plan::solve_plan(field.run.content, condition_of(field),
                                agreement::given_of(network_result(field)), options);
  INFO(field.plan.message);
  REQUIRE(field.plan.converged());
  field.agreement = agreement::agree(field.run.content, network_result(field), field.plan);
  return field;
}

const FieldRun& rooms() {
  static const FieldRun field = solved_run(two_rooms());
  return field;
}

std::vector<FlowLine> lines_of(const FieldRun& field) {
  return flow_lines(field.run.content.device, field.plan, field.cell);
}

// A straight channel made by hand: air comes in at the left, goes out at the right, uniform.
plan::PlanResult channel() {
  constexpr int nx = 20, ny = 8;
  plan::PlanResult plan;
  plan::LayerFields layer;
  layer.name = "inside";
  for (int i = 0; i <= nx; ++i) layer.x.push_back(0.01 * i);
  for (int j = 0; j <= ny; ++j) layer.y.push_back(0.01 * j);
  layer.height = layer.pressure = layer.heat = field::Array2(nx, ny, 0.01);
  layer.depth = field::Array2(nx, ny, 0.02);
  layer.density = field::Array2(nx, ny, 1.2);
  layer.temperature = field::Array2(nx, ny, 300.0);
  layer.part = field::Array2T<int>(nx, ny, 0);
  layer.solid = field::Mask(nx, ny, 0);
  layer.u_face = field::Array2(nx + 1, ny, 1.0);
  layer.v_face = field::Array2(nx, ny + 1, 0.0);
  layer.u = field::Array2(nx, ny, 1.0);
  layer.v = field::Array2(nx, ny, 0.0);
  for (int j = 0; j < ny; ++j) layer.u_face(0, j) = layer.u_face(nx, j) = 0.0;  // vents stand in walls
  plan.layers = {layer};
  plan.vents.resize(2);
  const double flow = 1.2 * 0.02 * 0.01;
  for (int j = 0; j < ny; ++j) {
    plan.vents[0].cells.push_back({0, 0, j, 1e-4, flow, 0.0});
    plan.vents[1].cells.push_back({0, nx - 1, j, 1e-4, 0.0, flow});
  }
  return plan;
}

geometry::Device channel_device() {
  geometry::Device device = plan::test::box({0.2, 0.08, 0.02}).device;
  device.vents = {plan::test::vent("in", Face::left, {0.0, 0.04, 0.01}, 0.08, 0.01),
                  plan::test::vent("out", Face::right, {0.2, 0.04, 0.01}, 0.08, 0.01)};
  return device;
}

vtkSmartPointer<vtkPolyData> read_vtp(const fs::path& path) {
  vtkNew<vtkXMLPolyDataReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  REQUIRE(reader->GetErrorCode() == 0);
  return reader->GetOutput();
}

std::string text_at(vtkFieldData* data, const char* name, vtkIdType at) {
  auto* array = vtkStringArray::SafeDownCast(data->GetAbstractArray(name));
  REQUIRE(array != nullptr);
  return array->GetValue(at);
}

}  // namespace

TEST_CASE("in a uniform channel streamlines are straight, from vent to vent") {
  const geometry::Device device = channel_device();
  const std::vector<FlowLine> lines = flow_lines(device, channel(), 0.01);
  REQUIRE(lines.size() > 8);
  for (const FlowLine& line : lines) {
    const FlowLine::Point& first = line.points.front();
    for (const FlowLine::Point& point : line.points) CHECK(point.y == Approx(first.y).margin(1e-9));
    if (first.y < 0.01 || first.y > 0.07) continue;  // beside a wall, where air is held still
    INFO(first.x << ' ' << first.y << ' ' << line_end_word(line.begins) << ' ' << line_end_word(line.ends));
    CHECK(line.begins == LineEnd::vent);
    CHECK(line.ends == LineEnd::vent);
    CHECK(line.from_vent == 0);
    CHECK(line.to_vent == 1);
    CHECK(line.points.back().x > 0.19);
    CHECK(first.x < 0.01);
  }
}

TEST_CASE("air that stands still has no streamlines") {
  plan::PlanResult plan = channel();
  plan.layers[0].u_face.fill(0.0);
  plan.vents[0].cells.clear();
  plan.vents[1].cells.clear();
  CHECK(flow_lines(channel_device(), plan, 0.01).empty());
}

TEST_CASE("streamlines stay in the air of one room and end where it leaves") {
  const FieldRun& field = rooms();
  const plan::LayerFields& layer = field.plan.layers[0];
  const std::vector<FlowLine> lines = lines_of(field);
  REQUIRE(lines.size() > 30);
  std::set<int> from;
  int loose = 0;
  for (const FlowLine& line : lines) {
    const bool right = line.points.front().x > 0.12;
    for (const FlowLine::Point& point : line.points) {
      REQUIRE((point.x >= 0.0 && point.x <= 0.24 && point.y >= 0.0 && point.y <= 0.16));
      CHECK((std::abs(point.x - 0.12) < 1e-9 || (point.x > 0.12) == right));
      CHECK(layer.solid(std::min(23, static_cast<int>(point.x / kCell)),
                        std::min(15, static_cast<int>(point.y / kCell))) == 0);
    }
    if (line.from_vent >= 0) from.insert(line.from_vent);
    if (line.ends == LineEnd::still_air || line.ends == LineEnd::wall) ++loose;
    if (!right) CHECK(line.ends != LineEnd::fan);
    if (line.begins == LineEnd::vent) {
      // It begins in a cell of that vent.
      const auto& cells = field.plan.vents[static_cast<std::size_t>(line.from_vent)].cells;
      const int i = static_cast<int>(line.points.front().x / kCell);
      const int j = static_cast<int>(line.points.front().y / kCell);
      CHECK(std::any_of(cells.begin(), cells.end(),
                        [&](const plan::CellFlux& cell) { return cell.i == i && cell.j == j; }));
    }
  }
  CHECK(from == std::set<int>{0, 1, 2});
  CHECK(loose <= static_cast<int>(lines.size()) / 10);
  const auto ends_at = [&](LineEnd end) {
    return std::count_if(lines.begin(), lines.end(), [&](const FlowLine& l) { return l.ends == end; });
  };
  CHECK(ends_at(LineEnd::passage) > 5);  // out of the first room
  CHECK(ends_at(LineEnd::fan) > 5);      // out of the second
}

TEST_CASE("a layer reads back as an image with all its fields, turned by the pose") {
  const test::Scratch scratch;
  FieldRun field = rooms();
  field.run.content.poses[0] = geometry::named_pose("on-left-edge");
  const fs::path path = scratch.path() / "inside.vti";
  write_layer_vti(path.string(), field, 0);
  vtkNew<vtkXMLImageDataReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  REQUIRE(reader->GetErrorCode() == 0);
  vtkImageData* image = reader->GetOutput();
  const plan::LayerFields& layer = field.plan.layers[0];
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

TEST_CASE("streamlines read back as polylines with their ends by name") {
  const test::Scratch scratch;
  const std::vector<FlowLine> lines = lines_of(rooms());
  const fs::path path = scratch.path() / "lines.vtp";
  write_lines_vtp(path.string(), rooms(), lines);
  const auto data = read_vtp(path);
  REQUIRE(data->GetNumberOfCells() == static_cast<vtkIdType>(lines.size()));
  CHECK(data->GetCell(0)->GetNumberOfPoints() == static_cast<vtkIdType>(lines[0].points.size()));
  CHECK(data->GetPointData()->GetArray("speed_m_s")->GetComponent(0, 0) == lines[0].points[0].speed);
  for (vtkIdType cell = 0; cell < data->GetNumberOfCells(); ++cell) {
    const FlowLine& line = lines[static_cast<std::size_t>(cell)];
    CHECK(text_at(data->GetCellData(), "ends", cell) == line_end_word(line.ends));
    if (line.from_vent == 2) CHECK(text_at(data->GetCellData(), "from_vent", cell) == "grille");
  }
}

TEST_CASE("maps have the vents where the case has them, with the field's roles") {
  const FieldRun& field = rooms();
  const figure::FieldMap map = layer_map(field, 0, MapQuantity::temperature, lines_of(field));
  REQUIRE(map.vents.size() == 4);
  const auto same = [](const figure::Place& place, double x, double y) {
    return std::abs(place.x - x) < 1e-12 && std::abs(place.y - y) < 1e-12;
  };
  CHECK((same(map.vents[0].from, 0.02, 0.0) && same(map.vents[0].to, 0.08, 0.0)));
  CHECK((same(map.vents[1].from, 0.0, 0.055) && same(map.vents[1].to, 0.0, 0.105)));
  CHECK((same(map.vents[2].from, 0.03, 0.085) && same(map.vents[2].to, 0.09, 0.135)));
  CHECK((same(map.vents[3].from, 0.24, 0.06) && same(map.vents[3].to, 0.24, 0.1)));
  CHECK(map.vents[2].is_area);
  CHECK(map.vents[0].doing.role == Role::intake);
  CHECK(map.vents[3].doing.role == Role::exhaust);
  REQUIRE(map.gravity);
  CHECK(map.gravity->towards == Approx(-1.0));  // flat: away from who looks down on it
  CHECK(map.values.size() == 24 * 16);
  CHECK(map.values[0] == Approx(field.plan.layers[0].temperature[0] - 273.15));
  REQUIRE(map.parts.size() == 1);  // the fan's mouth
  CHECK(map.parts[0].round);
}

TEST_CASE("the drawings of a field have no text on text, and show vents to scale") {
  const FieldRun& field = rooms();
  for (const MapQuantity quantity : {MapQuantity::temperature, MapQuantity::speed}) {
    const std::string svg = figure::field_map(layer_map(field, 0, quantity, lines_of(field)));
    for (const std::string& fault : test::text_faults(svg)) FAIL_CHECK(fault);
    const test::Element root = test::parsed(svg);
    const auto vents = test::having(test::all(root, "rect"), "data-vent", "grille");
    REQUIRE(vents.size() == 1);
    const figure::Box grille = test::box_of(vents[0]);
    const figure::Box map = test::box_of(test::having(test::all(root, "image"), "data-part", "field").at(0));
    const double scale = map.width() / 0.24;
    CHECK(grille.left == Approx(map.left + 0.03 * scale).margin(0.02));
    CHECK(grille.top == Approx(map.bottom - 0.135 * scale).margin(0.02));
    CHECK(grille.width() == Approx(0.06 * scale).margin(0.02));
  }
}

TEST_CASE("the table of both says who differs, and by how much") {
  FieldRun field = rooms();
  const Look look;
  std::string text = field_text(field, look);
  CHECK_THAT(text, Contains("give all 4 vents the same role") && Contains("grille") && Contains("outlet"));
  field.agreement.vents[2].roles_differ = true;
  field.agreement.vents[2].field.role = Role::idle;
  text = field_text(field, look);
  CHECK_THAT(text, Contains("differ on what grille (intake by the network, idle by the field) does."));
  CHECK_THAT(text, Contains("grille !"));
  field.plan.end = plan::PlanEnd::reduced;
  field.plan.momentum_share = 0.3;
  field.agreement.start_apart = 0.4;
  text = field_text(field, look);
  CHECK_THAT(text, Contains("only 30.0 % of the air's inertia") && Contains("another steady state"));
  const std::string csv = agreement_csv(field);
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
  CHECK(field["agreement"]["roles_differ"] == 0);
  CHECK(field["agreement"]["vents"].size() == 4);
  REQUIRE(field["model_doubt"].size() == 4);
  CHECK(field["model_doubt"][2]["vent"] == "grille");
  CHECK(field["model_doubt"][2].contains("flow_relative"));
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

namespace {

/// The rooms with a slice made by hand across x: 6 by 4 cells of 20 mm by 10 mm. A table below, a screen
/// above, the device between them, warm air where x is largest, and the outlet's air drawn again by the
/// grille.
FieldRun sliced(double gravity_x, double gravity_y) {
  constexpr int nx = 6, ny = 4;
  FieldRun field = rooms();
  section::SectionResult slice;
  slice.end = section::SectionEnd::steady;
  slice.plane = {0, 0.06};
  slice.why_plane = "it cuts the grille";
  slice.gravity[0] = gravity_x;
  slice.gravity[1] = gravity_y;
  for (int i = 0; i <= nx; ++i) slice.x.push_back(0.02 + 0.02 * i);
  for (int j = 0; j <= ny; ++j) slice.y.push_back(-0.01 + 0.01 * j);
  slice.part = field::Array2T<int>(nx, ny, static_cast<int>(section::Part::air));
  slice.vent = field::Array2T<int>(nx, ny, -1);
  slice.u_face = field::Array2(nx + 1, ny, 0.5);
  slice.v_face = field::Array2(nx, ny + 1, 0.0);
  slice.u = field::Array2(nx, ny, 0.5);
  slice.v = slice.pressure = field::Array2(nx, ny, 0.0);
  slice.density = field::Array2(nx, ny, 1.2);
  slice.temperature = field::Array2(nx, ny, 294.0);
  for (int j = 0; j < ny; ++j) slice.temperature(nx - 1, j) = 320.0;
  slice.part(0, 0) = static_cast<int>(section::Part::support);
  slice.part(1, 1) = slice.part(2, 1) = static_cast<int>(section::Part::chassis);
  slice.part(3, 3) = static_cast<int>(section::Part::screen);
  slice.tracers = {{3, field::Array2(nx, ny, 0.25)}};
  slice.vents.resize(4);
  slice.vents[2].cut = section::VentCut::cut;
  slice.vents[2].drawn = 296.0;
  slice.reentry = {{3, 2, 0.2, 0.5, 0.04, 0.02, true}};
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
    for (const std::string& fault : test::text_faults(svg)) FAIL_CHECK(fault);
  }
}

TEST_CASE("a slice reads back as a grid in the world") {
  const test::Scratch scratch;
  const FieldRun field = sliced(0.0, -9.8);
  const fs::path path = scratch.path() / "section.vts";
  write_section_vts(path.string(), field);
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
  CHECK_THAT(text,
             Contains("section across x at 60 mm") &&
                 Contains("Of the air grille draws, 10.0 % has just come out of outlet") && Contains("7.0 to 13"));
  CHECK_THAT(text, Contains("no role changes") && Contains("air drawn by grille") && Contains("+3.0 K") &&
                       Contains("+2.0 to +4.5") && Contains("rounds, 0.3 % in the last"));
  const auto files = write_field(field, scratch.path() / "out");
  for (const char* file : {"vtk/section.vts", "vtk/section-streamlines.vtp",
                           "figures/section-temperature.svg", "figures/section-speed.png"})
    CHECK(std::find(files.begin(), files.end(), file) != files.end());
  const auto json = nlohmann::json::parse(test::bytes_of(scratch.path() / "out/results.json"));
  const auto& section = json["section"];
  CHECK(section["across"] == "x");
  CHECK(section["reentry"][0]["intake"] == "grille");
  CHECK(section["reentry"][0]["fraction"].get<double>() == Approx(0.1));
  CHECK(section["fed_back"]["vents"][2]["temperature_in_K"].get<double>() -
            section["fed_back"]["vents"][2]["temperature_in_before_K"].get<double>() ==
        Approx(3.0));
  CHECK(section["reentry"][0]["lowest"].get<double>() == Approx(0.07));
  CHECK(section["reentry"][0]["highest"].get<double>() == Approx(0.13));
  CHECK(section["fed_back"]["settled"] == true);
  CHECK(section["fed_back"]["apart"].size() == 2);
  CHECK(section["fed_back"]["vents"][2]["temperature_in_between_K"][1].get<double>() -
            section["fed_back"]["vents"][2]["temperature_in_before_K"].get<double>() ==
        Approx(4.5));
  back.settled = false;
  CHECK_THAT(section_text(field, Look{}), Contains("do not agree yet"));
  field.section->result.reentry[0].doubted = false;
  CHECK_THAT(section_text(field, Look{}), Contains("not known"));
  field.section->result.end = section::SectionEnd::not_converged;
  CHECK_THAT(section_text(field, Look{}), Contains("no fractions"));
  field.section->fed_back.reset();
  write_field(field, scratch.path() / "sketch");
  const auto sketch = nlohmann::json::parse(test::bytes_of(scratch.path() / "sketch/results.json"));
  CHECK(sketch["section"]["end"] == "not-converged");
  CHECK(sketch["section"]["reentry"].empty());
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
  field::Progress progress;
  progress.nx = 156;
  progress.ny = 110;
  progress.step = 7;
  progress.residual = 3.1e-4;
  CHECK(progress_text(progress, 6.0, 9.0) ==
        "cells 156 x 110, step 7, residual 3.1e-04, 6 s, about 9 s left");
  CHECK(progress_text(progress, 6.0, -1.0) == "cells 156 x 110, step 7, residual 3.1e-04, 6 s");
}
