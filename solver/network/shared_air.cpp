#include "solver/network/shared_air.hpp"

#include <algorithm>
#include <numeric>

namespace tuft::network {
namespace {

using geometry::Device;
using geometry::PlaceKind;

// Zone that a place's air is, or goes into; -1: none.
int zone_at(const Device& device, const geometry::Place& place) {
  if (place.kind == PlaceKind::zone) return place.index;
  if (place.kind == PlaceKind::fins)
    return device.fin_stacks[static_cast<std::size_t>(place.index)].exit_zone;
  return -1;
}

}  // namespace

SharedAir shared_air(const Device& device) {
  SharedAir out;
  out.of_zone.resize(device.zones.size());
  std::iota(out.of_zone.begin(), out.of_zone.end(), 0);
  const auto group = [&](int zone) { return zone < 0 ? -1 : out.of_zone[static_cast<std::size_t>(zone)]; };
  const auto join = [&](int a, int b) {
    if (a < 0 || b < 0) return;
    const int low = std::min(group(a), group(b)), high = std::max(group(a), group(b));
    std::replace(out.of_zone.begin(), out.of_zone.end(), high, low);
  };
  for (const geometry::Passage& passage : device.passages) join(passage.zone_a, passage.zone_b);
  for (const geometry::Fan& fan : device.fans)
    join(zone_at(device, fan.draws_from), zone_at(device, fan.blows_into));
  for (const geometry::Fan& fan : device.fans) {
    const int from = zone_at(device, fan.draws_from);
    out.of_fan.push_back(group(from >= 0 ? from : zone_at(device, fan.blows_into)));
  }
  return out;
}

}  // namespace tuft::network
