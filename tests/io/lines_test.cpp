// Streamlines of a solved field, and the file they go to.
#include <vtkCell.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkSmartPointer.h>
#include <vtkStringArray.h>
#include <vtkXMLPolyDataReader.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "tests/io/field_runs.hpp"
#include "tests/io/sample.hpp"
#include "tools/io/field_lines.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/vtk.hpp"

using namespace tuft;
using namespace tuft::io;
using namespace tuft::test;
namespace fs = std::filesystem;

namespace {

std::vector<FlowLine> lines_of(const FieldRun& field) {
  return flow_lines(field.run.content.device, field.plan, field.cell);
}

vtkSmartPointer<vtkPolyData> read_vtp(const fs::path& path) {
  vtkNew<vtkXMLPolyDataReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  REQUIRE(reader->GetErrorCode() == 0);
  return reader->GetOutput();
}

std::string line_text_at(vtkFieldData* data, const char* name, vtkIdType at) {
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
  flow2d::PlanResult plan = channel();
  plan.layers[0].u_face.fill(0.0);
  plan.vents[0].cells.clear();
  plan.vents[1].cells.clear();
  CHECK(flow_lines(channel_device(), plan, 0.01).empty());
}

TEST_CASE("streamlines stay in the air of one room and end where it leaves") {
  const FieldRun& field = rooms();
  const flow2d::LayerFields& layer = field.plan.layers[0];
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
                        [&](const flow2d::CellFlux& cell) { return cell.i == i && cell.j == j; }));
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

TEST_CASE("streamlines read back as polylines with their ends by name") {
  const test::Scratch scratch;
  const std::vector<FlowLine> lines = lines_of(rooms());
  const fs::path path = scratch.path() / "lines.vtp";
  REQUIRE(write_bytes(path, lines_vtp(rooms(), lines)) == 0);
  const auto data = read_vtp(path);
  REQUIRE(data->GetNumberOfCells() == static_cast<vtkIdType>(lines.size()));
  CHECK(data->GetCell(0)->GetNumberOfPoints() == static_cast<vtkIdType>(lines[0].points.size()));
  CHECK(data->GetPointData()->GetArray("speed_m_s")->GetComponent(0, 0) == lines[0].points[0].speed);
  for (vtkIdType cell = 0; cell < data->GetNumberOfCells(); ++cell) {
    const FlowLine& line = lines[static_cast<std::size_t>(cell)];
    CHECK(line_text_at(data->GetCellData(), "ends", cell) == line_end_word(line.ends));
    if (line.from_vent == 2) CHECK(line_text_at(data->GetCellData(), "from_vent", cell) == "grille");
  }
}

TEST_CASE("a line that goes round and round is shown once round") {
  FlowLine line;
  constexpr double kTurn = 6.28318530717958648;
  for (int k = 0; k <= 500; ++k)  // five turns of radius 0.1, drawing in slowly
    line.points.push_back({(0.1 - 1e-5 * k) * std::cos(kTurn * k / 100.0),
                           (0.1 - 1e-5 * k) * std::sin(kTurn * k / 100.0), 1.0, 300.0});
  const FlowLine once = without_repeats(line, 0.02);
  CHECK(once.points.size() > 100);
  CHECK(once.points.size() < 130);  // one turn, and the stretch by which it is known
  // Turns that keep apart are all there.
  FlowLine spiral = line;
  for (std::size_t k = 0; k < spiral.points.size(); ++k) {
    const double wider = 1.0 + static_cast<double>(k) / 100.0;
    spiral.points[k].x *= wider;
    spiral.points[k].y *= wider;
  }
  CHECK(without_repeats(spiral, 0.02).points.size() == spiral.points.size());
  CHECK(thinned({line, line}, 0.02).size() == 1);
}
