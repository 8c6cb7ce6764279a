#include "solver/section/mouths.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/vent_law.hpp"

namespace tuft::section {
namespace {

using field::Array2;
using geometry::Face;
using geometry::Vec3;
using geometry::Vent;

constexpr double kBothWays = 0.02;  // smaller over larger flow from which a vent is split
constexpr double kUpright = 0.3;    // share of gravity along a vent from which height splits it

struct Cell {
  int i = 0, j = 0;
  double width = 0.0;  ///< along the vent [m]
};

class Mouths {
 public:
  Mouths(const Scene& scene, const SectionGiven& given, Model* model)
      : scene_(scene), given_(given), model_(*model), p_(model->problem) {}

  void add(int v) {
    vent_ = v;
    const Vent& vent = this->vent();
    const Plane& plane = scene_.plane();
    if (!can_be_cut(vent, plane.normal) || !span_along(vent, plane.normal).holds(plane.at)) return;
    const bool slot = vent.face == Face::hinge;
    const std::vector<Cell> cells = slot ? slot_cells() : face_cells();
    cut() = cells.empty() ? VentCut::shut : cells.size() < 2 ? VentCut::narrow : VentCut::cut;
    model_.lengths[static_cast<std::size_t>(v)] = length();
    if (cells.empty()) {
      model_.notes.push_back(vent.name +
                             " has no air before it in the plane: what it lies on or the lid shuts it");
      return;
    }
    for (const Cell& c : cells) open(c);
    if (own_given().by_pressure) {
      add_law(cells);
      return;
    }
    give_flows(cells);
    if (slot)
      give_direction(cells);
    else
      part_cells(cells);
  }

 private:
  const Vent& vent() const { return scene_.device().vents[static_cast<std::size_t>(vent_)]; }
  VentGiven own_given() const {
    return given_.vents.empty() ? VentGiven{} : given_.vents[static_cast<std::size_t>(vent_)];
  }
  VentCut& cut() { return model_.cuts[static_cast<std::size_t>(vent_)]; }
  double temperature() const {
    const double t = own_given().temperature;
    return t > 0.0 && !same_as_room(p_.fluid, t) ? t : p_.fluid.temperature;
  }
  bool is_air(int i, int j) const {
    return i >= 0 && j >= 0 && i < p_.grid.nx() && j < p_.grid.ny() &&
           model_.part(i, j) == static_cast<int>(Part::air);
  }
  bool is_body(int i, int j) const { return model_.part(i, j) == static_cast<int>(Part::chassis); }
  /// Grid axis a vent lies along, and its length in the plane.
  int along() const { return 1 - face_in_plane(vent().face, scene_.plane()).axis; }
  double length() const {
    if (vent().face == Face::hinge) return vent().height;
    return span_along(vent(), along() == 0 ? scene_.plane().first() : scene_.plane().second()).length();
  }

  /// First layer of the chassis' cells behind the vent, where there is air before it.
  std::vector<Cell> face_cells() const {
    const FaceInPlane face = face_in_plane(vent().face, scene_.plane());
    const int across = face.axis, line = 1 - across;
    const field::Axis& deep = p_.grid.axis(across);
    const field::Axis& wide = p_.grid.axis(line);
    const Span body = scene_.chassis(across);
    const double edge = face.high ? body.high : body.low;
    int layer = 0;  // of the chassis' cells, the one beside the face
    for (int k = 0; k < deep.n(); ++k) {
      const double centre = deep.centres()[static_cast<std::size_t>(k)];
      if (!body.holds(centre)) continue;
      layer = k;
      if (!face.high) break;
    }
    if (std::abs(deep.faces()[static_cast<std::size_t>(face.high ? layer + 1 : layer)] - edge) > 1e-9)
      return {};
    const Span span = span_along(vent(), line == 0 ? scene_.plane().first() : scene_.plane().second());
    std::vector<Cell> cells, middle;
    for (int k = 0; k < wide.n(); ++k) {
      const auto K = static_cast<std::size_t>(k);
      Cell cell{across == 0 ? layer : k, across == 0 ? k : layer, wide.widths()[K]};
      const int step = face.high ? 1 : -1;
      const int oi = cell.i + (across == 0 ? step : 0), oj = cell.j + (across == 1 ? step : 0);
      if (!scene_.chassis(line).holds(wide.centres()[K]) || !is_air(oi, oj) || !is_body(cell.i, cell.j))
        continue;
      if (span.holds(wide.centres()[K])) cells.push_back(cell);
      if (wide.faces()[K] <= span.middle() && wide.faces()[K + 1] > span.middle()) middle.push_back(cell);
    }
    return cells.empty() ? middle : cells;
  }

  /// The corner of the chassis that the hinge slot cuts off at 45 degrees.
  std::vector<Cell> slot_cells() const {
    const Span a = scene_.chassis(0), b = scene_.chassis(1);
    const double leg = vent().height * std::sqrt(0.5);
    std::vector<Cell> cells;
    Cell corner;
    double nearest = 1e300;
    for (int j = 0; j < p_.grid.ny(); ++j)
      for (int i = 0; i < p_.grid.nx(); ++i) {
        const double x = p_.grid.x.centres()[static_cast<std::size_t>(i)];
        const double y = p_.grid.y.centres()[static_cast<std::size_t>(j)];
        if (!a.holds(x) || !b.holds(y) || !is_body(i, j)) continue;
        const double depth = (a.high - x) + (b.high - y);
        const Cell cell{i, j,
                        std::sqrt(p_.grid.x.widths()[static_cast<std::size_t>(i)] *
                                  p_.grid.y.widths()[static_cast<std::size_t>(j)])};
        if (depth < leg) cells.push_back(cell);
        if (depth < nearest) {
          nearest = depth;
          corner = cell;
        }
      }
    if (nearest > leg + corner.width) return {};
    if (!is_air(corner.i + 1, corner.j) && !is_air(corner.i, corner.j + 1)) return {};
    return cells.empty() ? std::vector<Cell>{corner} : cells;
  }

  void open(const Cell& c) {
    p_.solid(c.i, c.j) = 0;
    p_.held(c.i, c.j) = 0;
    model_.part(c.i, c.j) = static_cast<int>(Part::mouth);
    model_.mouths.push_back({vent_, c.i, c.j, 0.0});
  }

  /// Height over the lowest cell, up to a constant: against gravity [m2/s2].
  double height(const Cell& c) const {
    return -(p_.gravity[0] * p_.grid.x.centres()[static_cast<std::size_t>(c.i)] +
             p_.gravity[1] * p_.grid.y.centres()[static_cast<std::size_t>(c.j)]);
  }

  /// Shares the given flow out by length, or by volume in a slot. A vent that breathes both ways and does not
  /// lie level lets out above and draws below.
  void give_flows(std::vector<Cell> cells) {
    const VentGiven g = own_given();
    const double across = span_along(vent(), scene_.plane().normal).length();
    const bool slot = vent().face == Face::hinge;
    const auto weight = [&](const Cell& c) { return slot ? c.width * c.width : c.width; };
    const double in = g.inflow / across, out = g.outflow / across;
    const double gravity = std::hypot(p_.gravity[0], p_.gravity[1]);
    const bool upright =
        !slot && std::abs(p_.gravity[static_cast<std::size_t>(along())]) > kUpright * gravity;
    std::size_t drawing = in > out ? cells.size() : 0;
    if (std::min(in, out) > kBothWays * std::max(in, out)) {
      if (upright && cells.size() >= 2) {
        std::stable_sort(cells.begin(), cells.end(),
                         [&](const Cell& a, const Cell& b) { return height(a) < height(b); });
        double all = 0.0, sum = 0.0;
        for (const Cell& c : cells) all += c.width;
        drawing = 0;
        while (drawing < cells.size() && sum + 0.5 * cells[drawing].width < all * in / (in + out))
          sum += cells[drawing++].width;
        drawing = std::clamp<std::size_t>(drawing, 1, cells.size() - 1);
        share(cells, 0, drawing, -in, weight);
        share(cells, drawing, cells.size(), out, weight);
        return;
      }
      model_.notes.push_back(vent().name + " breathes both ways in one place; the plane shows the net flow");
    }
    share(cells, 0, cells.size(), out - in, weight);
  }

  template <class Weight>
  void share(const std::vector<Cell>& cells, std::size_t from, std::size_t to, double flow, Weight weight) {
    double all = 0.0;
    for (std::size_t k = from; k < to; ++k) all += weight(cells[k]);
    for (std::size_t k = from; k < to; ++k) {
      const Cell& c = cells[k];
      const double part = flow * weight(c) / all;
      const double area = p_.grid.x.widths()[static_cast<std::size_t>(c.i)] *
                          p_.grid.y.widths()[static_cast<std::size_t>(c.j)];
      p_.mass_source(c.i, c.j) = part / area;
      p_.source_temperature(c.i, c.j) = temperature();
      for (Mouth& m : model_.mouths)
        if (m.i == c.i && m.j == c.j) m.flow = part;
    }
  }

  /// Air of a slot leaves along its normal; what is lost on faces that are shut is made good, so that the
  /// whole of its momentum arrives.
  void give_direction(const std::vector<Cell>& cells) {
    const VentGiven g = own_given();
    const double out = (g.outflow - g.inflow) / span_along(vent(), scene_.plane().normal).length();
    if (!(out > 0.0)) return;
    const double free = (1.0 - std::clamp(*vent().blocked, 0.0, 0.99)) *
                        (1.0 - std::clamp(model_.hidden[static_cast<std::size_t>(vent_)], 0.0, 0.99));
    const double speed = out / (p_.fluid.density_at(temperature()) * vent().height * free);
    const auto open_cell = [&](int i, int j) {
      return i >= 0 && j >= 0 && i < p_.grid.nx() && j < p_.grid.ny() && !p_.is_solid(i, j);
    };
    for (int d = 0; d < 2; ++d) {
      double whole = 0.0, arrives = 0.0;
      for (const Cell& c : cells) {
        const int di = d == 0, dj = d == 1;
        const double source = p_.mass_source(c.i, c.j) * p_.grid.x.widths()[static_cast<std::size_t>(c.i)] *
                              p_.grid.y.widths()[static_cast<std::size_t>(c.j)];
        whole += source;
        arrives += 0.5 * source * (open_cell(c.i - di, c.j - dj) + open_cell(c.i + di, c.j + dj));
      }
      if (!(arrives > 0.0)) continue;
      for (const Cell& c : cells)
        p_.source_velocity[static_cast<std::size_t>(d)](c.i, c.j) =
            speed * geometry::face_normal(Face::hinge)[d == 0 ? 1 : 2] * whole / arrives;
    }
  }

  /// Thin walls between the cells of a mouth: each passes what it is given.
  void part_cells(const std::vector<Cell>& cells) {
    const int line = along();
    for (const Cell& c : cells) {
      p_.barrier[static_cast<std::size_t>(line)](c.i, c.j) = 1;
      p_.barrier[static_cast<std::size_t>(line)](c.i + (line == 0), c.j + (line == 1)) = 1;
    }
  }

  void add_law(const std::vector<Cell>& cells) {
    const Vent& v = vent();
    const elements::FaceLaw law = network::vent_law(v);
    const double share = network::vent_area(v) / (v.width * v.height);
    if (!(share > 0.0)) return;
    const VentGiven g = own_given();
    for (const Cell& c : cells) {
      const Vec3 at = scene_.point(p_.grid.x.centres()[static_cast<std::size_t>(c.i)],
                                   p_.grid.y.centres()[static_cast<std::size_t>(c.j)]);
      const double lever = p_.gravity[0] * (at - v.centre)[scene_.plane().first()] +
                           p_.gravity[1] * (at - v.centre)[scene_.plane().second()];
      field::CellVent opening;
      opening.i = c.i;
      opening.j = c.j;
      opening.area = share * length() * c.width * c.width / total(cells, c);
      opening.viscous = law.viscous;
      opening.inertial = law.inertial;
      opening.temperature = temperature();
      opening.pressure = g.pressure + p_.fluid.buoyancy_density(temperature()) * lever;
      p_.vents.push_back(opening);
    }
  }

  /// Divisor that makes the cells' areas add to the vent's length: by length, or by volume in a slot.
  double total(const std::vector<Cell>& cells, const Cell& c) const {
    double sum = 0.0;
    const bool slot = vent().face == Face::hinge;
    for (const Cell& x : cells) sum += slot ? x.width * x.width : x.width;
    return slot ? sum : sum * c.width;
  }

  const Scene& scene_;
  const SectionGiven& given_;
  Model& model_;
  field::Problem& p_;
  int vent_ = 0;
};

}  // namespace

void add_mouths(const Scene& scene, const SectionGiven& given, Model* model) {
  Mouths mouths(scene, given, model);
  // Seams take what the vents leave.
  for (const bool leak : {false, true})
    for (std::size_t v = 0; v < scene.device().vents.size(); ++v)
      if (scene.device().vents[v].is_leak == leak) mouths.add(static_cast<int>(v));
}

}  // namespace tuft::section
