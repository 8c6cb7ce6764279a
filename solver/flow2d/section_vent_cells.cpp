// Which cells lie just inside a vent, and what passes them.
#include "solver/flow2d/section_model.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::flow2d {
namespace {

using geometry::Face;
using geometry::Vent;

constexpr double kBothWays = 0.02;  // smaller over larger flow from which a vent is split
constexpr double kUpright = 0.3;    // share of gravity along a vent from which height splits it

/// A cell of the chassis that a vent opens.
struct VentCellAt {
  int i = 0, j = 0;
  double width = 0.0;  ///< along the vent [m]; in a slot at the hinge the root of the cell's area
};

class Finder {
 public:
  Finder(const Scene& scene, const SectionModel& model)
      : scene_(scene), model_(model), grid_(model.problem.grid), nx_(grid_.nx()), ny_(grid_.ny()) {}

  /// First layer of the chassis' cells behind the vent, where there is air before it.
  std::vector<VentCellAt> behind_face(const Vent& vent) const {
    const FaceInPlane face = face_in_plane(vent.face, scene_.plane());
    const int across = face.axis, line = 1 - across;
    const Axis& deep = grid_.axis(across);
    const Axis& wide = grid_.axis(line);
    const Span body = scene_.chassis(across);
    const double edge = face.high ? body.high : body.low;
    int layer = 0;  // of the chassis' cells, the one beside the face
    for (int k = 0; k < deep.n(); ++k) {
      const double centre = deep.centres()[k];
      if (!body.holds(centre)) continue;
      layer = k;
      if (!face.high) break;
    }
    if (std::abs(deep.faces()[face.high ? layer + 1 : layer] - edge) > 1e-9) return {};
    const Span span = span_along(vent, line == 0 ? scene_.plane().first() : scene_.plane().second());
    std::vector<VentCellAt> cells, middle;
    for (int k = 0; k < wide.n(); ++k) {
      VentCellAt cell{across == 0 ? layer : k, across == 0 ? k : layer, wide.widths()[k]};
      const int step = face.high ? 1 : -1;
      const int oi = cell.i + (across == 0 ? step : 0), oj = cell.j + (across == 1 ? step : 0);
      if (!scene_.chassis(line).holds(wide.centres()[k]) || !is_air(oi, oj) || !is_body(cell.i, cell.j))
        continue;
      if (span.holds(wide.centres()[k])) cells.push_back(cell);
      if (wide.faces()[k] <= span.middle() && wide.faces()[k + 1] > span.middle()) middle.push_back(cell);
    }
    return cells.empty() ? middle : cells;
  }

  /// The corner of the chassis that the hinge slot cuts off at 45 degrees.
  std::vector<VentCellAt> behind_slot(const Vent& vent) const {
    const Span a = scene_.chassis(0), b = scene_.chassis(1);
    const double leg = vent.height * std::sqrt(0.5);
    std::vector<VentCellAt> cells;
    VentCellAt corner;
    double nearest = 1e300;
    for (int j = 0; j < ny_; ++j)
      for (int i = 0; i < nx_; ++i) {
        const double x = grid_.x.centres()[i];
        const double y = grid_.y.centres()[j];
        if (!a.holds(x) || !b.holds(y) || !is_body(i, j)) continue;
        const double depth = (a.high - x) + (b.high - y);
        const VentCellAt cell{i, j, std::sqrt(grid_.x.widths()[i] * grid_.y.widths()[j])};
        if (depth < leg) cells.push_back(cell);
        if (depth < nearest) {
          nearest = depth;
          corner = cell;
        }
      }
    if (nearest > leg + corner.width) return {};
    if (!is_air(corner.i + 1, corner.j) && !is_air(corner.i, corner.j + 1)) return {};
    return cells.empty() ? std::vector<VentCellAt>{corner} : cells;
  }

 private:
  bool is_air(int i, int j) const {
    return i >= 0 && j >= 0 && i < nx_ && j < ny_ && model_.part(i, j) == static_cast<int>(Part::air);
  }
  bool is_body(int i, int j) const { return model_.part(i, j) == static_cast<int>(Part::chassis); }

  const Scene& scene_;
  const SectionModel& model_;
  const Grid& grid_;
  int nx_, ny_;
};

/// The cells of a vent that the plane cuts, on a model whose solids are set: for a face the first layer of
/// the chassis behind it where there is air before it, for the slot at the hinge the corner it cuts off at 45
/// degrees. Empty: what it lies on or the lid shuts it.
std::vector<VentCellAt> cells_at_vents(const Scene& scene, const SectionModel& model, const Vent& vent) {
  const Finder finder(scene, model);
  return vent.face == Face::hinge ? finder.behind_slot(vent) : finder.behind_face(vent);
}

/// Length of a vent in the plane [m].
double length_in_plane(const Vent& vent, const Plane& plane) {
  if (vent.face == Face::hinge) return vent.height;
  const int along = 1 - face_in_plane(vent.face, plane).axis;
  return span_along(vent, along == 0 ? plane.first() : plane.second()).length();
}

/// Share of a vent's flow that passes a cell: by length, by area in a slot; over all cells they add to 1.
std::vector<double> shares_of(const Vent& vent, const std::vector<VentCellAt>& cells) {
  std::vector<double> shares;
  double sum = 0.0;
  for (const VentCellAt& c : cells) {
    shares.push_back(vent.face == Face::hinge ? c.width * c.width : c.width);
    sum += shares.back();
  }
  for (double& s : shares) s /= sum;
  return shares;
}

/// One vent's cells opened and given their flow.
class VentCells {
 public:
  VentCells(const Scene& scene, const SectionBoundaryData& given, SectionModel* model, int v)
      : scene_(scene),
        model_(*model),
        p_(model->problem),
        number_(v),
        vent_(scene.device().vents[v]),
        given_(given.vents.empty() ? VentBoundaryData{} : given.vents[v]) {}

  void add() {
    const Plane& plane = scene_.plane();
    if (!can_be_cut(vent_, plane.normal) || !span_along(vent_, plane.normal).holds(plane.at)) return;
    cells_ = cells_at_vents(scene_, model_, vent_);
    model_.cuts[number_] = cells_.empty()      ? VentCut::shut
                           : cells_.size() < 2 ? VentCut::narrow
                                               : VentCut::cut;
    model_.lengths[number_] = length();
    if (cells_.empty()) {
      model_.notes.push_back(vent_.name +
                             " has no air before it in the plane: its support or the lid closes it");
      return;
    }
    for (const VentCellAt& c : cells_) open(c);
    if (!is_slot()) part_cells();
    give_flows();
    if (is_slot()) give_direction();
  }

 private:
  bool is_slot() const { return vent_.face == Face::hinge; }
  double length() const { return length_in_plane(vent_, scene_.plane()); }
  /// Grid axis a vent in a face lies along.
  int along() const { return 1 - face_in_plane(vent_.face, scene_.plane()).axis; }
  double temperature() const {
    const double t = given_.temperature;
    return t > 0.0 && !same_as_room(p_.fluid, t) ? t : p_.fluid.temperature;
  }
  double area(const VentCellAt& c) const { return p_.grid.x.widths()[c.i] * p_.grid.y.widths()[c.j]; }

  void open(const VentCellAt& c) {
    p_.solid(c.i, c.j) = 0;
    p_.held(c.i, c.j) = 0;
    model_.part(c.i, c.j) = static_cast<int>(Part::vent_cell);
    model_.vent_cells.push_back({number_, c.i, c.j, 0.0});
  }

  /// Thin walls between the cells of a mouth: each passes its own flow, straight.
  void part_cells() {
    const int line = along();
    for (const VentCellAt& c : cells_) {
      p_.barrier[line](c.i, c.j) = 1;
      p_.barrier[line](c.i + (line == 0), c.j + (line == 1)) = 1;
    }
  }

  /// Height over the lowest cell, up to a constant: against gravity [m2/s2].
  double height(const VentCellAt& c) const {
    return -(p_.gravity[0] * p_.grid.x.centres()[c.i] + p_.gravity[1] * p_.grid.y.centres()[c.j]);
  }

  /// Shares the given flow out. A vent that breathes both ways and does not lie level lets out above and
  /// draws below.
  void give_flows() {
    const double across = span_along(vent_, scene_.plane().normal).length();
    const double in = given_.inflow / across, out = given_.outflow / across;
    if (std::min(in, out) > kBothWays * std::max(in, out)) {
      const double gravity = std::hypot(p_.gravity[0], p_.gravity[1]);
      const bool upright = !is_slot() && std::abs(p_.gravity[along()]) > kUpright * gravity;
      if (upright && cells_.size() >= 2) {
        give_both_ways(in, out);
        return;
      }
      model_.notes.push_back(vent_.name + " breathes both ways in one place; the plane shows the net flow");
    }
    share(cells_, out - in);
  }

  void give_both_ways(double in, double out) {
    std::vector<VentCellAt> cells = cells_;
    std::stable_sort(cells.begin(), cells.end(),
                     [&](const VentCellAt& a, const VentCellAt& b) { return height(a) < height(b); });
    double all = 0.0, sum = 0.0;
    for (const VentCellAt& c : cells) all += c.width;
    std::size_t drawing = 0;
    while (drawing < cells.size() && sum + 0.5 * cells[drawing].width < all * in / (in + out))
      sum += cells[drawing++].width;
    drawing = std::clamp<std::size_t>(drawing, 1, cells.size() - 1);
    const auto split = cells.begin() + static_cast<std::ptrdiff_t>(drawing);
    share({cells.begin(), split}, -in);
    share({split, cells.end()}, out);
  }

  void share(const std::vector<VentCellAt>& cells, double flow) {
    const std::vector<double> shares = shares_of(vent_, cells);
    for (std::size_t k = 0; k < cells.size(); ++k) {
      const VentCellAt& c = cells[k];
      const double part = flow * shares[k];
      p_.mass_source(c.i, c.j) = part / area(c);
      p_.source_temperature(c.i, c.j) = temperature();
      for (VentCell& m : model_.vent_cells)
        if (m.i == c.i && m.j == c.j) m.flow = part;
    }
  }

  bool is_open(int i, int j) const {
    return i >= 0 && j >= 0 && i < p_.grid.nx() && j < p_.grid.ny() && !p_.is_solid(i, j);
  }

  /// What makes good for the momentum that is lost on shut faces of a slot's cells, along an axis: all of it
  /// over what arrives; 0 where nothing can.
  double made_good(int d) const {
    const std::vector<double> shares = shares_of(vent_, cells_);
    const int di = d == 0, dj = d == 1;
    double arrives = 0.0;
    for (std::size_t k = 0; k < cells_.size(); ++k) {
      const VentCellAt& c = cells_[k];
      arrives += 0.5 * shares[k] * (is_open(c.i - di, c.j - dj) + is_open(c.i + di, c.j + dj));
    }
    return arrives > 0.0 ? 1.0 / arrives : 0.0;
  }

  /// Air of a slot leaves along its normal, with the momentum of its free area; the whole of it arrives.
  void give_direction() {
    const double out = (given_.outflow - given_.inflow) / span_along(vent_, scene_.plane().normal).length();
    if (!(out > 0.0)) return;
    const double hidden = std::clamp(model_.hidden[number_], 0.0, 0.99);
    const double free = (1.0 - std::clamp(*vent_.blocked, 0.0, 0.99)) * (1.0 - hidden);
    const double speed = out / (p_.fluid.density_at(temperature()) * vent_.height * free);
    for (int d = 0; d < 2; ++d)
      for (const VentCellAt& c : cells_)
        p_.source_velocity[d](c.i, c.j) =
            speed * geometry::face_normal(Face::hinge)[d == 0 ? 1 : 2] * made_good(d);
  }

  const Scene& scene_;
  SectionModel& model_;
  Problem& p_;
  int number_;
  const Vent& vent_;
  VentBoundaryData given_;
  std::vector<VentCellAt> cells_;
};

}  // namespace

void add_vent_cells(const Scene& scene, const SectionBoundaryData& given, SectionModel* model) {
  // Seams take what the vents leave.
  for (const bool leak : {false, true})
    for (std::size_t v = 0; v < scene.device().vents.size(); ++v)
      if (scene.device().vents[v].is_leak == leak) VentCells(scene, given, model, static_cast<int>(v)).add();
}

}  // namespace tuft::flow2d
