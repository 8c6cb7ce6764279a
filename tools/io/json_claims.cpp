// Claims in results.json.
#include <cmath>

#include "tools/io/json_parts.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

const char* kind_word(geometry::ClaimKind kind) {
  switch (kind) {
    case geometry::ClaimKind::role:
      return "role";
    case geometry::ClaimKind::draws_more:
      return "draws-more-than";
    case geometry::ClaimKind::gives_more:
      return "gives-more-than";
    case geometry::ClaimKind::share:
      return "share";
    case geometry::ClaimKind::changes_role:
      return "changes-role-against";
    case geometry::ClaimKind::none_has_role:
      return "none";
    case geometry::ClaimKind::none_breathes:
      return "none-breathes";
    case geometry::ClaimKind::reverses:
      return "reverses-against";
    case geometry::ClaimKind::flow_falls:
      return "flow-falls-against";
    case geometry::ClaimKind::flow_rises:
      return "flow-rises-against";
    case geometry::ClaimKind::temperature:
      return "temperature";
    case geometry::ClaimKind::warms:
      return "warms-against";
    case geometry::ClaimKind::cools:
      return "cools-against";
  }
  return "";
}

Json names_json(const Run& run, const std::vector<int>& vents) {
  Json names = Json::array();
  for (const int vent : vents) names.push_back(run.content.device.vents[static_cast<std::size_t>(vent)].name);
  return names;
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
  if (claim.seen_in >= 0) json["seen_in"] = condition_name(run, claim.seen_in);
}

}  // namespace

Json claim_json(const Run& run, const study::ClaimResult& result) {
  const auto& claim = run.content.claims[static_cast<std::size_t>(result.claim)];
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

}  // namespace tuft::output
