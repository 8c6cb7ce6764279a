#include "tools/output/field_lines.hpp"

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

#include "tools/output/field_velocity.hpp"

namespace tuft::output {
namespace {

constexpr int kMostSeedsAVent = 14;
constexpr int kPlacesAcross = 16;  // of the regular grid, along the longer side
constexpr vtkIdType kMostSteps = 4000;
constexpr double kStill = 1e-4;    // of the fastest air: slower is not followed
constexpr double kShortest = 1.5;  // a line this many cells long or shorter shows nothing

struct Seed {
  double x = 0.0, y = 0.0;
  int direction = vtkStreamTracer::BOTH;
};

/// One layer with what its lines need.
class Tracer {
 public:
  Tracer(const geometry::Device* device, const plan::LayerFields& layer,
         const std::vector<std::vector<CellEnd>>& ends, int number)
      : layer_(layer),
        number_(number),
        ends_(ends),
        corners_(corner_velocity(device, layer, ends)),
        nx_(layer.solid.nx()),
        ny_(layer.solid.ny()) {
    for (std::size_t k = 0; k < corners_.u.size(); ++k)
      fastest_ = std::max(fastest_, std::hypot(corners_.u[k], corners_.v[k]));
  }

  std::vector<FlowLine> lines() const {
    std::vector<FlowLine> result;
    if (!(fastest_ > 0.0)) return result;
    for (const int direction : {vtkStreamTracer::FORWARD, vtkStreamTracer::BACKWARD, vtkStreamTracer::BOTH}) {
      const std::vector<Seed> seeds =
          direction == vtkStreamTracer::BOTH ? regular_seeds() : vent_seeds(direction);
      std::vector<FlowLine> more = traced(seeds, direction);
      std::move(more.begin(), more.end(), std::back_inserter(result));
    }
    return result;
  }

 private:
  /// The parts of a line from its seed: time at their end (negative: followed backward), and points.
  using Halves = std::vector<std::pair<double, std::vector<FlowLine::Point>>>;

  const std::vector<CellEnd>& ends(int i, int j) const {
    return ends_[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(i)];
  }
  bool is_solid(int i, int j) const { return layer_.solid(i, j) != 0; }
  static int cell_of(const std::vector<double>& faces, double at) {
    const auto next = std::upper_bound(faces.begin(), faces.end(), at);
    return std::clamp(static_cast<int>(next - faces.begin()) - 1, 0, static_cast<int>(faces.size()) - 2);
  }
  static double side(const std::vector<double>& faces, int cell) {
    return faces[static_cast<std::size_t>(cell) + 1] - faces[static_cast<std::size_t>(cell)];
  }
  int column(double x) const { return cell_of(layer_.x, x); }
  int row(double y) const { return cell_of(layer_.y, y); }
  double middle_x(int i) const { return layer_.x[static_cast<std::size_t>(i)] + 0.5 * side(layer_.x, i); }
  double middle_y(int j) const { return layer_.y[static_cast<std::size_t>(j)] + 0.5 * side(layer_.y, j); }
  double width() const { return layer_.x.back() - layer_.x.front(); }
  double height() const { return layer_.y.back() - layer_.y.front(); }

  /// Cells of every vent that gives (forward) or takes (backward), thinned evenly.
  std::vector<Seed> vent_seeds(int direction) const {
    std::vector<std::vector<Seed>> by_vent;
    for (int j = 0; j < ny_; ++j)
      for (int i = 0; i < nx_; ++i)
        for (const CellEnd& end : ends(i, j)) {
          if (end.kind != LineEnd::vent || (end.gives > 0.0) != (direction == vtkStreamTracer::FORWARD))
            continue;
          const auto v = static_cast<std::size_t>(end.vent);
          if (by_vent.size() <= v) by_vent.resize(v + 1);
          by_vent[v].push_back({middle_x(i), middle_y(j), direction});
        }
    std::vector<Seed> seeds;
    for (const auto& all : by_vent) {
      const std::size_t step = std::max<std::size_t>(1, all.size() / kMostSeedsAVent);
      for (std::size_t k = step / 2; k < all.size(); k += step) seeds.push_back(all[k]);
    }
    return seeds;
  }

  std::vector<Seed> regular_seeds() const {
    const double apart = std::max(width(), height()) / kPlacesAcross;
    std::vector<Seed> seeds;
    for (double y = layer_.y.front() + 0.5 * apart; y < layer_.y.back(); y += apart)
      for (double x = layer_.x.front() + 0.5 * apart; x < layer_.x.back(); x += apart)
        if (!is_solid(column(x), row(y))) seeds.push_back({x, y, vtkStreamTracer::BOTH});
    return seeds;
  }

  /// One layer of cells of some thickness about z = 0: the library finds no cell in a grid without any.
  vtkSmartPointer<vtkRectilinearGrid> grid() const {
    auto grid = vtkSmartPointer<vtkRectilinearGrid>::New();
    grid->SetDimensions(nx_ + 1, ny_ + 1, 2);
    const double half = 0.5 * std::min(width() / nx_, height() / ny_);
    grid->SetXCoordinates(coordinates(layer_.x));
    grid->SetYCoordinates(coordinates(layer_.y));
    grid->SetZCoordinates(coordinates({-half, half}));
    vtkNew<vtkDoubleArray> velocity;
    velocity->SetName("velocity");
    velocity->SetNumberOfComponents(3);
    for (int side_of_z = 0; side_of_z < 2; ++side_of_z)
      for (std::size_t k = 0; k < corners_.u.size(); ++k)
        velocity->InsertNextTuple3(corners_.u[k], corners_.v[k], 0.0);
    grid->GetPointData()->SetVectors(velocity);
    return grid;
  }

  static vtkSmartPointer<vtkDoubleArray> coordinates(const std::vector<double>& values) {
    auto array = vtkSmartPointer<vtkDoubleArray>::New();
    for (const double value : values) array->InsertNextValue(value);
    return array;
  }

  std::vector<FlowLine> traced(const std::vector<Seed>& seeds, int direction) const {
    std::vector<FlowLine> lines;
    if (seeds.empty()) return lines;
    vtkNew<vtkPoints> points;
    points->SetDataTypeToDouble();
    for (const Seed& seed : seeds) points->InsertNextPoint(seed.x, seed.y, 0.0);
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
    tracer->SetMaximumPropagation(8.0 * (width() + height()));
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

  /// Walks from a seed until something ends the path.
  struct Walk {
    std::vector<FlowLine::Point> points;
    LineEnd end = LineEnd::still_air;
    int vent = -1;
  };

  Walk walked(const std::vector<FlowLine::Point>& points, bool forward) const {
    Walk walk;
    walk.points.push_back(points.front());
    int i = column(points.front().x), j = row(points.front().y);
    for (std::size_t k = 1; k < points.size(); ++k) {
      const int to_i = column(points[k].x), to_j = row(points[k].y);
      if (!passes(i, j, to_i, to_j)) {
        if (walk.end != LineEnd::vent) walk.end = LineEnd::wall;
        return walk;
      }
      walk.points.push_back(points[k]);
      i = to_i;
      j = to_j;
      if (swallowed(i, j, forward, walk)) return walk;
    }
    at_edge(i, j, forward, walk);
    return walk;
  }

  /// Whether air can go from a cell to another, not far away.
  bool passes(int i, int j, int to_i, int to_j) const {
    if (is_solid(to_i, to_j)) return false;
    while (i != to_i || j != to_j) {
      // One step at a time, along x first where that is open.
      const int step_i = to_i > i ? 1 : to_i < i ? -1 : 0, step_j = to_j > j ? 1 : to_j < j ? -1 : 0;
      if (step_i != 0 && corners_.open_x(step_i > 0 ? i + 1 : i, j) != 0) {
        i += step_i;
      } else if (step_j != 0 && corners_.open_y(i, step_j > 0 ? j + 1 : j) != 0) {
        j += step_j;
      } else {
        return false;
      }
    }
    return true;
  }

  /// What leaves (forward) or comes to a cell through its faces [kg/s].
  double through_faces(int i, int j, bool forward) const {
    const double thick = layer_.density(i, j) * layer_.depth(i, j);
    double sum = 0.0;
    const auto add = [&](double outward, double length) {
      const double counted = forward ? outward : -outward;
      if (counted > 0.0) sum += counted * length;
    };
    add(-layer_.u_face(i, j), side(layer_.y, j));
    add(layer_.u_face(i + 1, j), side(layer_.y, j));
    add(-layer_.v_face(i, j), side(layer_.x, i));
    add(layer_.v_face(i, j + 1), side(layer_.x, i));
    return thick * sum;
  }

  /// True where more of the air in a cell leaves the layer (forward; backward: comes into it) there than goes
  /// on to the next cells.
  bool swallowed(int i, int j, bool forward, Walk& walk) const {
    walk.end = LineEnd::still_air;
    walk.vent = -1;
    const CellEnd* most = nullptr;
    double sum = 0.0;
    for (const CellEnd& end : ends(i, j)) {
      const double own = forward ? -end.gives : end.gives;
      if (!(own > 0.0)) continue;
      sum += own;
      if (most == nullptr || own > (forward ? -most->gives : most->gives)) most = &end;
    }
    // A vent in the edge is left by its own face: the line goes on to it.
    if (most == nullptr || sum < through_faces(i, j, forward)) return false;
    if (most->kind == LineEnd::vent && has_edge_face(i, j)) {
      walk.end = LineEnd::vent;
      walk.vent = most->vent;
      return false;
    }
    walk.end = most->kind;
    walk.vent = most->vent;
    return true;
  }

  /// Whether an open face of this cell was shut in the layer itself: that of a vent in the edge.
  bool has_edge_face(int i, int j) const {
    return (corners_.open_x(i, j) != 0 && layer_.u_face(i, j) == 0.0) ||
           (corners_.open_x(i + 1, j) != 0 && layer_.u_face(i + 1, j) == 0.0) ||
           (corners_.open_y(i, j) != 0 && layer_.v_face(i, j) == 0.0) ||
           (corners_.open_y(i, j + 1) != 0 && layer_.v_face(i, j + 1) == 0.0);
  }

  /// The end of a line that ran out: at a vent if its cell has one, else at the open edge of the layer.
  void at_edge(int i, int j, bool forward, Walk& walk) const {
    for (const CellEnd& end : ends(i, j)) {
      if ((forward ? -end.gives : end.gives) <= 0.0) continue;
      walk.end = end.kind;
      walk.vent = end.vent;
      return;
    }
    const bool rim = (i == 0 && corners_.open_x(0, j) != 0) ||
                     (i == nx_ - 1 && corners_.open_x(nx_, j) != 0) ||
                     (j == 0 && corners_.open_y(i, 0) != 0) || (j == ny_ - 1 && corners_.open_y(i, ny_) != 0);
    walk.vent = -1;
    walk.end = rim ? LineEnd::rim : LineEnd::still_air;
  }

  std::optional<FlowLine> joined(const Halves& halves) const {
    FlowLine line;
    line.layer = number_;
    Walk back, ahead;
    bool any_back = false, any_ahead = false;
    for (const auto& [time, points] : halves) {
      if (time < 0.0) {
        back = walked(points, false);
        any_back = true;
      } else {
        ahead = walked(points, true);
        any_ahead = true;
      }
    }
    if (!any_back && !any_ahead) return std::nullopt;
    const auto& start = any_back ? back.points.front() : ahead.points.front();
    const int i = column(start.x), j = row(start.y);
    if (!any_back) at_edge(i, j, false, back);
    if (!any_ahead) at_edge(i, j, true, ahead);
    line.points.assign(back.points.rbegin(), back.points.rend());
    if (any_back && any_ahead) line.points.pop_back();
    line.points.insert(line.points.end(), ahead.points.begin(), ahead.points.end());
    line.begins = back.end;
    line.from_vent = back.vent;
    line.ends = ahead.end;
    line.to_vent = ahead.vent;
    if (length_of(line) < kShortest * std::max(side(layer_.x, i), side(layer_.y, j))) return std::nullopt;
    for (FlowLine::Point& point : line.points) {
      const int ci = column(point.x), cj = row(point.y);
      point.speed = std::hypot(layer_.u(ci, cj), layer_.v(ci, cj));
      point.temperature = layer_.temperature(ci, cj);
    }
    return line;
  }

  static double length_of(const FlowLine& line) {
    double length = 0.0;
    for (std::size_t k = 1; k < line.points.size(); ++k)
      length += std::hypot(line.points[k].x - line.points[k - 1].x, line.points[k].y - line.points[k - 1].y);
    return length;
  }

  const plan::LayerFields& layer_;
  int number_;
  const std::vector<std::vector<CellEnd>>& ends_;
  CornerVelocity corners_;
  int nx_, ny_;
  double fastest_ = 0.0;
};

}  // namespace

std::vector<FlowLine> lines_of_layer(const geometry::Device* device, const plan::LayerFields& layer,
                                     const std::vector<std::vector<CellEnd>>& ends, int number) {
  return Tracer(device, layer, ends, number).lines();
}

std::vector<FlowLine> flow_lines(const geometry::Device& device, const plan::PlanResult& plan, double cell) {
  std::vector<FlowLine> lines;
  for (std::size_t l = 0; l < plan.layers.size(); ++l) {
    const int number = static_cast<int>(l);
    std::vector<FlowLine> more =
        lines_of_layer(&device, plan.layers[l], ends_of_layer(device, plan, number, cell), number);
    std::move(more.begin(), more.end(), std::back_inserter(lines));
  }
  return lines;
}

}  // namespace tuft::output
