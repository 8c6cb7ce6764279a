#include "solver/flow2d/section_recirculation.hpp"

#include <algorithm>

#include "geometry/device/inputs.hpp"

namespace tuft::flow2d {
namespace {

bool is_cut(const SectionResult& result, int outlet, int intake) {
  return std::any_of(result.recirculation.begin(), result.recirculation.end(),
                     [&](const Recirculation& r) { return r.outlet == outlet && r.intake == intake; });
}

/// A fraction with its uncertainty, none of it above `most`.
geometry::Value uncertain(double lowered, const Recirculation& r, double most) {
  const double share = lowered * r.fraction();
  const double low = std::min(share, lowered * r.lowest());
  const double high = std::max(share, std::min(std::max(0.0, most), lowered * r.highest()));
  if (!(high > low)) return {share};
  return {share, geometry::SpreadKind::uniform, low, high};
}

void add_input(int intake, int outlet, geometry::Value* share, geometry::Case* content) {
  if (share->spread == geometry::SpreadKind::none) return;
  const auto& vents = content->device.vents;
  geometry::Input input;
  input.key = "vents." + vents[intake].name + ".recirculates." + vents[outlet].name;
  input.prior = *share;
  input.floor = 0.0;
  input.ceiling = 1.0;
  const auto same = std::find_if(content->inputs.begin(), content->inputs.end(),
                                 [&](const geometry::Input& i) { return i.key == input.key; });
  share->input = static_cast<int>(same - content->inputs.begin());
  if (same == content->inputs.end())
    content->inputs.push_back(input);
  else
    *same = input;
}

}  // namespace

geometry::Case with_recirculation(const geometry::Case& content, const SectionResult& result, double least) {
  geometry::Case out = content;
  if (!result.usable()) return out;
  for (std::size_t v = 0; v < out.device.vents.size(); ++v) {
    auto& list = out.device.vents[v].recirculates;
    const int intake = static_cast<int>(v);
    list.erase(std::remove_if(list.begin(), list.end(),
                              [&](const auto& t) { return is_cut(result, t.vent, intake); }),
               list.end());
    double others = 0.0, own = 0.0;
    for (const auto& t : list) others += *t.share;
    for (const Recirculation& r : result.recirculation)
      if (r.intake == intake) own += r.fraction();
    const double lowered = own > 0.0 ? std::min(1.0, std::max(0.0, 1.0 - others) / own) : 1.0;
    for (const Recirculation& r : result.recirculation) {
      if (r.intake != intake || !(lowered * r.highest() > least)) continue;
      list.push_back({r.outlet, uncertain(lowered, r, 1.0 - others)});
      add_input(intake, r.outlet, &list.back().share, &out);
    }
  }
  geometry::keep_used_inputs(out);
  return out;
}

geometry::Case at_bound(geometry::Case with_recirculation, const SectionResult& result, bool highest) {
  for (std::size_t v = 0; v < with_recirculation.device.vents.size(); ++v) {
    auto& list = with_recirculation.device.vents[v].recirculates;
    double sum = 0.0;
    for (auto& t : list) {
      if (is_cut(result, t.vent, static_cast<int>(v))) t.share.nominal = highest ? t.share.high : t.share.low;
      sum += *t.share;
    }
    // No more than all there is, whatever the uncertainties say together.
    if (sum > 1.0)
      for (auto& t : list) t.share.nominal /= sum;
  }
  return with_recirculation;
}

}  // namespace tuft::flow2d
