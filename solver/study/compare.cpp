#include <algorithm>
#include <cmath>

#include "solver/study/front.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/words.hpp"

namespace tuft::study {
namespace {

using geometry::Role;

constexpr double kSizeChange = 0.2;  // a fifth is worth telling
constexpr double kNoHead = 2e-4;     // heads below this are told as nothing [Pa]

double larger_flow(const VentResult& vent) { return std::max(vent.inflow, vent.outflow); }

// A head that changes, and the one it works against, in one unit.
std::string moved(const char* head, double from, double to, const char* other, double against) {
  const double largest = std::max({std::abs(from), std::abs(to), std::abs(against)});
  return std::string(head) + " goes from " + pascals(from, largest) + " to " + pascals(to, largest) +
         ", against a " + other + " head of " + pascals(against, largest);
}

// The head that changed most, told in pascals; heads across the vent's own height count by half of it, the
// most they add to the centre's head at either edge.
std::string reason(const VentResult& from, const VentResult& to) {
  if (front_changes(from, to))
    return "what stands before it changes: " + front_words(from) + ", then " + front_words(to);
  const double by_fans = std::abs(to.fan_head - from.fan_head);
  const double by_buoyancy = std::abs(to.buoyancy_head - from.buoyancy_head);
  const double by_height = 0.5 * std::abs(to.span_head - from.span_head);
  const double most = std::max({by_fans, by_buoyancy, by_height});
  if (most < kNoHead) return "no head behind it changes by as much as " + digits(1000.0 * kNoHead) + " mPa";
  if (by_height == most)
    return moved("the buoyancy head across its own height", from.span_head, to.span_head, "fan", to.fan_head);
  if (by_buoyancy == most)
    return moved("the buoyancy head behind it", from.buoyancy_head, to.buoyancy_head, "fan", to.fan_head);
  return moved("the fan head behind it", from.fan_head, to.fan_head, "buoyancy", to.buoyancy_head);
}

}  // namespace

std::vector<VentChange> compare(const geometry::Case& content, const ConditionResult& from,
                                const ConditionResult& to) {
  std::vector<VentChange> changes;
  if (!from.report.converged || !to.report.converged) return changes;
  for (std::size_t v = 0; v < content.device.vents.size(); ++v) {
    if (content.device.vents[v].is_leak) continue;
    const VentResult& a = from.vents[v];
    const VentResult& b = to.vents[v];
    VentChange change;
    change.vent = static_cast<int>(v);
    change.from = a.role;
    change.to = b.role;
    change.inflow_from = a.inflow;
    change.inflow_to = b.inflow;
    change.outflow_from = a.outflow;
    change.outflow_to = b.outflow;
    change.role_changes = a.role != b.role;
    const double size = std::max(larger_flow(a), larger_flow(b));
    const bool idle_in_both = a.role == Role::idle && b.role == Role::idle;
    change.size_changes = !idle_in_both && std::abs(larger_flow(b) - larger_flow(a)) >= kSizeChange * size;
    change.because = reason(a, b);
    changes.push_back(change);
  }
  return changes;
}

}  // namespace tuft::study
