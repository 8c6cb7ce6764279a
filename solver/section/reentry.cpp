#include "solver/section/reentry.hpp"

#include <algorithm>

namespace tuft::section {
namespace {

bool is_cut(const SectionResult& result, int outlet, int intake) {
  return std::any_of(result.reentry.begin(), result.reentry.end(),
                     [&](const Reentry& r) { return r.outlet == outlet && r.intake == intake; });
}

}  // namespace

geometry::Case with_reentry(const geometry::Case& content, const SectionResult& result, double least) {
  geometry::Case out = content;
  if (!result.usable()) return out;
  for (std::size_t v = 0; v < out.device.vents.size(); ++v) {
    auto& list = out.device.vents[v].takes_back;
    const int intake = static_cast<int>(v);
    list.erase(std::remove_if(list.begin(), list.end(),
                              [&](const auto& t) { return is_cut(result, t.vent, intake); }),
               list.end());
    double others = 0.0, own = 0.0;
    for (const auto& t : list) others += *t.share;
    for (const Reentry& r : result.reentry)
      if (r.intake == intake) own += r.fraction();
    const double lowered = own > 0.0 ? std::min(1.0, std::max(0.0, 1.0 - others) / own) : 1.0;
    for (const Reentry& r : result.reentry) {
      const double share = lowered * r.fraction();
      if (r.intake == intake && share > least) list.push_back({r.outlet, geometry::Value(share)});
    }
  }
  return out;
}

}  // namespace tuft::section
