// Temperatures and flows that statements are about, and the number a reader wants to see behind a claim.
#include <algorithm>

#include "solver/study/statement.hpp"

namespace tuft::study {

namespace {

using geometry::Device;
using geometry::PlaceKind;

}  // namespace

double temperature_of(const Device& device, const geometry::Place& of, const StateSummary& view) {
  const auto at = [&](const std::vector<double>& list) { return list[of.index]; };
  switch (of.kind) {
    case PlaceKind::source:
      return at(view.source_temperature);
    case PlaceKind::part:
      return at(view.part_temperature);
    case PlaceKind::skin:
      return at(view.skin_temperature);
    case PlaceKind::vent:
      return vent_at(view, of.index).temperature_out;
    case PlaceKind::fins: {  // after the parts stand the fins that have metal
      std::size_t place = device.parts.size();
      for (int f = 0; f < of.index; ++f)
        place += geometry::is_joined(device, {geometry::PlaceKind::fins, f}) ? 1 : 0;
      return view.part_temperature[place];
    }
    case PlaceKind::zone:
    case PlaceKind::fan_inlet:
    case PlaceKind::fan_outlet:
      break;
  }
  return at(view.zone_temperature);
}

double total_flow(const std::vector<int>& vents, const StateSummary& view, bool inflow) {
  double sum = 0.0;
  for (const int vent : vents) sum += inflow ? vent_at(view, vent).inflow : vent_at(view, vent).outflow;
  return sum;
}

double carried(const std::vector<int>& vents, const StateSummary& view) {
  if (vents.empty()) return view.through_flow;
  return std::max(total_flow(vents, view, true), total_flow(vents, view, false));
}

double carried_share(const std::vector<int>& vents, const StateSummary& view) {
  if (view.through_flow <= 0.0) return 0.0;
  double leaves = 0.0;  // as much as the through-flow, but for scaled flows
  for (const VentSummary& vent : view.vents) leaves += vent.outflow;
  const double drawn = total_flow(vents, view, true) / view.through_flow;
  const double given = leaves > 0.0 ? total_flow(vents, view, false) / leaves : 0.0;
  return std::min(std::max(drawn, given), 1.0);
}

namespace {

using geometry::Claim;
using geometry::ClaimKind;

// Most that a factor is shown as.
constexpr double kLargestFactor = 1e6;

// The vent whose margin is the claim's.
int deciding_vent(const geometry::Case& content, const Claim& claim, const std::vector<StateSummary>& views) {
  Claim one = claim;
  one.any = false;
  int decides = claim.vents.front();
  double best = 0.0;
  for (std::size_t i = 0; i < claim.vents.size(); ++i) {
    one.vents = {claim.vents[i]};
    const double here = margin(content, one, views);
    if (i == 0 || (claim.any ? here > best : here < best)) {
      best = here;
      decides = claim.vents[i];
    }
  }
  return decides;
}

double factor(double above, double below) {
  if (below <= 0.0) return above <= 0.0 ? 1.0 : kLargestFactor;
  return std::min(above / below, kLargestFactor);
}

}  // namespace

Behind behind(const geometry::Case& content, const Claim& claim, const std::vector<StateSummary>& views) {
  const StateSummary& now = summary_at(views, claim.when);
  const bool compares = claim.kind == ClaimKind::draws_more || claim.kind == ClaimKind::gives_more;
  if (geometry::is_about_heat(claim.kind)) {
    const double here = temperature_of(content.device, claim.of, now);
    if (claim.kind == ClaimKind::temperature) return {Behind::Unit::temperature, here};
    return {Behind::Unit::difference,
            here - temperature_of(content.device, claim.of, summary_at(views, claim.against))};
  }
  if (compares) {
    const bool inflow = claim.kind == ClaimKind::draws_more;
    return {Behind::Unit::factor,
            factor(total_flow(claim.vents, now, inflow), total_flow(claim.than, now, inflow))};
  }
  if (claim.kind == ClaimKind::flow_falls || claim.kind == ClaimKind::flow_rises)
    return {Behind::Unit::factor,
            factor(carried(claim.vents, now), carried(claim.vents, summary_at(views, claim.against)))};
  if (now.through_flow <= 0.0) return {Behind::Unit::share, 0.0};
  if (claim.kind == ClaimKind::share) return {Behind::Unit::share, carried_share(claim.vents, now)};
  const auto decides = static_cast<std::size_t>(deciding_vent(content, claim, views));
  const VentSummary& vent = now.vents[decides];
  return {Behind::Unit::share, (vent.inflow - vent.outflow) / now.through_flow};
}

}  // namespace tuft::study
