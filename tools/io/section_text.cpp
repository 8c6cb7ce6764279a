#include "tools/io/section_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

constexpr double kShareWorthTelling = 0.001;  // share of what is drawn

std::string section_vent_name(const FieldRun& field, int vent) {
  return printable(field.run.content.device.vents[static_cast<std::size_t>(vent)].name);
}

std::string how_found(const section::SectionResult& result) {
  const std::string grid = fmt::format("{} by {} cells", result.u.nx(), result.u.ny());
  switch (result.end) {
    case section::SectionEnd::steady:
      return fmt::format("{}; steady, residual {:.0e}; mass {}, heat {}.", grid, result.residual,
                         closure_text(result.mass), closure_text(result.energy));
    case section::SectionEnd::averaged:
      return fmt::format(
          "{}; no steady state was found: means of a run in time from {} s on over {} s, {} passages of the "
          "device, whose energy of motion varies by {}.",
          grid, significant(result.begins, 2, 3), significant(result.span, 2, 3), result.passages,
          percent_text(result.fluctuation));
    case section::SectionEnd::not_converged:
      break;
  }
  return grid + "; no solution was found (" + printable(result.message) + "): a sketch, and no fractions.";
}

std::string reentry_table(const FieldRun& field, const Look& look) {
  const section::SectionResult& result = field.section->result;
  Column intake{"intake", "", {}}, outlet{"draws again from", "", {}}, share{"share", "%", {}, true},
      doubt{"doubt", "%", {}, true}, plane{"in plane", "%", {}, true}, facing{"facing", "%", {}, true},
      drawn{"drawn", "°C", {}, true};
  for (const section::Reentry& pair : result.reentry) {
    intake.cells.push_back(section_vent_name(field, pair.intake));
    outlet.cells.push_back(section_vent_name(field, pair.outlet));
    share.cells.push_back(significant(100.0 * pair.fraction(), 2, 2));
    doubt.cells.push_back(fmt::format("{} to {}", significant(100.0 * pair.lowest(), 2, 2),
                                      significant(100.0 * pair.highest(), 2, 2)));
    plane.cells.push_back(significant(100.0 * pair.in_plane, 2, 2));
    facing.cells.push_back(significant(100.0 * pair.facing, 2, 0));
    drawn.cells.push_back(celsius(result.vents[static_cast<std::size_t>(pair.intake)].drawn));
  }
  if (intake.cells.empty()) return "";
  return "\n" + lay_out({intake, outlet, share, doubt, plane, facing, drawn}, 2, look) +
         fill("  ",
              "share: part of all the intake draws that the outlet has just let out, which is that in the "
              "plane "
              "times the part of the intake's width before the outlet's; doubt: how far cells twice as "
              "large, and "
              "for a mean the time it starts, change it; drawn: mean of the air drawn in the plane. A plane "
              "has "
              "no sides for fresh air to come in by: most likely less comes back.",
              look.width);
}

// How far the fraction can be trusted, for the end of a sentence.
std::string doubt_words(const section::Reentry& pair) {
  if (!pair.doubted) return "; how far the size of the cells matters is not known";
  const double half = std::max(pair.highest() - pair.fraction(), pair.fraction() - pair.lowest());
  if (half < kShareWorthTelling) return "";
  return fmt::format(", {} to {} by the size of the cells and the time averaged over",
                     percent_text(pair.lowest()), percent_text(pair.highest()));
}

std::string reentry_sentence(const FieldRun& field) {
  const auto& pairs = field.section->result.reentry;
  if (pairs.empty())
    return "The plane cuts no outlet together with an intake, so it says nothing of air drawn again.";
  const auto most = std::max_element(
      pairs.begin(), pairs.end(), [](const auto& a, const auto& b) { return a.fraction() < b.fraction(); });
  if (most->highest() < kShareWorthTelling)
    return "No intake draws air again that an outlet has let out, as far as this plane shows.";
  return fmt::format("Of the air {} draws, {} has just come out of {}{}.",
                     section_vent_name(field, most->intake), percent_text(most->fraction()),
                     section_vent_name(field, most->outlet), doubt_words(*most));
}

std::string rounds_sentence(const FedBack& back) {
  const std::size_t rounds = back.apart.size();
  if (rounds == 0) return "";
  const std::string last = percent_text(back.apart.back());
  if (back.settled)
    return fmt::format(
        "Slice and network were solved by turns until no fraction changed by more than {}: {} "
        "rounds, {} in the last.",
        percent_text(back.tolerance), rounds, last);
  return fmt::format(
      "Slice and network were solved by turns and do not agree yet: after {} rounds a fraction "
      "still changes by {}.",
      rounds, last);
}

std::string change_sentence(const FieldRun& field) {
  const study::ConditionResult& before = network_result(field);
  const study::ConditionResult& after = field.section->fed_back->network;
  if (!after.report.converged)
    return "Fed back, the network finds no solution: " + printable(after.report.reason) + ".";
  std::vector<std::string> roles;
  for (std::size_t v = 0; v < before.vents.size(); ++v)
    if (before.vents[v].role != after.vents[v].role && !field.run.content.device.vents[v].is_leak)
      roles.push_back(fmt::format("{} from {} to {}", section_vent_name(field, static_cast<int>(v)),
                                  role_text(before.vents[v].role), role_text(after.vents[v].role)));
  return "Fed back to the network: " +
         (roles.empty() ? std::string("no role changes") : "the role changes of " + listed(roles)) + ". " +
         rounds_sentence(*field.section->fed_back);
}

std::string change_table(const FieldRun& field, const Look& look) {
  const study::ConditionResult& before = network_result(field);
  const study::ConditionResult& after = field.section->fed_back->network;
  if (!after.report.converged) return "";
  Column what{"what", "", {}}, from{"before", "", {}}, to{"with it", "", {}}, apart{"change", "", {}},
      between{"between", "K", {}};
  const FedBack& back = *field.section->fed_back;
  const bool ends = back.lowest.report.converged && back.highest.report.converged;
  const auto add = [&](const std::string& name, double old_value, double new_value, double low, double high) {
    what.cells.push_back(name);
    from.cells.push_back(temperature_text(old_value));
    to.cells.push_back(temperature_text(new_value));
    apart.cells.push_back(signed_significant(new_value - old_value, 2, 1) + " K");
    between.cells.push_back(ends ? signed_significant(std::min(low, high) - old_value, 2, 1) + " to " +
                                       signed_significant(std::max(low, high) - old_value, 2, 1)
                                 : "");
  };
  for (std::size_t v = 0; v < before.vents.size(); ++v)
    if (before.vents[v].inflow > before.vents[v].outflow && !field.run.content.device.vents[v].is_leak)
      add("air drawn by " + section_vent_name(field, static_cast<int>(v)), before.vents[v].temperature_in,
          after.vents[v].temperature_in, ends ? back.lowest.vents[v].temperature_in : 0.0,
          ends ? back.highest.vents[v].temperature_in : 0.0);
  for (std::size_t s = 0; s < before.sources.size(); ++s)
    if (before.sources[s].has_temperature)
      add(printable(before.sources[s].name), before.sources[s].temperature, after.sources[s].temperature,
          ends ? back.lowest.sources[s].temperature : 0.0, ends ? back.highest.sources[s].temperature : 0.0);
  if (what.cells.empty()) return "";
  return "\n" + lay_out({what, from, to, apart, between}, 2, look);
}

}  // namespace

std::string plane_words(const section::Plane& plane) {
  const char* axes[] = {"x", "y", "z"};
  return fmt::format("across {} at {:.4g} mm", axes[plane.normal], 1000.0 * plane.at);
}

std::string section_text(const FieldRun& field, const Look& look) {
  const section::SectionResult& result = field.section->result;
  std::string text = inked("section", Ink::strong, look) + " " + plane_words(result.plane) + "\n";
  if (result.usable()) text += fill("  ", reentry_sentence(field), look.width);
  if (!result.why_plane.empty()) text += fill("  ", "Why there: " + printable(result.why_plane), look.width);
  for (const std::string& note : result.notes) text += fill("  ! ", printable(note), look.width);
  if (result.usable()) text += reentry_table(field, look);
  text += fill("  ", how_found(result), look.width);
  if (field.section->fed_back) {
    text += "\n" + fill("  ", change_sentence(field), look.width);
    text += change_table(field, look);
  }
  return text;
}

}  // namespace tuft::output
