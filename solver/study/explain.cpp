#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/study/front.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/words.hpp"

namespace tuft::study {
namespace {

using geometry::Role;

std::string air_celsius(double kelvin) { return digits(kelvin - base::kZeroCelsius) + " °C"; }

std::string litres(double mass_flow, double density) { return digits(1000.0 * mass_flow / density) + " L/s"; }

std::string place_of(const geometry::Device& device, const geometry::Vent& vent) {
  const auto& place = vent.behind;
  const auto index = static_cast<std::size_t>(place.index);
  switch (place.kind) {
    case geometry::PlaceKind::zone:
      return "the zone " + device.zones[index].name;
    case geometry::PlaceKind::fins:
      return "the fins " + device.fin_stacks[index].name;
    case geometry::PlaceKind::fan_inlet:
      return "the inlet of the fan " + device.fans[index].name;
    case geometry::PlaceKind::fan_outlet:
      return "the outlet of the fan " + device.fans[index].name;
    case geometry::PlaceKind::vent:
    case geometry::PlaceKind::part:
    case geometry::PlaceKind::skin:
    case geometry::PlaceKind::source:
      break;  // no vent lies before these
  }
  return "another vent";
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

std::string heads_sentence(const VentResult& vent, const ConditionResult& result) {
  if (!result.heads_known)
    return "How much of that is due to the fans and how much to buoyancy could not be told.";
  const bool fans = std::abs(vent.fan_head) >= kUntoldHead;
  const bool buoyancy = std::abs(vent.buoyancy_head) >= kUntoldHead;
  if (!fans && !buoyancy) return "Neither fans nor buoyancy put a head behind it.";
  if (!fans) return "All of it is buoyancy: no fan acts on this vent.";
  if (!buoyancy) return "All of it is due to fans.";
  const double larger = std::max(std::abs(vent.fan_head), std::abs(vent.buoyancy_head));
  std::string text = "Of that, " + pascals(vent.fan_head, larger) +
                     " would stay if gravity were taken away (fan head), " +
                     pascals(vent.buoyancy_head, larger) + " is buoyancy";
  if (vent.fan_head * vent.buoyancy_head < 0.0)
    text +=
        std::abs(vent.fan_head) > std::abs(vent.buoyancy_head) ? ", and the fans win" : ", and buoyancy wins";
  return text + ".";
}

std::string span_sentence(const VentResult& vent) {
  if (std::abs(vent.span_head) < 1e-6) {
    const bool warm = std::abs(vent.temperature_out - vent.temperature_in) > 0.01;
    return warm ? "The vent has no height in this pose, so its head is the same all over."
                : "The air behind it is no warmer than that before it, so its head is the same all over.";
  }
  std::string text = "Across the vent's own height the head rises by " + pascals(vent.span_head) +
                     " from its lowest to its highest edge";
  if (!vent.has_neutral_level) return text + ", too little to turn the flow anywhere in it.";
  return text + ": it draws below and spills above a neutral level at " + percent(vent.neutral_level) +
         " of its height.";
}

std::string flow_sentence(const VentResult& vent, const ConditionResult& result) {
  std::string text = "So " + litres(vent.inflow, result.ambient_density) + " come in";
  if (vent.inflow > 0.0) text += " at " + air_celsius(vent.temperature_in);
  text += " and " + litres(vent.outflow, result.ambient_density) + " go out";
  if (vent.outflow > 0.0) text += " at " + air_celsius(vent.temperature_out);
  text += ", " + percent(vent.share) + " of the through-flow";
  if (vent.exchange > 0.01 * std::max(vent.inflow, vent.outflow))
    text += " (" + litres(vent.exchange, result.ambient_density) +
            " of it each way because the colder air lies above)";
  return text + ".";
}

std::string role_sentence(const geometry::Case& content, const VentResult& vent) {
  const geometry::RoleThresholds& t = content.thresholds;
  std::string text = "Its role is ";
  text += vent.role == Role::both_ways ? "both ways" : geometry::role_word(vent.role);
  text += vent.firm ? ", and stays that" : ", but changes";
  text += " when the thresholds (idle below " + percent(t.idle_share) + " and " +
          digits(100.0 * t.idle_velocity) + " cm/s, or below " + digits(100.0 * t.still_velocity) +
          " cm/s; both ways from " + percent(t.both_ways_ratio) + ") are moved by a factor " +
          digits(t.margin) + ".";
  return text;
}

}  // namespace

std::string explain(const geometry::Case& content, int index, const ConditionResult& result) {
  const geometry::Vent& place = content.device.vents[static_cast<std::size_t>(index)];
  if (!result.report.converged)
    return "Condition " + quoted(result.name) + " has no solution: " + result.report.reason + ".";
  const VentResult& vent = result.vents[static_cast<std::size_t>(index)];
  std::string text = "In " + quoted(result.name) + ", behind " + place.name + " (" +
                     geometry::face_word(place.face) + ") lies " + place_of(content.device, place) +
                     ", its air at " + air_celsius(vent.temperature_out) + ". ";
  if (vent.inflow == 0.0 && vent.outflow == 0.0)
    return text +
           (vent.shut
                ? "The vent is shut in this condition: covered, hidden or pressed against what it lies on."
                : "The vent is open and carries nothing.");
  const std::string front = front_words(vent);
  if (front != "free") text += "In front it is " + front + ". ";
  return text + pressure_sentence(vent) + " " + heads_sentence(vent, result) + " " + span_sentence(vent) +
         " " + flow_sentence(vent, result) + " " + role_sentence(content, vent);
}

}  // namespace tuft::study
