#include "geometry/device/unplaced.hpp"

#include <algorithm>

namespace tuft::geometry {

std::vector<std::string> unplaced_things(const Device& device) {
  std::vector<std::string> out;
  for (const Fan& fan : device.fans)
    if (!fan.is_placed) out.push_back("fans." + fan.name);
  for (const FinStack& fins : device.fin_stacks)
    if (!fins.is_placed) out.push_back("fins." + fins.name);
  for (const Source& source : device.sources) {
    const auto zones = std::count_if(source.shares.begin(), source.shares.end(), [](const HeatShare& share) {
      return share.into.kind == PlaceKind::zone;
    });
    if (zones == 1 && !source.is_placed) out.push_back("sources." + source.name);
  }
  return out;
}

}  // namespace tuft::geometry
