// Why a vent does what it does in one condition, and what changes at it from one to another, in words.
#include <algorithm>
#include <cmath>

#include "geometry/device/lists.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/words.hpp"

namespace tuft::study {

namespace {

using geometry::Role;

std::string place_of(const geometry::Device& device, const geometry::Vent& vent) {
  const geometry::Place& place = vent.behind;
  if (place.kind > geometry::PlaceKind::fan_outlet) return "another vent";  // no vent lies before the others
  const char* const before[] = {"the zone ", "the fins ", "the inlet of the fan ", "the outlet of the fan "};
  return before[static_cast<int>(place.kind)] + place_name(device, place);
}

std::string pressure_sentence(const VentResult& vent) {
  if (std::abs(vent.pressure) < 1e-6)
    return "Its pressure is that of the room to within a millionth of a pascal.";
  return "At the vent's centre its pressure is " + pascals(vent.pressure) +
         " against still room air at the same height, which by itself would " +
         (vent.pressure < 0.0 ? "draw room air in." : "push air out.");
}

// Heads below this are round-off [Pa].
constexpr double kUntoldHead = 1e-7;

std::string shares_with_draught(const VentResult& vent) {
  return "Across the vent the fans put " + pascals(vent.fan_head) + ", buoyancy " +
         pascals(vent.buoyancy_head) + " and the room's draught " + pascals(vent.draught_head) +
         ", counted outwards.";
}

std::string heads_sentence(const VentResult& vent, const ConditionResult& result) {
  if (!result.heads_known)
    return "How much of that is due to the fans and how much to buoyancy could not be determined.";
  const bool fans = std::abs(vent.fan_head) >= kUntoldHead;
  const bool buoyancy = std::abs(vent.buoyancy_head) >= kUntoldHead;
  if (std::abs(vent.draught_head) >= kUntoldHead) return shares_with_draught(vent);
  if (!fans && !buoyancy) return "Neither fans nor buoyancy put a head behind it.";
  if (!fans) return "All of it is buoyancy: no fan acts on this vent.";
  if (!buoyancy) return "All of it is due to fans.";
  std::string text = "Of that, " + pascals(vent.fan_head) + " would remain without gravity (fan head), " +
                     pascals(vent.buoyancy_head) + " is buoyancy";
  if (vent.fan_head * vent.buoyancy_head < 0.0)
    text +=
        std::abs(vent.fan_head) > std::abs(vent.buoyancy_head) ? ", and the fans win" : ", and buoyancy wins";
  return text + ".";
}

std::string span_sentence(const VentResult& vent) {
  if (std::abs(vent.span_head) < 1e-6) {
    const bool warm = std::abs(vent.temperature_out - vent.temperature_in) > 0.01;
    return warm ? "The vent has no height in this pose, so its head is the same everywhere."
                : "The air behind it is no warmer than that before it, so its head is the same everywhere.";
  }
  std::string text = "Across the vent's own height the head rises by " + pascals(vent.span_head) +
                     " from its lowest to its highest edge";
  if (!vent.has_neutral_level) return text + ", too little to turn the flow anywhere in it.";
  return text + ": air enters below and leaves above a neutral level at " + percent(vent.neutral_level) +
         " of its height.";
}

std::string flow_sentence(const VentResult& vent, const ConditionResult& result, UnitSystem units) {
  std::string text = "So " + volume_flow(vent.inflow, result.ambient_density, units) + " come in";
  if (vent.inflow > 0.0) text += " at " + temperature(vent.temperature_in, units);
  text += " and " + volume_flow(vent.outflow, result.ambient_density, units) + " go out";
  if (vent.outflow > 0.0) text += " at " + temperature(vent.temperature_out, units);
  text += ", " + percent(vent.share) + " of the through-flow";
  if (vent.exchange > 0.01 * std::max(vent.inflow, vent.outflow))
    text += " (" + volume_flow(vent.exchange, result.ambient_density, units) +
            " of it each way because the colder air lies above)";
  return text + ".";
}

std::string role_sentence(const geometry::Case& content, const VentResult& vent) {
  const geometry::RoleThresholds& t = content.thresholds;
  std::string text = std::string("Its role is ") + spoken(vent.role);
  text += vent.firm ? ", and stays so" : ", but changes";
  text += " when the thresholds (idle below " + percent(t.idle_share) + " and " +
          speed(t.idle_velocity, content.units) + ", or below " + speed(t.still_velocity, content.units) +
          "; both ways from " + percent(t.both_ways_ratio) + ") are multiplied or divided by " +
          digits(t.margin) + ".";
  return text;
}

}  // namespace

std::string explain(const geometry::Case& content, int index, const ConditionResult& result) {
  const geometry::Vent& place = content.device.vents[index];
  if (!result.report.converged)
    return "Condition " + quoted(result.name) + " has no solution: " + result.report.reason + ".";
  const VentResult& vent = result.vents[index];
  std::string text = "In " + quoted(result.name) + ", behind " + place.name + " (" +
                     geometry::face_word(place.face) + ") lies " + place_of(content.device, place) +
                     ", its air at " + temperature(vent.temperature_out, content.units) + ". ";
  if (vent.inflow == 0.0 && vent.outflow == 0.0)
    return text +
           (vent.shut
                ? "The vent is shut in this condition: covered, hidden or pressed against what it lies on."
                : "The vent is open and carries nothing.");
  const std::string front = front_words(vent, content.units);
  if (front != "free") text += "In front it is " + front + ". ";
  return text + pressure_sentence(vent) + " " + heads_sentence(vent, result) + " " + span_sentence(vent) +
         " " + flow_sentence(vent, result, content.units) + " " + role_sentence(content, vent);
}

namespace {

constexpr double kSizeChange = 0.2;  // a fifth is worth telling
constexpr double kNoHead = 2e-4;     // heads below this are told as nothing [Pa]

double larger_flow(const VentResult& vent) { return std::max(vent.inflow, vent.outflow); }

// A head that changes, and the one it works against.
std::string moved(const char* head, double from, double to, const char* other, double against) {
  return std::string(head) + " goes from " + pascals(from) + " to " + pascals(to) + ", against a " + other +
         " head of " + pascals(against);
}

// The head that changed most, told in pascals; heads across the vent's own height count by half of it, the
// most they add to the centre's head at either edge.
std::string reason(const VentResult& from, const VentResult& to, UnitSystem units) {
  if (front_changes(from, to))
    return "what stands in front of it changes: " + front_words(from, units) + ", then " +
           front_words(to, units);
  const double by_fans = std::abs(to.fan_head - from.fan_head);
  const double by_buoyancy = std::abs(to.buoyancy_head - from.buoyancy_head);
  const double by_height = 0.5 * std::abs(to.span_head - from.span_head);
  const double most = std::max({by_fans, by_buoyancy, by_height});
  if (most < kNoHead) return "no head behind it changes by as much as " + digits(kNoHead) + " Pa";
  if (by_height == most)
    return moved("the buoyancy head across its own height", from.span_head, to.span_head, "fan", to.fan_head);
  if (by_buoyancy == most)
    return moved("the buoyancy head behind it", from.buoyancy_head, to.buoyancy_head, "fan", to.fan_head);
  return moved("the fan head behind it", from.fan_head, to.fan_head, "buoyancy", to.buoyancy_head);
}

VentChange change_of(int vent, const VentResult& a, const VentResult& b, UnitSystem units) {
  VentChange change;
  change.vent = vent;
  change.from = a.role;
  change.to = b.role;
  change.shut_from = a.shut;
  change.shut_to = b.shut;
  change.inflow_from = a.inflow;
  change.inflow_to = b.inflow;
  change.outflow_from = a.outflow;
  change.outflow_to = b.outflow;
  change.role_changes = a.role != b.role;
  const double size = std::max(larger_flow(a), larger_flow(b));
  const bool idle_in_both = a.role == Role::idle && b.role == Role::idle;
  change.size_changes = !idle_in_both && std::abs(larger_flow(b) - larger_flow(a)) >= kSizeChange * size;
  change.because = reason(a, b, units);
  return change;
}

}  // namespace

std::vector<VentChange> compare(const geometry::Case& first, const ConditionResult& from,
                                const geometry::Case& second, const ConditionResult& to) {
  std::vector<VentChange> changes;
  if (!from.report.converged || !to.report.converged) return changes;
  for (std::size_t v = 0; v < first.device.vents.size(); ++v) {
    const geometry::Vent& vent = first.device.vents[v];
    const int other = geometry::find_index(second.device.vents, [&](const geometry::Vent& candidate) {
      return !candidate.is_leak && candidate.name == vent.name;
    });
    if (!vent.is_leak && other >= 0)
      changes.push_back(change_of(static_cast<int>(v), from.vents[v], vent_of(to, other), first.units));
  }
  return changes;
}

std::vector<VentChange> compare(const geometry::Case& content, const ConditionResult& from,
                                const ConditionResult& to) {
  return compare(content, from, content, to);
}

}  // namespace tuft::study
