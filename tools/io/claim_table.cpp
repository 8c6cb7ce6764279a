#include "tools/io/table.hpp"

#include <algorithm>

#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using study::VentChange;
using study::Verdict;

// A claim behind what is made of it, whose words are as long as the longest, so that the sentences of all
// claims stand below each other.
std::string claim_behind(const std::string& label, const geometry::Case& content,
                         const study::ClaimResult& result, const Look& look) {
  const auto& claim = at(content.claims, result.claim);
  const std::string sentence =
      fill(label, printable(claim.id) + (claim.say.empty() ? "" : ": " + printable(claim.say)), look);
  return inked(label, verdict_ink(result.verdict), look) + sentence.substr(label.size()) +
         fill(std::string(label.size(), ' '), printable(result.because), look);
}

std::ptrdiff_t count_of(const std::vector<study::ClaimResult>& results, Verdict verdict) {
  return std::count_if(results.begin(), results.end(),
                       [verdict](const auto& result) { return result.verdict == verdict; });
}

std::string flow_cell(double mass_flow, const study::ConditionResult& result, UnitSystem units) {
  return flow_number(room_volume_flow(mass_flow, result), units);
}

std::string change_word(const VentChange& change) {
  if (change.role_changes) return "role";
  return change.size_changes ? "size" : "-";
}

std::string because_lines(const geometry::Case& content, const std::vector<VentChange>& changes,
                          const Look& look) {
  std::string text;
  for (const VentChange& change : changes) {
    if ((!change.role_changes && !change.size_changes) || change.because.empty()) continue;
    const std::string name = shown_vent(content, change.vent);
    text += fill("  " + name + ": ", printable(change.because), look);
  }
  return text.empty() ? text : "\n" + text;
}

}  // namespace

std::string role_step(const VentChange& change) {
  const auto state = [](geometry::Role role, bool shut) {
    return shut ? std::string("shut") : role_text(role);
  };
  const std::string to = state(change.to, change.shut_to);
  if (!change.role_changes && change.shut_from == change.shut_to) return to;
  return state(change.from, change.shut_from) + " -> " + to;
}

std::string claim_text(const geometry::Case& content, const study::ClaimResult& result, const Look& look) {
  const bool fails = result.verdict == Verdict::fails;
  return claim_behind(pad_right(fails ? "FAILS" : verdict_word(result.verdict), 11), content, result, look);
}

std::string claim_as_written_text(const geometry::Case& content, const study::ClaimResult& result,
                                  const Look& look) {
  return claim_behind(pad_right(as_written(result.verdict), 22), content, result, look);
}

std::string summary_as_written(const std::vector<study::ClaimResult>& results) {
  if (results.empty()) return "No claims.";
  std::vector<std::string> parts;
  for (const Verdict verdict : {Verdict::holds, Verdict::fails, Verdict::undecided})
    if (const auto count = count_of(results, verdict); count > 0)
      parts.push_back(std::to_string(count) + " " + as_written(verdict));
  return counted(results.size(), "claim") + ": " + listed(parts) + ".";
}

std::string claims_summary(const std::vector<study::ClaimResult>& results) {
  const auto holds = count_of(results, Verdict::holds), fails = count_of(results, Verdict::fails),
             open = count_of(results, Verdict::undecided);
  std::vector<std::string> parts;
  if (holds > 0) parts.push_back(std::to_string(holds) + (holds == 1 ? " holds" : " hold"));
  if (fails > 0) parts.push_back(std::to_string(fails) + (fails == 1 ? " fails" : " fail"));
  if (open > 0) parts.push_back(std::to_string(open) + " undecided");
  if (parts.empty()) return "No claims.";
  return counted(results.size(), "claim") + ": " + joined(parts, ", ") + ".";
}

std::string changes_text(const geometry::Case& content, const study::ConditionResult& from,
                         const study::ConditionResult& to, const std::vector<VentChange>& changes,
                         const Look& look) {
  const UnitSystem units = content.units;
  const char* const unit = geometry::flow_unit(units).name;
  Table table{{words("vent"), words("what"), words("role"), numbers("in from", unit), numbers("in to", unit),
               numbers("out from", unit), numbers("out to", unit)}};
  for (const VentChange& change : changes)
    table.add({shortened(shown_vent(content, change.vent), 24),
               {change_word(change), change.role_changes   ? Ink::red
                                     : change.size_changes ? Ink::yellow
                                                           : Ink::faint},
               role_step(change),
               flow_cell(change.inflow_from, from, units),
               flow_cell(change.inflow_to, to, units),
               flow_cell(change.outflow_from, from, units),
               flow_cell(change.outflow_to, to, units)});
  narrow_names(table.columns, 2, look);
  return lay_out(table.columns, 2, look) + because_lines(content, changes, look);
}

}  // namespace tuft::io
