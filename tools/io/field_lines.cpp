#include "tools/io/field_lines.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkDoubleArray.h>
#include <vtkIdList.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkRectilinearGrid.h>
#include <vtkSmartPointer.h>
#include <vtkStreamTracer.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "tools/io/line_layer.hpp"

namespace tuft::io {
namespace {

constexpr std::size_t kMostSeedsAVent = 14;
constexpr int kPlacesAcross = 16;  // of the regular grid, along the longer side

constexpr vtkIdType kMostSteps = 4000;
constexpr double kStill = 1e-4;    // of the fastest air: slower is not followed
constexpr double kShortest = 1.5;  // a line this many cells long or shorter shows nothing

/// A place in a layer where a line is begun [m].
struct LineSeed {
  double x = 0.0, y = 0.0;
};

// Cells of every vent that gives air to the layer (or takes it), thinned evenly.
std::vector<LineSeed> vent_seeds(const LineLayer& layer, bool gives) {
  std::vector<std::vector<LineSeed>> by_vent;
  for (int j = 0; j < layer.ny; ++j)
    for (int i = 0; i < layer.nx; ++i)
      for (const CellEnd& end : layer.ends(i, j)) {
        if (end.kind != LineEnd::vent || (end.gives > 0.0) != gives) continue;
        by_vent.resize(std::max<std::size_t>(by_vent.size(), end.vent + 1));
        by_vent[end.vent].push_back({layer.middle_x(i), layer.middle_y(j)});
      }
  std::vector<LineSeed> seeds;
  for (const auto& all : by_vent) {
    const std::size_t step = std::max<std::size_t>(1, all.size() / kMostSeedsAVent);
    for (std::size_t k = step / 2; k < all.size(); k += step) seeds.push_back(all[k]);
  }
  return seeds;
}

// A regular grid of places, without those in solids.
std::vector<LineSeed> regular_seeds(const LineLayer& layer) {
  const double apart = std::max(layer.width(), layer.height()) / kPlacesAcross;
  std::vector<LineSeed> seeds;
  for (double y = layer.layer.y.front() + 0.5 * apart; y < layer.layer.y.back(); y += apart)
    for (double x = layer.layer.x.front() + 0.5 * apart; x < layer.layer.x.back(); x += apart)
      if (!layer.is_solid(layer.column(x), layer.row(y))) seeds.push_back({x, y});
  return seeds;
}

/// Follows the air of one layer.
class Tracer {
 public:
  Tracer(const geometry::Device* device, const flow2d::LayerFields& layer,
         const std::vector<std::vector<CellEnd>>& ends, int number)
      : view_{layer, ends, corner_velocity(device, layer, ends)}, number_(number) {
    for (std::size_t k = 0; k < view_.corners.u.size(); ++k)
      fastest_ = std::max(fastest_, std::hypot(view_.corners.u[k], view_.corners.v[k]));
  }

  std::vector<FlowLine> lines() const {
    std::vector<FlowLine> result;
    if (!(fastest_ > 0.0)) return result;
    for (const int direction : {vtkStreamTracer::FORWARD, vtkStreamTracer::BACKWARD, vtkStreamTracer::BOTH}) {
      const std::vector<LineSeed> seeds = direction == vtkStreamTracer::BOTH
                                              ? regular_seeds(view_)
                                              : vent_seeds(view_, direction == vtkStreamTracer::FORWARD);
      std::vector<FlowLine> more = traced(seeds, direction);
      std::move(more.begin(), more.end(), std::back_inserter(result));
    }
    return result;
  }

 private:
  /// The parts of a line from its seed: time at their end (negative: followed backward), and points.
  using Halves = std::vector<std::pair<double, std::vector<FlowLine::Point>>>;

  /// One layer of cells of some thickness about z = 0: the library finds no cell in a grid without any.
  vtkSmartPointer<vtkRectilinearGrid> grid() const {
    auto grid = vtkSmartPointer<vtkRectilinearGrid>::New();
    grid->SetDimensions(view_.nx + 1, view_.ny + 1, 2);
    const double half = 0.5 * std::min(view_.width() / view_.nx, view_.height() / view_.ny);
    grid->SetXCoordinates(coordinates(view_.layer.x));
    grid->SetYCoordinates(coordinates(view_.layer.y));
    grid->SetZCoordinates(coordinates({-half, half}));
    vtkNew<vtkDoubleArray> velocity;
    velocity->SetName("velocity");
    velocity->SetNumberOfComponents(3);
    for (int side_of_z = 0; side_of_z < 2; ++side_of_z)
      for (std::size_t k = 0; k < view_.corners.u.size(); ++k)
        velocity->InsertNextTuple3(view_.corners.u[k], view_.corners.v[k], 0.0);
    grid->GetPointData()->SetVectors(velocity);
    return grid;
  }

  static vtkSmartPointer<vtkDoubleArray> coordinates(const std::vector<double>& values) {
    auto array = vtkSmartPointer<vtkDoubleArray>::New();
    for (const double value : values) array->InsertNextValue(value);
    return array;
  }

  std::vector<FlowLine> traced(const std::vector<LineSeed>& seeds, int direction) const {
    std::vector<FlowLine> lines;
    if (seeds.empty()) return lines;
    vtkNew<vtkPoints> points;
    points->SetDataTypeToDouble();
    for (const LineSeed& seed : seeds) points->InsertNextPoint(seed.x, seed.y, 0.0);
    vtkNew<vtkPolyData> source;
    source->SetPoints(points);
    vtkNew<vtkStreamTracer> tracer;
    tracer->SetInputData(grid());
    tracer->SetSourceData(source);
    tracer->SetIntegratorTypeToRungeKutta45();
    tracer->SetIntegrationStepUnit(vtkStreamTracer::CELL_LENGTH_UNIT);
    tracer->SetInitialIntegrationStep(0.2);
    tracer->SetMinimumIntegrationStep(0.02);
    tracer->SetMaximumIntegrationStep(0.5);
    tracer->SetMaximumError(1e-5);
    tracer->SetMaximumPropagation(8.0 * (view_.width() + view_.height()));
    tracer->SetMaximumNumberOfSteps(kMostSteps);
    tracer->SetTerminalSpeed(kStill * fastest_);
    tracer->SetIntegrationDirection(direction);
    tracer->SetComputeVorticity(false);
    tracer->Update();
    return collected(*tracer->GetOutput());
  }

  // The tracer gives the two halves of a line that was followed both ways as two lines from the same seed,
  // not one after the other.
  std::vector<FlowLine> collected(vtkPolyData& output) const {
    vtkDataArray* seed_of = output.GetCellData()->GetArray("SeedIds");
    vtkDataArray* time = output.GetPointData()->GetArray("IntegrationTime");
    std::map<vtkIdType, Halves> by_seed;
    vtkNew<vtkIdList> ids;
    vtkCellArray* cells = output.GetLines();
    cells->InitTraversal();
    for (vtkIdType cell = 0; cells->GetNextCell(ids) != 0; ++cell) {
      if (ids->GetNumberOfIds() < 2) continue;
      const auto seed = static_cast<vtkIdType>(seed_of->GetComponent(cell, 0));
      std::vector<FlowLine::Point> points;
      for (vtkIdType k = 0; k < ids->GetNumberOfIds(); ++k) {
        double at[3];
        output.GetPoint(ids->GetId(k), at);
        points.push_back({at[0], at[1], 0.0, 0.0});
      }
      const double last = time->GetComponent(ids->GetId(ids->GetNumberOfIds() - 1), 0);
      by_seed[seed].push_back({last, std::move(points)});
    }
    std::vector<FlowLine> lines;
    for (const auto& [seed, halves] : by_seed)
      if (auto line = joined(halves)) lines.push_back(std::move(*line));
    return lines;
  }

  std::optional<FlowLine> joined(const Halves& halves) const {
    FlowLine line;
    line.layer = number_;
    LineWalk back, ahead;
    bool any_back = false, any_ahead = false;
    for (const auto& [time, points] : halves) {
      if (time < 0.0) {
        back = walked(view_, points, false);
        any_back = true;
      } else {
        ahead = walked(view_, points, true);
        any_ahead = true;
      }
    }
    if (!any_back && !any_ahead) return std::nullopt;
    const auto& start = any_back ? back.points.front() : ahead.points.front();
    const int i = view_.column(start.x), j = view_.row(start.y);
    if (!any_back) end_in_cell(view_, i, j, false, back);
    if (!any_ahead) end_in_cell(view_, i, j, true, ahead);
    line.points.assign(back.points.rbegin(), back.points.rend());
    if (any_back && any_ahead) line.points.pop_back();
    line.points.insert(line.points.end(), ahead.points.begin(), ahead.points.end());
    line.begins = back.end;
    line.from_vent = back.vent;
    line.ends = ahead.end;
    line.to_vent = ahead.vent;
    if (length_of(line) <
        kShortest * std::max(flow2d::side(view_.layer.x, i), flow2d::side(view_.layer.y, j)))
      return std::nullopt;
    for (FlowLine::Point& point : line.points) {
      const int ci = view_.column(point.x), cj = view_.row(point.y);
      point.speed = std::hypot(view_.layer.u(ci, cj), view_.layer.v(ci, cj));
      point.temperature = view_.layer.temperature(ci, cj);
    }
    return line;
  }

  static double length_of(const FlowLine& line) {
    double length = 0.0;
    for (std::size_t k = 1; k < line.points.size(); ++k)
      length += std::hypot(line.points[k].x - line.points[k - 1].x, line.points[k].y - line.points[k - 1].y);
    return length;
  }

  LineLayer view_;
  int number_;
  double fastest_ = 0.0;
};

}  // namespace

std::vector<FlowLine> lines_of_layer(const geometry::Device* device, const flow2d::LayerFields& layer,
                                     const std::vector<std::vector<CellEnd>>& ends, int number) {
  return Tracer(device, layer, ends, number).lines();
}

std::vector<FlowLine> flow_lines(const geometry::Device& device, const flow2d::PlanResult& plan,
                                 double cell) {
  std::vector<FlowLine> lines;
  for (std::size_t l = 0; l < plan.layers.size(); ++l) {
    const int number = static_cast<int>(l);
    std::vector<FlowLine> more =
        lines_of_layer(&device, plan.layers[l], ends_of_layer(device, plan, number, cell), number);
    std::move(more.begin(), more.end(), std::back_inserter(lines));
  }
  return lines;
}

}  // namespace tuft::io
