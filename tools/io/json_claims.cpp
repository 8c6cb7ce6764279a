// The device, claims, and what changes between two conditions, in results.json.
#include "tools/io/json_parts.hpp"

#include <cmath>

#include "solver/study/predict.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using geometry::Device;
using geometry::Vec3;

const char* kind_word(geometry::ClaimKind kind) {
  return word_among(kind, {"role", "draws-more-than", "gives-more-than", "share", "changes-role-against",
                           "none", "none-breathes", "reverses-against", "flow-falls-against",
                           "flow-rises-against", "temperature", "warms-against", "cools-against"});
}

Json names_json(const Run& run, const std::vector<int>& vents) {
  return list_json(vents, [&](int vent) { return vent_name(run.content, vent); });
}

// An open end of a range is null.
Json finite_json(double value) { return std::isfinite(value) ? Json(plain(value)) : Json(nullptr); }

// What the claim states, with the keys of its kind only.
void add_statement(Json& json, const Run& run, const geometry::Claim& claim) {
  switch (claim.kind) {
    case geometry::ClaimKind::role:
      json["role"] = geometry::role_word(claim.role);
      json["any"] = claim.any;
      break;
    case geometry::ClaimKind::none_has_role:
    case geometry::ClaimKind::none_breathes:
      json["role"] = geometry::role_word(claim.role);
      break;
    case geometry::ClaimKind::draws_more:
    case geometry::ClaimKind::gives_more:
      json["than"] = names_json(run, claim.than);
      json["by"] = plain(claim.factor);
      break;
    case geometry::ClaimKind::share:
      json["low"] = plain(claim.low);
      json["high"] = plain(claim.high);
      break;
    case geometry::ClaimKind::changes_role:
    case geometry::ClaimKind::reverses:
      json["any"] = claim.any;
      break;
    case geometry::ClaimKind::flow_falls:
    case geometry::ClaimKind::flow_rises:
      json["by"] = plain(claim.by);
      break;
    case geometry::ClaimKind::temperature:
      json["of"] = place_json(run.content.device, claim.of);
      json["low_K"] = finite_json(claim.low);
      json["high_K"] = finite_json(claim.high);
      break;
    case geometry::ClaimKind::warms:
    case geometry::ClaimKind::cools:
      json["of"] = place_json(run.content.device, claim.of);
      json["by_K"] = plain(claim.by);
      break;
  }
  if (claim.against >= 0) json["against"] = condition_name(run, claim.against);
  if (claim.seen_in >= 0) json["evidence_from"] = condition_name(run, claim.seen_in);
}

using geometry::SupportKind;
using study::ConditionResult;

struct Pair {
  std::string kind, claim;
  const ConditionResult* from = nullptr;
  const ConditionResult* to = nullptr;
};

const ConditionResult* solved(const Run& run, int condition) {
  for (const ConditionResult& result : run.conditions)
    if (result.condition == condition && result.report.converged) return &result;
  return nullptr;
}

const geometry::Condition& condition_of(const Run& run, const ConditionResult& result) {
  return at(run.content.conditions, result.condition);
}

SupportKind support_of(const Run& run, const geometry::Condition& condition) {
  return at(run.content.supports, condition.support).kind;
}

bool is_soft(SupportKind kind) { return kind == SupportKind::soft || kind == SupportKind::lap; }

// How well a firm condition serves to see what a soft surface does: same load, same lid, then pose, then a
// table. Below zero: not at all.
int likeness(const Run& run, const geometry::Condition& soft, const geometry::Condition& firm) {
  const bool same_lid = soft.lid_given == firm.lid_given && *soft.lid_angle == *firm.lid_angle;
  if (is_soft(support_of(run, firm)) || soft.load != firm.load || !same_lid) return -1;
  return (soft.pose == firm.pose ? 2 : 0) + (support_of(run, firm) == SupportKind::hard ? 1 : 0);
}

void add_soft(const Run& run, std::vector<Pair>& pairs) {
  for (const ConditionResult& soft : run.conditions) {
    if (!soft.report.converged || !is_soft(support_of(run, condition_of(run, soft)))) continue;
    const ConditionResult* best = nullptr;
    int most = -1;
    for (const ConditionResult& firm : run.conditions) {
      const int like = likeness(run, condition_of(run, soft), condition_of(run, firm));
      if (!firm.report.converged || like <= most) continue;
      best = &firm;
      most = like;
    }
    if (best != nullptr) pairs.push_back({"soft-surface", "", best, &soft});
  }
}

void add_claimed(const Run& run, std::vector<Pair>& pairs) {
  for (const study::ClaimResult& result : run.claims) {
    const geometry::Claim& claim = at(run.content.claims, result.claim);
    if (claim.against < 0) continue;
    const ConditionResult *from = solved(run, claim.against), *to = solved(run, claim.when);
    if (from != nullptr && to != nullptr) pairs.push_back({"claim", claim.id, from, to});
  }
}

Json change_json(const Run& run, const study::VentChange& change) {
  return {{"vent", vent_name(run.content, change.vent)},
          {"role_from", geometry::role_word(change.from)},
          {"role_to", geometry::role_word(change.to)},
          {"shut_from", change.shut_from},
          {"shut_to", change.shut_to},
          {"inflow_from_kg_s", plain(change.inflow_from)},
          {"inflow_to_kg_s", plain(change.inflow_to)},
          {"outflow_from_kg_s", plain(change.outflow_from)},
          {"outflow_to_kg_s", plain(change.outflow_to)},
          {"role_changes", change.role_changes},
          {"size_changes", change.size_changes},
          {"because", change.because}};
}

// Where the rectangle of a vent or a patch of skin lies, by the unit vectors of its two sides.
template <class Thing>
void add_rectangle(Json& json, const Thing& thing, const Vec3& first, const Vec3& second) {
  json["centre_m"] = vector_json(thing.centre);
  json["size_m"] = {plain(thing.width), plain(thing.height)};
  json["axes"] = {vector_json(first), vector_json(second)};
  json["normal"] = vector_json(geometry::face_normal(thing.face));
}

Json vent_json(const Device& device, const geometry::Vent& vent) {
  Json json = {{"name", vent.name}, {"face", geometry::face_word(vent.face)}, {"leak", vent.is_leak}};
  Vec3 first, second;
  geometry::side_axes(vent, first, second);
  add_rectangle(json, vent, first, second);
  json["cover"] = vent.is_leak ? "seam" : geometry::word_of(vent.cover.kind);
  json["open_ratio"] = plain(*vent.cover.open_ratio);
  json["blocked"] = plain(*vent.blocked);
  json["behind"] = place_json(device, vent.behind);
  return json;
}

Json fan_json(const Device& device, const geometry::Fan& fan) {
  return {{"name", fan.name},
          {"kind", geometry::word_of(fan.kind)},
          {"centre_m", vector_json(fan.centre)},
          {"axis", vector_json(geometry::fan_axis(fan, device))},
          {"diameter_m", plain(*fan.diameter)},
          {"thickness_m", plain(*fan.thickness)},
          {"full_speed_rev_s", plain(*fan.speed)},
          {"curve_given", !fan.curve.empty()},
          {"draws_from", place_json(device, fan.draws_from)},
          {"blows_into", place_json(device, fan.blows_into)}};
}

Json fins_json(const Device& device, std::size_t index) {
  const geometry::FinStack& stack = device.fin_stacks[index];
  return {{"name", stack.name},
          {"centre_m", vector_json(stack.centre)},
          {"size_m", vector_json(fin_extents(device, index))},
          {"along", vector_json(fin_direction(device, index))},
          {"channels", plain(*stack.count)}};
}

}  // namespace

Json claim_json(const Run& run, const study::ClaimResult& result) {
  const auto& claim = at(run.content.claims, result.claim);
  Json json;
  json["id"] = claim.id;
  json["say"] = claim.say;
  json["kind"] = kind_word(claim.kind);
  json["vents"] = names_json(run, claim.vents);
  add_statement(json, run, claim);
  json["when"] = condition_name(run, claim.when);
  json["verdict"] = verdict_word(result.verdict);
  json["because"] = result.because;
  return json;
}

Json comparisons_json(const Run& run) {
  std::vector<Pair> pairs;
  add_soft(run, pairs);
  add_claimed(run, pairs);
  return list_json(pairs, [&](const Pair& pair) -> Json {
    return {{"kind", pair.kind},
            {"claim", pair.claim},
            {"from", pair.from->name},
            {"to", pair.to->name},
            {"changes", list_json(study::compare(run.content, *pair.from, *pair.to),
                                  [&](const auto& change) { return change_json(run, change); })}};
  });
}

Json place_json(const Device& device, const geometry::Place& place) {
  return {{"kind", geometry::word_of(place.kind)}, {"name", place_name(device, place)}};
}

Json device_json(const Run& run) {
  const Device& device = run.content.device;
  Json json = {{"name", device.name}, {"size_m", vector_json(device.size)}, {"feet_m", plain(*device.feet)}};
  json["lid"] = nullptr;
  if (device.lid.present)
    json["lid"] = {{"angle_deg", clean_degrees(*device.lid.angle)},
                   {"clearance_m", plain(*device.lid.clearance)}};
  json["vents"] = list_json(device.vents, [&](const auto& vent) { return vent_json(device, vent); });
  json["zones"] = list_json(device.zones, [](const geometry::Zone& zone) -> Json {
    return {{"name", zone.name}, {"centre_m", vector_json(zone.centre)}, {"size_m", vector_json(zone.size)}};
  });
  json["fans"] = list_json(device.fans, [&](const auto& fan) { return fan_json(device, fan); });
  json["fins"] = Json::array();
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) json["fins"].push_back(fins_json(device, i));
  json["skin"] = list_json(device.skins, [](const geometry::Skin& skin) {
    Json entry = {{"name", skin.name}, {"material", geometry::word_of(skin.material)}};
    Vec3 first, second;
    geometry::face_axes(skin.face, first, second);
    add_rectangle(entry, skin, first, second);
    return entry;
  });
  return json;
}

}  // namespace tuft::io
