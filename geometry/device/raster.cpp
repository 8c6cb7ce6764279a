// What opens into the parts of a device, as cells.
#include "geometry/device/raster.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include "geometry/device/pi.hpp"

namespace tuft::geometry {
namespace {

constexpr double kThin = 1e-6;  // a rectangle's side is taken as at least this [m]

// A rectangle in plan [m].
struct PlanBox {
  double x0, x1, y0, y1;
};

// The rectangle of a vent in plan; of one in a side, a thin one; of a turned one, what holds it.
PlanBox plan_box(const Vent& vent) {
  Vec3 first, second;
  side_axes(vent, first, second);
  const Vec3 half = 0.5 * (vent.width * first.cwiseAbs() + vent.height * second.cwiseAbs());
  const double hx = std::max(half.x(), 0.5 * kThin), hy = std::max(half.y(), 0.5 * kThin);
  return {vent.centre.x() - hx, vent.centre.x() + hx, vent.centre.y() - hy, vent.centre.y() + hy};
}

double overlap(double a0, double a1, double b0, double b1) {
  return std::max(0.0, std::min(a1, b1) - std::max(a0, b0));
}

double outside(double a0, double a1, double b0, double b1) { return std::max({0.0, b0 - a1, a0 - b1}); }

/// Finds the cells of everything that opens into the parts.
class Openings {
 public:
  Openings(const Device& device, Raster& raster) : device_(device), raster_(raster) {}

  void set() {
    set_vents();
    set_fans();
    set_passages();
    set_fin_outlets();
  }

 private:
  // Storey and number of a place that has cells.
  void locate(const Place& place, int* storey, int* part) const {
    const bool fins = place.kind == PlaceKind::fins;
    *storey = fins ? 0 : raster_.zone_storey[place.index];
    *part = fins ? static_cast<int>(device_.zones.size()) + place.index : place.index;
  }

  static bool is_flat(Face face) { return face == Face::base || face == Face::top; }

  CellShares behind(const Vent& vent) const {
    if (vent.behind.kind != PlaceKind::zone && vent.behind.kind != PlaceKind::fins) return {};
    int storey = 0, part = 0;
    locate(vent.behind, &storey, &part);
    const PlanBox box = plan_box(vent);
    CellShares shares;
    if (is_flat(vent.face)) {
      shares = under(box, storey, part, vent.centre.z());
    } else {
      const bool x = vent.face == Face::left || vent.face == Face::right;
      shares = beside(x ? 0 : 1, x ? vent.centre.x() : vent.centre.y(), x ? box.y0 : box.x0,
                      x ? box.y1 : box.x1, 0, storey, part, vent.centre.z());
      for (CellShare& s : shares) s.second = extents_on_face(vent).y();
    }
    return shares.empty() ? nearest(box, storey, part, vent.centre) : shares;
  }

  void set_vents() {
    for (const Vent& vent : device_.vents) {
      raster_.vents.push_back(behind(vent));
      raster_.faces.push_back(is_flat(vent.face) ? under(plan_box(vent), 0, kNoPart, vent.centre.z())
                                                 : CellShares{});
    }
  }

  CellShares mouth(const Fan& fan, const Place& place) const {
    if (place.kind != PlaceKind::zone) return {};
    int storey = 0, part = 0;
    locate(place, &storey, &part);
    return disc(fan.centre, 0.25 * kPi * *fan.diameter * *fan.diameter, storey, part);
  }

  void set_fans() {
    for (const Fan& fan : device_.fans) {
      raster_.fan_inlets.push_back(mouth(fan, fan.draws_from));
      raster_.fan_outlets.push_back(fan.blows_into.kind == PlaceKind::fins
                                        ? raster_.fins[fan.blows_into.index].entry
                                        : mouth(fan, fan.blows_into));
    }
  }

  CellShares at_passage(const Passage& passage, int zone) const {
    const int storey = raster_.zone_storey[zone];
    const int first = passage.normal == 0 ? 1 : 0;
    const Vec3& c = passage.centre;
    const double half = 0.5 * std::max(*passage.width, kThin);
    CellShares shares;
    PlanBox box{c.x(), c.x(), c.y(), c.y()};
    if (passage.normal == 2) {
      const double other = 0.5 * std::max(*passage.height, kThin);
      box = {c.x() - half, c.x() + half, c.y() - other, c.y() + other};
      shares = under(box, storey, zone, c.z());
    } else {
      shares =
          beside(passage.normal, c[passage.normal], c[first] - half, c[first] + half, 0, storey, zone, c.z());
      for (CellShare& s : shares) s.second = *passage.height;
    }
    return shares.empty() ? nearest(box, storey, zone, c) : shares;
  }

  void set_passages() {
    for (const Passage& passage : device_.passages)
      raster_.passages.push_back({at_passage(passage, passage.zone_a), at_passage(passage, passage.zone_b)});
  }

  void set_fin_outlets() {
    for (std::size_t f = 0; f < device_.fin_stacks.size(); ++f) {
      CellShares shares;
      const int zone = device_.fin_stacks[f].exit_zone;
      if (zone >= 0) {
        const FinBlock& block = raster_.fins[f];
        const int storey = raster_.zone_storey[zone];
        const bool x = block.along == 0, high = block.sign > 0;
        const double plane =
            x ? (high ? block.i1 : block.i0) * raster_.dx : (high ? block.j1 : block.j0) * raster_.dy;
        const double z = device_.fin_stacks[f].centre.z();
        const double from = x ? block.j0 * raster_.dy : block.i0 * raster_.dx;
        const double to = x ? block.j1 * raster_.dy : block.i1 * raster_.dx;
        shares = beside(block.along, plane, from, to, block.sign, storey, zone, z);
        if (shares.empty()) {
          const PlanBox box = x ? PlanBox{plane, plane, from, to} : PlanBox{from, to, plane, plane};
          shares = nearest(box, storey, zone, Vec3(0.5 * (box.x0 + box.x1), 0.5 * (box.y0 + box.y1), z));
        }
      }
      raster_.fin_outlets.push_back(std::move(shares));
    }
  }

  // --- cells under, beside or nearest to something ---

  // Cells of a part under a rectangle, by overlap; kNoPart: of any.
  CellShares under(const PlanBox& box, int storey, int part, double z) const {
    CellShares shares;
    const int i0 = std::clamp(static_cast<int>(box.x0 / raster_.dx), 0, raster_.nx - 1);
    const int i1 = std::clamp(static_cast<int>(box.x1 / raster_.dx), 0, raster_.nx - 1);
    const int j0 = std::clamp(static_cast<int>(box.y0 / raster_.dy), 0, raster_.ny - 1);
    const int j1 = std::clamp(static_cast<int>(box.y1 / raster_.dy), 0, raster_.ny - 1);
    for (int j = j0; j <= j1; ++j)
      for (int i = i0; i <= i1; ++i) {
        const double lx = overlap(box.x0, box.x1, i * raster_.dx, (i + 1) * raster_.dx);
        const double ly = overlap(box.y0, box.y1, j * raster_.dy, (j + 1) * raster_.dy);
        if (!(lx * ly > 0.0) || (part != kNoPart && raster_.part(storey, i, j) != part)) continue;
        const double mx = 0.5 * (std::max(box.x0, i * raster_.dx) + std::min(box.x1, (i + 1) * raster_.dx));
        const double my = 0.5 * (std::max(box.y0, j * raster_.dy) + std::min(box.y1, (j + 1) * raster_.dy));
        shares.push_back({storey, i, j, lx * ly, Vec3(mx, my, z), lx, ly});
      }
    if (!shares.empty()) normalise(&shares);
    return shares;
  }

  // Cells of a part nearest to an upright opening, one in every row (or column) along it. The opening lies
  // at `plane` of axis `across`, from `from` to `to` of the other axis; `side` is -1 (or +1) where only
  // cells below (above) the plane are wanted, 0 for either.
  CellShares beside(int across, double plane, double from, double to, int side, int storey, int part,
                    double z) const {
    const int n_along = across == 0 ? raster_.ny : raster_.nx;
    const int n_across = across == 0 ? raster_.nx : raster_.ny;
    const double d_along = across == 0 ? raster_.dy : raster_.dx;
    const double d_across = across == 0 ? raster_.dx : raster_.dy;
    CellShares shares;
    for (int a = 0; a < n_along; ++a) {
      const double length = overlap(from, to, a * d_along, (a + 1) * d_along);
      if (!(length > 0.0)) continue;
      int best = -1;
      double nearest = std::numeric_limits<double>::infinity();
      for (int c = 0; c < n_across; ++c) {
        const double offset = (c + 0.5) * d_across - plane;
        if (offset * side < 0.0 || std::abs(offset) >= nearest) continue;
        if (raster_.part(storey, across == 0 ? c : a, across == 0 ? a : c) != part) continue;
        nearest = std::abs(offset);
        best = c;
      }
      if (best < 0) continue;
      const double middle = 0.5 * (std::max(from, a * d_along) + std::min(to, (a + 1) * d_along));
      const Vec3 point = across == 0 ? Vec3(plane, middle, z) : Vec3(middle, plane, z);
      shares.push_back({storey, across == 0 ? best : a, across == 0 ? a : best, length, point, length, 0.0});
    }
    if (!shares.empty()) normalise(&shares);
    return shares;
  }

  // The cells of a part that lie nearest to a rectangle, all at the same distance.
  CellShares nearest(const PlanBox& box, int storey, int part, const Vec3& point) const {
    CellShares shares;
    double least = std::numeric_limits<double>::infinity();
    for (int j = 0; j < raster_.ny; ++j)
      for (int i = 0; i < raster_.nx; ++i) {
        if (raster_.part(storey, i, j) != part) continue;
        const double apart = std::hypot(outside(i * raster_.dx, (i + 1) * raster_.dx, box.x0, box.x1),
                                        outside(j * raster_.dy, (j + 1) * raster_.dy, box.y0, box.y1));
        if (apart > least + 1e-9) continue;
        if (apart < least - 1e-9) shares.clear();
        least = std::min(least, apart);
        shares.push_back(raster_.whole_cell(storey, i, j, point.z()));
        shares.back().at = point;
      }
    normalise(&shares);
    return shares;
  }

  // The cells of a part nearest to a point that together have an area, or all there are.
  CellShares disc(const Vec3& centre, double area, int storey, int part) const {
    struct Near {
      long apart;  // [nm]
      int i, j;
    };
    std::vector<Near> list;
    for (int j = 0; j < raster_.ny; ++j)
      for (int i = 0; i < raster_.nx; ++i)
        if (raster_.part(storey, i, j) == part)
          list.push_back(
              {std::lround(1e9 * std::hypot(raster_.x(i) - centre.x(), raster_.y(j) - centre.y())), i, j});
    // Cells at one distance (to a nanometre) keep the order of the grid.
    std::stable_sort(list.begin(), list.end(),
                     [](const Near& a, const Near& b) { return a.apart < b.apart; });
    const double cell = raster_.dx * raster_.dy;
    const auto wanted = static_cast<std::size_t>(std::max(1L, std::lround(area / cell)));
    CellShares shares;
    for (std::size_t k = 0; k < std::min(wanted, list.size()); ++k)
      shares.push_back(raster_.whole_cell(storey, list[k].i, list[k].j, centre.z()));
    normalise(&shares);
    return shares;
  }

  const Device& device_;
  Raster& raster_;
};

}  // namespace

Raster rasterise(const Device& device, double cell) {
  Raster raster = rasterise_parts(device, cell);
  Openings(device, raster).set();
  return raster;
}

}  // namespace tuft::geometry
