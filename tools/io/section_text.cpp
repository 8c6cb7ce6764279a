#include "tools/io/field_run.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

constexpr double kShareWorthTelling = 0.001;  // share of what is drawn

std::string how_found(const flow2d::SectionResult& result) {
  const std::string grid = fmt::format("{} by {} cells", result.u.nx(), result.u.ny());
  switch (result.end) {
    case flow2d::SectionEnd::steady:
      return fmt::format("{}; steady, residual {:.0e}; mass {}, heat {}.", grid, result.residual,
                         closure_text(result.mass), closure_text(result.energy));
    case flow2d::SectionEnd::averaged:
      return fmt::format(
          "{}. No steady state was found: the values are means of a transient from {} s on over {} s, {} "
          "passages of the device, in which the kinetic energy varies by {}.",
          grid, significant(result.begins, 2, 3), significant(result.span, 2, 3), result.passages,
          percent_text(result.fluctuation));
    case flow2d::SectionEnd::not_converged:
      break;
  }
  return grid + "; no solution was found (" + printable(result.message) +
         "): take the fields as a sketch; there are no shares.";
}

std::string recirculation_table(const FieldRun& field, const Look& look) {
  const flow2d::SectionResult& result = field.section->result;
  const UnitSystem units = field.run.content.units;
  Table table{{words("intake"), words("recirculates from"), numbers("share", "%"),
               numbers("uncertainty", "%"), numbers("in plane", "%"), numbers("facing", "%"),
               numbers("drawn", geometry::temperature_unit(units).name)}};
  const auto percent = [](double share, int decimals = 2) { return significant(100.0 * share, 2, decimals); };
  for (const flow2d::Recirculation& pair : result.recirculation)
    table.add({shown_vent(field.run.content, pair.intake), shown_vent(field.run.content, pair.outlet),
               percent(pair.fraction()), percent(pair.lowest()) + " to " + percent(pair.highest()),
               percent(pair.in_plane), percent(pair.facing, 0),
               temperature_number(at(result.vents, pair.intake).drawn, units)});
  if (table.empty()) return "";
  return "\n" + lay_out(table.columns, 2, look) +
         fill(
             "  ",
             "share: part of the air drawn by the intake that the outlet has just let out: the share in the "
             "plane times the part of the intake's width that the outlet faces; uncertainty: effect of cells "
             "twice as large and, for a mean, of its start; drawn: mean temperature of the air drawn in the "
             "plane. No fresh air enters a plane from the sides, so the true share is most likely smaller.",
             look);
}

// How far the fraction can be trusted, for the end of a sentence.
std::string uncertainty_words(const flow2d::Recirculation& pair) {
  if (!pair.uncertain) return "; the effect of the cell size is not known";
  const double half = std::max(pair.highest() - pair.fraction(), pair.fraction() - pair.lowest());
  if (half < kShareWorthTelling) return "";
  return fmt::format(", {} to {} depending on the cell size and the averaging time",
                     percent_text(pair.lowest()), percent_text(pair.highest()));
}

std::string recirculation_sentence(const FieldRun& field) {
  const auto& pairs = field.section->result.recirculation;
  if (pairs.empty())
    return "The plane cuts no outlet together with an intake, so it can't show recirculation.";
  const auto most = std::max_element(
      pairs.begin(), pairs.end(), [](const auto& a, const auto& b) { return a.fraction() < b.fraction(); });
  if (most->highest() < kShareWorthTelling) return "In this plane no intake recirculates air from an outlet.";
  return fmt::format("Of the air {} draws, {} has just come out of {}{}.",
                     shown_vent(field.run.content, most->intake), percent_text(most->fraction()),
                     shown_vent(field.run.content, most->outlet), uncertainty_words(*most));
}

std::string rounds_sentence(const FedBack& back) {
  const std::size_t rounds = back.apart.size();
  if (rounds == 0) return "";
  const std::string last = percent_text(back.apart.back());
  if (back.settled)
    return fmt::format(
        "Cross-section and network were solved in turn until no share changed by more than {}: {} "
        "rounds, {} in "
        "the last.",
        percent_text(back.tolerance), rounds, last);
  return fmt::format(
      "Cross-section and network were solved in turn and do not agree yet: after {} rounds a share still "
      "changes by {}.",
      rounds, last);
}

std::string change_sentence(const FieldRun& field) {
  const study::ConditionResult& before = network_result(field);
  const study::ConditionResult& after = field.section->fed_back->network;
  if (!after.report.converged)
    return "With recirculation fed back, the network has no solution: " + printable(after.report.reason) +
           ".";
  std::vector<std::string> roles;
  for (std::size_t v = 0; v < before.vents.size(); ++v)
    if (before.vents[v].role != after.vents[v].role && !field.run.content.device.vents[v].is_leak)
      roles.push_back(fmt::format("{} from {} to {}", shown_vent(field.run.content, v),
                                  role_text(before.vents[v].role), role_text(after.vents[v].role)));
  return "With recirculation fed back to the network (its own values, no field): " +
         (roles.empty() ? std::string("no role changes") : "the role changes of " + listed(roles)) + ". " +
         rounds_sentence(*field.section->fed_back);
}

std::string change_table(const FieldRun& field, const Look& look) {
  const study::ConditionResult& before = network_result(field);
  const study::ConditionResult& after = field.section->fed_back->network;
  if (!after.report.converged) return "";
  const UnitSystem units = field.run.content.units;
  const geometry::ShownUnit degree = geometry::temperature_unit(units);
  Table table{
      {words("what"), words("before"), words("with it"), words("change"), words("between", degree.name)}};
  const FedBack& back = *field.section->fed_back;
  const auto add = [&](const std::string& name, double old_value, double new_value, auto temperature_of) {
    const auto ends = back.between(temperature_of);
    const auto off = [&](double value) {
      return signed_significant(degree.of_difference(value - old_value), 2, 1);
    };
    table.add({name, temperature_text(old_value, units), temperature_text(new_value, units),
               off(new_value) + " " + degree.name,
               ends ? off(ends->first) + " to " + off(ends->second) : ""});
  };
  for (std::size_t v = 0; v < before.vents.size(); ++v)
    if (before.vents[v].inflow > before.vents[v].outflow && !field.run.content.device.vents[v].is_leak)
      add("air drawn by " + shown_vent(field.run.content, v), before.vents[v].temperature_in,
          after.vents[v].temperature_in, [v](const auto& end) { return end.vents[v].temperature_in; });
  for (std::size_t s = 0; s < before.sources.size(); ++s)
    if (before.sources[s].has_temperature)
      add(printable(before.sources[s].name), before.sources[s].temperature, after.sources[s].temperature,
          [s](const auto& end) { return end.sources[s].temperature; });
  if (table.empty()) return "";
  return "\n" + lay_out(table.columns, 2, look);
}

}  // namespace

std::string plane_words(const flow2d::Plane& plane, UnitSystem units) {
  const char* axes[] = {"x", "y", "z"};
  return fmt::format("across {} at {}", axes[plane.normal], length_text(plane.at, units));
}

std::string section_text(const FieldRun& field, const Look& look) {
  const flow2d::SectionResult& result = field.section->result;
  std::string text =
      inked("section", Ink::strong, look) + " " + plane_words(result.plane, field.run.content.units) + "\n";
  if (result.usable()) text += fill("  ", recirculation_sentence(field), look);
  text +=
      fill("  ", fmt::format("Flows and temperatures at the vents are the {}'s.", flows_word(field)), look);
  if (!result.why_plane.empty())
    text += fill("  ", "Reason for this position: " + printable(result.why_plane), look);
  const std::string stability = stability_text(result.steadiness, result.end == flow2d::SectionEnd::steady);
  if (!stability.empty()) text += fill("  ! ", stability, look);
  for (const std::string& note : result.notes) text += fill("  ! ", printable(note), look);
  if (result.usable()) text += recirculation_table(field, look);
  text += fill("  ", how_found(result), look);
  if (field.section->fed_back) {
    text += "\n" + fill("  ", change_sentence(field), look);
    text += change_table(field, look);
  }
  return text;
}

}  // namespace tuft::io
