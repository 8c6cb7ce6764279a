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
    const bool heats_air =
        std::any_of(source.shares.begin(), source.shares.end(),
                    [](const HeatShare& share) { return share.into.kind == PlaceKind::zone; });
    if (heats_air && !source.is_placed) out.push_back("sources." + source.name);
  }
  return out;
}

}  // namespace tuft::geometry
