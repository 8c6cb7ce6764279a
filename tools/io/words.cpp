#include "tools/io/words.hpp"

#include <algorithm>

#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

using geometry::Role;
using study::VentResult;

// Below this volume of room air [m3/s] nobody's instrument shows anything: one millilitre in ten seconds.
// A judgement; it decides wording only.
constexpr double kStillAir = 1e-7;

// Vents that carry this share of the air together are worth a word, even where each does next to nothing. A
// judgement; it decides wording only.
constexpr double kGroupShare = 0.1;
constexpr std::size_t kFewNames = 4;

// Vents, seams left out, of which something is so.
template <class IsSo>
std::vector<VentResult> vents_that(const geometry::Case& content, const study::ConditionResult& result,
                                   IsSo is_so) {
  std::vector<VentResult> found;
  for (const VentResult& vent : result.vents)
    if (!at(content.device.vents, vent.vent).is_leak && is_so(vent)) found.push_back(vent);
  return found;
}

std::vector<VentResult> vents_with_role(const geometry::Case& content, const study::ConditionResult& result,
                                        Role role) {
  auto found =
      vents_that(content, result, [role](const VentResult& vent) { return !vent.shut && vent.role == role; });
  std::stable_sort(found.begin(), found.end(),
                   [](const VentResult& a, const VentResult& b) { return a.share > b.share; });
  return found;
}

std::string vent_list(const geometry::Case& content, const std::vector<VentResult>& vents, bool with_share) {
  return listed(each(vents, [&](const VentResult& vent) {
    return shown_vent(content, vent.vent) + (with_share ? " (" + percent_text(vent.share) + ")" : "");
  }));
}

std::string leaks_phrase(const geometry::Case& content, const study::ConditionResult& result) {
  const double share = leaks_share(content, result);
  return share < content.thresholds.idle_share ? "" : "leaks carry " + percent_text(share);
}

std::string uncertain_phrase(const geometry::Case& content, const study::ConditionResult& result) {
  const auto uncertain = vents_that(content, result, [](const VentResult& vent) { return !vent.firm; });
  if (uncertain.empty()) return "";
  return "close to a threshold: " + vent_list(content, uncertain, false);
}

}  // namespace

std::string role_text(Role role) { return word_among(role, {"intake", "exhaust", "both ways", "idle"}); }

Ink role_ink(Role role) { return word_among(role, {Ink::blue, Ink::red, Ink::magenta, Ink::faint}); }

const char* verdict_word(study::Verdict verdict) {
  return word_among(verdict, {"holds", "fails", "undecided"});
}

Ink verdict_ink(study::Verdict verdict) { return word_among(verdict, {Ink::green, Ink::red, Ink::yellow}); }

const char* as_written(study::Verdict verdict) {
  return word_among(verdict, {"true as written", "not true as written", "left open as written"});
}

std::string circumstances(const geometry::Case& content, const geometry::Condition& condition) {
  const auto& pose = at(content.poses, condition.pose);
  const auto& support = at(content.supports, condition.support);
  const auto& load = at(content.loads, condition.load);
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
    const bool is_leak = at(content.device.vents, vent.vent).is_leak;
    if (is_leak) flow += std::max(vent.inflow, vent.outflow);
  }
  return flow / result.through_flow;
}

IdleGroup idle_group(const geometry::Case& content, const study::ConditionResult& result) {
  IdleGroup group;
  if (result.through_flow <= 0.0 || room_volume_flow(result.through_flow, result) < kStillAir) return group;
  const auto idle = vents_with_role(content, result, Role::idle);
  double in = 0.0, out = 0.0;
  for (const VentResult& vent : idle) {
    in += vent.inflow;
    out += vent.outflow;
  }
  group.share = std::max(in, out) / result.through_flow;
  if (idle.size() > 1 && group.share >= kGroupShare) group.vents = idle;
  return group;
}

std::string few_vents(const geometry::Case& content, const std::vector<VentResult>& vents) {
  std::vector<std::string> names =
      each(vents, [&](const VentResult& v) { return shown_vent(content, v.vent); });
  if (names.size() > kFewNames) {
    const std::size_t more = names.size() - kFewNames + 1;
    names.resize(kFewNames - 1);
    names.push_back(std::to_string(more) + " more");
  }
  return listed(names);
}

namespace {

std::string group_phrase(const geometry::Case& content, const study::ConditionResult& result) {
  const IdleGroup group = idle_group(content, result);
  return group.vents.empty() ? "" : " each but carry " + percent_text(group.share) + " together";
}

}  // namespace

std::string summary_sentence(const geometry::Case& content, const study::ConditionResult& result) {
  if (room_volume_flow(result.through_flow, result) < kStillAir)
    return "The air stands still: no vent carries a flow worth naming.";
  const auto in = vents_with_role(content, result, Role::intake);
  const auto out = vents_with_role(content, result, Role::exhaust);
  const auto both = vents_with_role(content, result, Role::both_ways);
  const auto idle = vents_with_role(content, result, Role::idle);
  std::vector<std::string> parts;
  parts.push_back(in.empty() ? "no vent is an intake" : "air enters by " + vent_list(content, in, true));
  parts.push_back(out.empty() ? "no vent is an exhaust" : "leaves by " + vent_list(content, out, true));
  if (in.empty() && !out.empty()) parts.back() = "air " + parts.back();
  if (!both.empty())
    parts.push_back(vent_list(content, both, true) + (both.size() == 1 ? " breathes" : " breathe") +
                    " both ways");
  if (!idle.empty())
    parts.push_back(vent_list(content, idle, false) + (idle.size() == 1 ? " does" : " do") +
                    " next to nothing" + group_phrase(content, result));
  const auto shut = vents_that(content, result, [](const VentResult& vent) { return vent.shut; });
  if (!shut.empty())
    parts.push_back(vent_list(content, shut, false) + (shut.size() == 1 ? " is" : " are") + " shut");
  for (const std::string& more : {leaks_phrase(content, result), uncertain_phrase(content, result)})
    if (!more.empty()) parts.push_back(more);
  std::string text = joined(parts);
  text.front() = text.front() == 'a' ? 'A' : 'N';
  return text + ".";
}

std::string joined(const std::vector<std::string>& parts, const char* between) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : between) + part;
  return text;
}

}  // namespace tuft::io
