#include "solver/study/roles.hpp"

#include <algorithm>

namespace tuft::study {

using geometry::Role;
using geometry::RoleThresholds;

Role role_of(const VentResult& vent, const RoleThresholds& thresholds) {
  if (vent.face_velocity < thresholds.still_velocity) return Role::idle;
  if (vent.share < thresholds.idle_share && vent.face_velocity < thresholds.idle_velocity) return Role::idle;
  const double larger = std::max(vent.inflow, vent.outflow);
  const double smaller = std::min(vent.inflow, vent.outflow);
  if (larger <= 0.0) return Role::idle;
  if (smaller >= thresholds.both_ways_ratio * larger) return Role::both_ways;
  return vent.inflow > vent.outflow ? Role::intake : Role::exhaust;
}

std::array<bool, 4> possible_roles(const VentResult& vent, const RoleThresholds& thresholds) {
  std::array<bool, 4> possible{};
  for (double idle_factor : {1.0 / thresholds.margin, 1.0, thresholds.margin}) {
    for (double ratio_factor : {1.0 / thresholds.margin, 1.0, thresholds.margin}) {
      RoleThresholds moved = thresholds;
      moved.still_velocity *= idle_factor;
      moved.idle_share *= idle_factor;
      moved.idle_velocity *= idle_factor;
      moved.both_ways_ratio *= ratio_factor;
      possible[static_cast<std::size_t>(role_of(vent, moved))] = true;
    }
  }
  return possible;
}

}  // namespace tuft::study
