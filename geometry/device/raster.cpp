#include "geometry/device/raster.hpp"

#include <algorithm>
#include <utility>

#include "geometry/device/raster_cells.hpp"
#include "geometry/device/raster_parts.hpp"

namespace tuft::geometry {
namespace {

constexpr double kPi = 3.14159265358979323846;

/// Finds the cells of everything that opens into the parts.
class Openings {
 public:
  Openings(const Device& device, Raster& raster) : device_(device), raster_(raster), find_(raster) {}

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
    *storey = fins ? 0 : raster_.zone_storey[static_cast<std::size_t>(place.index)];
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
      shares = find_.under(box, storey, part, vent.centre.z());
    } else {
      const bool x = vent.face == Face::left || vent.face == Face::right;
      shares = find_.beside(x ? 0 : 1, x ? vent.centre.x() : vent.centre.y(), x ? box.y0 : box.x0,
                            x ? box.y1 : box.x1, 0, storey, part, vent.centre.z());
      for (CellShare& s : shares) s.second = vent.height;
    }
    return shares.empty() ? find_.nearest(box, storey, part, vent.centre) : shares;
  }

  void set_vents() {
    for (const Vent& vent : device_.vents) {
      raster_.vents.push_back(behind(vent));
      raster_.faces.push_back(is_flat(vent.face) ? find_.under(plan_box(vent), 0, kNoPart, vent.centre.z())
                                                 : CellShares{});
    }
  }

  CellShares mouth(const Fan& fan, const Place& place) const {
    if (place.kind != PlaceKind::zone) return {};
    int storey = 0, part = 0;
    locate(place, &storey, &part);
    return find_.disc(fan.centre, 0.25 * kPi * *fan.diameter * *fan.diameter, storey, part);
  }

  void set_fans() {
    for (const Fan& fan : device_.fans) {
      raster_.fan_inlets.push_back(mouth(fan, fan.draws_from));
      raster_.fan_outlets.push_back(fan.blows_into.kind == PlaceKind::fins
                                        ? raster_.fins[static_cast<std::size_t>(fan.blows_into.index)].entry
                                        : mouth(fan, fan.blows_into));
    }
  }

  CellShares at_passage(const Passage& passage, int zone) const {
    const int storey = raster_.zone_storey[static_cast<std::size_t>(zone)];
    const int first = passage.normal == 0 ? 1 : 0;
    const Vec3& c = passage.centre;
    const double half = 0.5 * std::max(*passage.width, kThin);
    CellShares shares;
    PlanBox box{c.x(), c.x(), c.y(), c.y()};
    if (passage.normal == 2) {
      const double other = 0.5 * std::max(*passage.height, kThin);
      box = {c.x() - half, c.x() + half, c.y() - other, c.y() + other};
      shares = find_.under(box, storey, zone, c.z());
    } else {
      shares = find_.beside(passage.normal, c[passage.normal], c[first] - half, c[first] + half, 0, storey,
                            zone, c.z());
      for (CellShare& s : shares) s.second = *passage.height;
    }
    return shares.empty() ? find_.nearest(box, storey, zone, c) : shares;
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
        const int storey = raster_.zone_storey[static_cast<std::size_t>(zone)];
        const bool x = block.along == 0, high = block.sign > 0;
        const double plane =
            x ? (high ? block.i1 : block.i0) * raster_.dx : (high ? block.j1 : block.j0) * raster_.dy;
        const double z = device_.fin_stacks[f].centre.z();
        const double from = x ? block.j0 * raster_.dy : block.i0 * raster_.dx;
        const double to = x ? block.j1 * raster_.dy : block.i1 * raster_.dx;
        shares = find_.beside(block.along, plane, from, to, block.sign, storey, zone, z);
        if (shares.empty()) {
          const PlanBox box = x ? PlanBox{plane, plane, from, to} : PlanBox{from, to, plane, plane};
          shares =
              find_.nearest(box, storey, zone, Vec3(0.5 * (box.x0 + box.x1), 0.5 * (box.y0 + box.y1), z));
        }
      }
      raster_.fin_outlets.push_back(std::move(shares));
    }
  }

  const Device& device_;
  Raster& raster_;
  CellFinder find_;
};

}  // namespace

Raster rasterise(const Device& device, double cell) {
  Raster raster = raster_of_parts(device, cell);
  Openings(device, raster).set();
  return raster;
}

}  // namespace tuft::geometry
