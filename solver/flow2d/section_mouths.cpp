#include "solver/flow2d/section_mouths.hpp"

#include <algorithm>
#include <cmath>

#include "solver/physics/ends.hpp"
#include "solver/network/vent_law.hpp"
#include "solver/flow2d/section_mouth_cells.hpp"

namespace tuft::section {
namespace {

using geometry::Face;
using geometry::Vec3;
using geometry::Vent;

constexpr double kBothWays = 0.02;  // smaller over larger flow from which a vent is split
constexpr double kUpright = 0.3;    // share of gravity along a vent from which height splits it

/// One vent's cells opened and given their flow, or their law.
class Mouths {
 public:
  Mouths(const Scene& scene, const SectionGiven& given, Model* model, int v)
      : scene_(scene),
        model_(*model),
        p_(model->problem),
        number_(v),
        vent_(scene.device().vents[static_cast<std::size_t>(v)]),
        given_(given.vents.empty() ? VentGiven{} : given.vents[static_cast<std::size_t>(v)]) {}

  void add() {
    const Plane& plane = scene_.plane();
    if (!can_be_cut(vent_, plane.normal) || !span_along(vent_, plane.normal).holds(plane.at)) return;
    cells_ = mouth_cells(scene_, model_, vent_);
    model_.cuts[static_cast<std::size_t>(number_)] = cells_.empty()      ? VentCut::shut
                                                     : cells_.size() < 2 ? VentCut::narrow
                                                                         : VentCut::cut;
    model_.lengths[static_cast<std::size_t>(number_)] = length();
    if (cells_.empty()) {
      model_.notes.push_back(vent_.name +
                             " has no air before it in the plane: what it lies on or the lid shuts it");
      return;
    }
    for (const MouthCell& c : cells_) open(c);
    if (!is_slot()) part_cells();
    if (given_.by_pressure) {
      add_law();
      return;
    }
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
  double area(const MouthCell& c) const {
    return p_.grid.x.widths()[static_cast<std::size_t>(c.i)] *
           p_.grid.y.widths()[static_cast<std::size_t>(c.j)];
  }

  void open(const MouthCell& c) {
    p_.solid(c.i, c.j) = 0;
    p_.held(c.i, c.j) = 0;
    model_.part(c.i, c.j) = static_cast<int>(Part::mouth);
    model_.mouths.push_back({number_, c.i, c.j, 0.0});
  }

  /// Thin walls between the cells of a mouth: each passes its own flow, straight.
  void part_cells() {
    const int line = along();
    for (const MouthCell& c : cells_) {
      p_.barrier[static_cast<std::size_t>(line)](c.i, c.j) = 1;
      p_.barrier[static_cast<std::size_t>(line)](c.i + (line == 0), c.j + (line == 1)) = 1;
    }
  }

  /// Height over the lowest cell, up to a constant: against gravity [m2/s2].
  double height(const MouthCell& c) const {
    return -(p_.gravity[0] * p_.grid.x.centres()[static_cast<std::size_t>(c.i)] +
             p_.gravity[1] * p_.grid.y.centres()[static_cast<std::size_t>(c.j)]);
  }

  /// Shares the given flow out. A vent that breathes both ways and does not lie level lets out above and
  /// draws below.
  void give_flows() {
    const double across = span_along(vent_, scene_.plane().normal).length();
    const double in = given_.inflow / across, out = given_.outflow / across;
    if (std::min(in, out) > kBothWays * std::max(in, out)) {
      const double gravity = std::hypot(p_.gravity[0], p_.gravity[1]);
      const bool upright =
          !is_slot() && std::abs(p_.gravity[static_cast<std::size_t>(along())]) > kUpright * gravity;
      if (upright && cells_.size() >= 2) {
        give_both_ways(in, out);
        return;
      }
      model_.notes.push_back(vent_.name + " breathes both ways in one place; the plane shows the net flow");
    }
    share(cells_, out - in);
  }

  void give_both_ways(double in, double out) {
    std::vector<MouthCell> cells = cells_;
    std::stable_sort(cells.begin(), cells.end(),
                     [&](const MouthCell& a, const MouthCell& b) { return height(a) < height(b); });
    double all = 0.0, sum = 0.0;
    for (const MouthCell& c : cells) all += c.width;
    std::size_t drawing = 0;
    while (drawing < cells.size() && sum + 0.5 * cells[drawing].width < all * in / (in + out))
      sum += cells[drawing++].width;
    drawing = std::clamp<std::size_t>(drawing, 1, cells.size() - 1);
    const auto split = cells.begin() + static_cast<std::ptrdiff_t>(drawing);
    share({cells.begin(), split}, -in);
    share({split, cells.end()}, out);
  }

  void share(const std::vector<MouthCell>& cells, double flow) {
    const std::vector<double> shares = shares_of(vent_, cells);
    for (std::size_t k = 0; k < cells.size(); ++k) {
      const MouthCell& c = cells[k];
      const double part = flow * shares[k];
      p_.mass_source(c.i, c.j) = part / area(c);
      p_.source_temperature(c.i, c.j) = temperature();
      for (Mouth& m : model_.mouths)
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
      const MouthCell& c = cells_[k];
      arrives += 0.5 * shares[k] * (is_open(c.i - di, c.j - dj) + is_open(c.i + di, c.j + dj));
    }
    return arrives > 0.0 ? 1.0 / arrives : 0.0;
  }

  /// Air of a slot leaves along its normal, with the momentum of its free area; the whole of it arrives.
  void give_direction() {
    const double out = (given_.outflow - given_.inflow) / span_along(vent_, scene_.plane().normal).length();
    if (!(out > 0.0)) return;
    const double hidden = std::clamp(model_.hidden[static_cast<std::size_t>(number_)], 0.0, 0.99);
    const double free = (1.0 - std::clamp(*vent_.blocked, 0.0, 0.99)) * (1.0 - hidden);
    const double speed = out / (p_.fluid.density_at(temperature()) * vent_.height * free);
    for (int d = 0; d < 2; ++d)
      for (const MouthCell& c : cells_)
        p_.source_velocity[static_cast<std::size_t>(d)](c.i, c.j) =
            speed * geometry::face_normal(Face::hinge)[d == 0 ? 1 : 2] * made_good(d);
  }

  /// The vent's own law between what is given behind it and the air before it (F32).
  void add_law() {
    const elements::FaceLaw law = network::vent_law(vent_);
    const double share = network::vent_area(vent_) / (vent_.width * vent_.height);
    if (!(share > 0.0)) return;
    // What the vent takes is in its law: friction on walls as far apart as the cells would grow with their
    // number. Where flows are given it moves nothing, and steadies the steps.
    p_.barrier_slips = true;
    const std::vector<double> shares = shares_of(vent_, cells_);
    const std::array<double, 2> jet = jet_per_speed(share);
    const double gathered = 0.5 * (elements::flush_entry_loss + elements::exit_loss);
    for (std::size_t k = 0; k < cells_.size(); ++k) {
      const MouthCell& c = cells_[k];
      const Vec3 at = scene_.point(p_.grid.x.centres()[static_cast<std::size_t>(c.i)],
                                   p_.grid.y.centres()[static_cast<std::size_t>(c.j)]);
      const double lever = p_.gravity[0] * (at - vent_.centre)[scene_.plane().first()] +
                           p_.gravity[1] * (at - vent_.centre)[scene_.plane().second()];
      field::CellVent opening;
      opening.i = c.i;
      opening.j = c.j;
      opening.area = share * length() * shares[k];
      opening.viscous = law.viscous;
      opening.inertial = law.inertial;
      opening.approach = std::min(gathered * share * share, law.inertial);
      opening.jet = jet;
      opening.temperature = temperature();
      opening.pressure = given_.pressure + p_.fluid.buoyancy_density(temperature()) * lever;
      p_.vents.push_back(opening);
    }
  }

  /// Velocity that air let out brings into the cells, over that of the law (`share` times it is the mean over
  /// the face), made good for what is lost on shut faces.
  std::array<double, 2> jet_per_speed(double share) const {
    if (is_slot()) {
      const Vec3 normal = geometry::face_normal(Face::hinge);
      return {share * normal[1] * made_good(0), share * normal[2] * made_good(1)};
    }
    const FaceInPlane face = face_in_plane(vent_.face, scene_.plane());
    std::array<double, 2> jet{0.0, 0.0};
    jet[static_cast<std::size_t>(face.axis)] = (face.high ? 2.0 : -2.0) * share;
    return jet;
  }

  const Scene& scene_;
  Model& model_;
  field::Problem& p_;
  int number_;
  const Vent& vent_;
  VentGiven given_;
  std::vector<MouthCell> cells_;
};

}  // namespace

void add_mouths(const Scene& scene, const SectionGiven& given, Model* model) {
  // Seams take what the vents leave.
  for (const bool leak : {false, true})
    for (std::size_t v = 0; v < scene.device().vents.size(); ++v)
      if (scene.device().vents[v].is_leak == leak) Mouths(scene, given, model, static_cast<int>(v)).add();
}

}  // namespace tuft::section
