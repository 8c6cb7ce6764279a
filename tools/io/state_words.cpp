#include "tools/io/state_words.hpp"

#include <fmt/format.h>

#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

// "comb is exhaust instead of intake" for every vent whose role differs.
std::vector<std::string> differences(const geometry::Case& content, const study::ConditionResult& result,
                                     const study::OtherState& other) {
  std::vector<std::string> parts;
  for (std::size_t v = 0; v < other.vents.size() && v < result.vents.size(); ++v) {
    if (other.vents[v].role == result.vents[v].role) continue;
    parts.push_back(fmt::format("{} is {} instead of {}", printable(content.device.vents[v].name),
                                role_text(other.vents[v].role), role_text(result.vents[v].role)));
  }
  return parts;
}

std::string other_words(const geometry::Case& content, const study::ConditionResult& result,
                        const study::OtherState& other) {
  const std::vector<std::string> parts = differences(content, result, other);
  const std::string how =
      other.reached_by.empty() ? "" : " (reached by: " + printable(other.reached_by) + ")";
  const std::string what = parts.empty() ? "no vent has another role, the flows differ" : listed(parts);
  const std::string end = other.would_tip.empty() ? "" : "; it ends " + printable(other.would_tip);
  return fmt::format("In another{}: {}{}.", how, what, end);
}

}  // namespace

std::vector<std::string> state_warnings(const geometry::Case& content, const study::ConditionResult& result) {
  const study::States& states = result.states;
  if (!states.looked_for) return {};
  if (states.stable == 0)
    return {
        fmt::format("No steady state was found that a device would stay in: at {} it would keep changing.",
                    printable(states.place))};
  if (states.others.empty()) return {};
  std::vector<std::string> words = {
      fmt::format("{} steady states exist here. Shown is the one a cold start reaches{}.", states.stable,
                  states.would_tip.empty() ? "" : "; it ends " + printable(states.would_tip))};
  for (const study::OtherState& other : states.others) words.push_back(other_words(content, result, other));
  return words;
}

}  // namespace tuft::output
