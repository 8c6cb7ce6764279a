#include "solver/flow2d/section_model.hpp"

#include <algorithm>
#include <cmath>

#include "solver/flow2d/layers.hpp"
#include "solver/network/assemble.hpp"
#include "solver/physics/face_law.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kSkinConducts = 1e4;  // [W/(m K)]: the surface of a held cell has the cell's temperature
constexpr double kKarman = 0.41;       // of a mixing length beside a wall (from memory)

/// Still air of the room beyond: air that enters is sped up from rest, air that leaves loses its own head
/// (F20).
Edge rim(double temperature) {
  Edge edge;
  edge.kind = EdgeKind::outlet;
  edge.temperature = temperature;
  edge.inertial_in = 0.5 * physics::exit_loss;
  return edge;
}

double width(const Axis& axis, int k) { return axis.widths()[k]; }
double centre(const Axis& axis, int k) { return axis.centres()[k]; }

void set_parts(const Scene& scene, SectionModel* model) {
  Problem& p = model->problem;
  const int nx = p.grid.nx(), ny = p.grid.ny();
  model->part = Array2T<int>(nx, ny);
  p.solid = Mask(nx, ny);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const Part part =
          scene.part(centre(p.grid.x, i), centre(p.grid.y, j), width(p.grid.x, i), width(p.grid.y, j));
      model->part(i, j) = static_cast<int>(part);
      p.solid(i, j) = part == Part::air ? 0 : 1;
    }
}

/// Temperature of the chassis' surface at a cell of it [K], 0: adiabatic.
class Surfaces {
 public:
  Surfaces(const Scene& scene, const SectionBoundaryData& given, const Grid& grid)
      : scene_(scene), given_(given), grid_(grid) {}

  double at(int i, int j) const {
    const int cell[2] = {i, j};
    for (std::size_t s = 0; s < given_.skins.size(); ++s) {
      if (!(given_.skins[s] > 0.0)) continue;
      const geometry::Skin& skin = scene_.device().skins[s];
      const FaceInPlane face = face_in_plane(skin.face, scene_.plane());
      if (face.axis < 0 || !beside(face, cell[face.axis])) continue;
      const auto span = [&](int axis) {
        return span_along(skin.face, skin.centre, skin.width, skin.height, axis);
      };
      const int line = 1 - face.axis;
      const int axis = line == 0 ? scene_.plane().first() : scene_.plane().second();
      if (span(scene_.plane().normal).holds(scene_.plane().at) &&
          span(axis).holds(centre(grid_.axis(line), cell[line])))
        return given_.skins[s];
    }
    return given_.chassis;
  }

 private:
  /// Whether cell k along the face's axis is the chassis' outermost there.
  bool beside(const FaceInPlane& face, int k) const {
    const Span body = scene_.chassis(face.axis);
    const Axis& axis = grid_.axis(face.axis);
    if (face.high) return std::abs(axis.faces()[static_cast<std::size_t>(k) + 1] - body.high) < 1e-9;
    return std::abs(axis.faces()[k] - body.low) < 1e-9;
  }

  const Scene& scene_;
  const SectionBoundaryData& given_;
  const Grid& grid_;
};

void set_skin(const Scene& scene, const SectionBoundaryData& given, SectionModel* model) {
  Problem& p = model->problem;
  const int nx = p.grid.nx(), ny = p.grid.ny();
  p.held = Mask(nx, ny);
  p.held_temperature = Array2(nx, ny, p.fluid.temperature);
  p.solid_conductivity = Array2(nx, ny);
  const Surfaces surfaces(scene, given, p.grid);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      if (model->part(i, j) != static_cast<int>(Part::chassis)) continue;
      const double t = surfaces.at(i, j);
      if (!(t > 0.0)) continue;
      p.held(i, j) = 1;
      p.held_temperature(i, j) = same_as_room(p.fluid, t) ? p.fluid.temperature : t;
      p.solid_conductivity(i, j) = kSkinConducts;
    }
}

/// Distance of every air cell's centre from the nearest solid, by a sweep over the neighbours' neighbours;
/// exact enough for a length that is only an upper bound.
Array2 wall_distance(const Problem& p) {
  const int nx = p.grid.nx(), ny = p.grid.ny();
  Array2 d(nx, ny, 1e3);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      if (p.is_solid(i, j)) d(i, j) = 0.0;
  const auto relax = [&](int i, int j, int ni, int nj) {
    if (ni < 0 || nj < 0 || ni >= nx || nj >= ny || p.is_solid(i, j)) return;
    const double dx = centre(p.grid.x, i) - centre(p.grid.x, ni),
                 dy = centre(p.grid.y, j) - centre(p.grid.y, nj);
    const double solid =
        p.is_solid(ni, nj) ? 0.5 * (ni != i ? width(p.grid.x, ni) : width(p.grid.y, nj)) : 0.0;
    d(i, j) = std::min(d(i, j), d(ni, nj) + std::hypot(dx, dy) - solid);
  };
  for (int sweep = 0; sweep < 2; ++sweep) {
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i)
        for (int k = -1; k <= 1; ++k) {
          relax(i, j, i + k, j - 1);
          if (k < 0) relax(i, j, i - 1, j);
        }
    for (int j = ny - 1; j >= 0; --j)
      for (int i = nx - 1; i >= 0; --i)
        for (int k = -1; k <= 1; ++k) {
          relax(i, j, i + k, j + 1);
          if (k > 0) relax(i, j, i + 1, j);
        }
  }
  return d;
}

/// Mixing length: that of a free plane jet from the nearest outlet, and no more than beside a wall (F28).
void set_closure(SectionModel* model) {
  Problem& p = model->problem;
  struct Jet {
    double x, y, start;  ///< start: how far behind the outlet it seems to begin [m]
  };
  std::vector<Jet> jets;
  for (const VentCell& m : model->vent_cells) {
    if (!(m.flow > 0.0)) continue;
    const double length = model->lengths[m.vent];
    jets.push_back({centre(p.grid.x, m.i), centre(p.grid.y, m.j), 0.5 * length / kJetSpread});
  }
  if (jets.empty()) return;
  const Array2 wall = wall_distance(p);
  const double ratio = jet_mixing_ratio() * kJetSpread;
  p.closure.mixing_length = Array2(p.grid.nx(), p.grid.ny());
  for (int j = 0; j < p.grid.ny(); ++j)
    for (int i = 0; i < p.grid.nx(); ++i) {
      if (p.is_solid(i, j)) continue;
      double least = 1e300;
      for (const Jet& jet : jets)
        least =
            std::min(least, std::hypot(centre(p.grid.x, i) - jet.x, centre(p.grid.y, j) - jet.y) + jet.start);
      p.closure.mixing_length(i, j) = std::min(kKarman * wall(i, j), ratio * least);
    }
}

/// Whether anything has another temperature than the room.
bool is_warm(const Problem& p) {
  const auto differs = [&](double t) { return t != p.fluid.temperature; };
  const auto any = [&](const Array2& a) {
    return std::any_of(a.values().begin(), a.values().end(), differs);
  };
  return any(p.held_temperature) || any(p.source_temperature);
}

}  // namespace

SectionModel make_model(const geometry::Case& content, const geometry::Condition& condition,
                        const SectionBoundaryData& given, const Plane& plane, const SectionOptions& options,
                        double coarser) {
  const Scene scene(content, condition, plane);
  const network::Network net = network::assemble(content, condition, network::ZoneAir::mixed);
  const network::Ambient& ambient = net.graph.ambient;
  SectionModel model;
  Problem& p = model.problem;
  const double finest = coarser * options.finest, largest = 0.1 * options.margin * std::sqrt(coarser);
  const double growth = options.growth * std::sqrt(coarser);
  const int gap = std::max(2, static_cast<int>(std::lround(options.gap_cells / coarser)));
  p.grid = {axis_through(scene.lines(0, finest, options.margin, gap), growth, largest),
            axis_through(scene.lines(1, finest, options.margin, gap), growth, largest)};
  p.fluid = fluid_of(ambient);
  p.gravity = {ambient.gravity[plane.first()], ambient.gravity[plane.second()]};
  p.momentum_scheme = p.energy_scheme = Convection::upwind;
  for (const Side side : {Side::left, Side::right, Side::bottom, Side::top})
    p.set_side(side, rim(p.fluid.temperature));
  const int nx = p.grid.nx(), ny = p.grid.ny();
  set_parts(scene, &model);
  set_skin(scene, given, &model);
  p.mass_source = p.source_velocity[0] = p.source_velocity[1] = Array2(nx, ny);
  p.source_temperature = Array2(nx, ny, p.fluid.temperature);
  p.barrier = {Mask(nx + 1, ny), Mask(nx, ny + 1)};
  model.cuts.assign(content.device.vents.size(), VentCut::missed);
  model.lengths.assign(content.device.vents.size(), 0.0);
  for (const network::VentSurroundings& front : net.layout.front) model.hidden.push_back(front.hidden);
  add_vent_cells(scene, given, &model);
  p.energy = is_warm(p);
  if (options.closure) set_closure(&model);
  return model;
}

}  // namespace tuft::flow2d
