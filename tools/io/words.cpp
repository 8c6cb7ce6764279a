#include "tools/io/words.hpp"

#include <algorithm>

#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::output {
namespace {

using geometry::Role;
using study::VentResult;

// Below this volume of room air [m3/s] nobody's instrument shows anything: one millilitre in ten seconds.
// A judgement; it decides wording only.
constexpr double kStillAir = 1e-7;

std::vector<VentResult> vents_with_role(const geometry::Case& content, const study::ConditionResult& result,
                                        Role role) {
  std::vector<VentResult> found;
  for (const VentResult& vent : result.vents) {
    const bool is_leak = content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak;
    if (!is_leak && !vent.shut && vent.role == role) found.push_back(vent);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const VentResult& a, const VentResult& b) { return a.share > b.share; });
  return found;
}

std::vector<VentResult> shut_vents(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<VentResult> found;
  for (const VentResult& vent : result.vents)
    if (vent.shut && !content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak)
      found.push_back(vent);
  return found;
}

std::string vent_list(const geometry::Case& content, const std::vector<VentResult>& vents, bool with_share) {
  std::vector<std::string> words;
  for (const VentResult& vent : vents) {
    std::string word = printable(content.device.vents[static_cast<std::size_t>(vent.vent)].name);
    if (with_share) word += " (" + percent_text(vent.share) + ")";
    words.push_back(word);
  }
  return listed(words);
}

std::string leaks_phrase(const geometry::Case& content, const study::ConditionResult& result) {
  const double share = leaks_share(content, result);
  return share < content.thresholds.idle_share ? "" : "leaks carry " + percent_text(share);
}

std::string doubtful_phrase(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<VentResult> doubtful;
  for (const VentResult& vent : result.vents) {
    const bool is_leak = content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak;
    if (!is_leak && !vent.firm) doubtful.push_back(vent);
  }
  if (doubtful.empty()) return "";
  return "close to a threshold: " + vent_list(content, doubtful, false);
}

}  // namespace

std::string role_text(Role role) {
  switch (role) {
    case Role::intake:
      return "intake";
    case Role::exhaust:
      return "exhaust";
    case Role::both_ways:
      return "both ways";
    case Role::idle:
      return "idle";
  }
  return "";
}

Ink role_ink(Role role) {
  switch (role) {
    case Role::intake:
      return Ink::blue;
    case Role::exhaust:
      return Ink::red;
    case Role::both_ways:
      return Ink::magenta;
    case Role::idle:
      return Ink::faint;
  }
  return Ink::plain;
}

const char* verdict_word(study::Verdict verdict) {
  switch (verdict) {
    case study::Verdict::holds:
      return "holds";
    case study::Verdict::fails:
      return "fails";
    case study::Verdict::cannot_tell:
      return "cannot-tell";
  }
  return "";
}

const char* as_written(study::Verdict verdict) {
  switch (verdict) {
    case study::Verdict::holds:
      return "true as written";
    case study::Verdict::fails:
      return "not true as written";
    case study::Verdict::cannot_tell:
      return "left open as written";
  }
  return "";
}

std::string circumstances(const geometry::Case& content, const geometry::Condition& condition) {
  const auto& pose = content.poses[static_cast<std::size_t>(condition.pose)];
  const auto& support = content.supports[static_cast<std::size_t>(condition.support)];
  const auto& load = content.loads[static_cast<std::size_t>(condition.load)];
  std::string text = printable(pose.name);
  text += support.kind == geometry::SupportKind::air ? ", in free air" : ", on " + printable(support.name);
  text += ", load " + printable(load.name);
  const auto& lid = content.device.lid;
  if (condition.lid_given) {
    text += ", lid " + degrees_text(*condition.lid_angle);
  } else if (lid.present) {
    text += ", lid " + degrees_text(*lid.angle);
  }
  return text;
}

std::string counted(std::size_t count, const std::string& singular) {
  return std::to_string(count) + " " + singular + (count == 1 ? "" : "s");
}

double room_volume_flow(double mass_flow, const study::ConditionResult& result) {
  return result.ambient_density > 0.0 ? mass_flow / result.ambient_density : 0.0;
}

double leaks_share(const geometry::Case& content, const study::ConditionResult& result) {
  if (result.through_flow <= 0.0) return 0.0;
  double flow = 0.0;
  for (const VentResult& vent : result.vents) {
    const bool is_leak = content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak;
    if (is_leak) flow += std::max(vent.inflow, vent.outflow);
  }
  return flow / result.through_flow;
}

std::string summary_sentence(const geometry::Case& content, const study::ConditionResult& result) {
  if (room_volume_flow(result.through_flow, result) < kStillAir) {
    return "The air stands still: no vent carries anything worth naming.";
  }
  const auto in = vents_with_role(content, result, Role::intake);
  const auto out = vents_with_role(content, result, Role::exhaust);
  const auto both = vents_with_role(content, result, Role::both_ways);
  const auto idle = vents_with_role(content, result, Role::idle);
  std::vector<std::string> parts;
  parts.push_back(in.empty() ? "no vent is an intake" : "air enters by " + vent_list(content, in, true));
  parts.push_back(out.empty() ? "no vent is an exhaust" : "leaves by " + vent_list(content, out, true));
  if (in.empty() && !out.empty()) parts.back() = "air " + parts.back();
  if (!both.empty()) {
    parts.push_back(vent_list(content, both, true) + (both.size() == 1 ? " breathes" : " breathe") +
                    " both ways");
  }
  if (!idle.empty()) {
    parts.push_back(vent_list(content, idle, false) + (idle.size() == 1 ? " does" : " do") +
                    " next to nothing");
  }
  const auto shut = shut_vents(content, result);
  if (!shut.empty())
    parts.push_back(vent_list(content, shut, false) + (shut.size() == 1 ? " is" : " are") + " shut");
  for (const std::string& more : {leaks_phrase(content, result), doubtful_phrase(content, result)}) {
    if (!more.empty()) parts.push_back(more);
  }
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
  text.front() = text.front() == 'a' ? 'A' : 'N';
  return text + ".";
}

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
  return text;
}

}  // namespace tuft::output
