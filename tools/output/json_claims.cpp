// Claims in results.json.
#include <cmath>

#include "solver/study/claim_words.hpp"
#include "tools/output/json_parts.hpp"
#include "tools/output/words.hpp"

namespace tuft::output {
namespace {

using geometry::Claim;
using geometry::ClaimKind;

const char* kind_word(ClaimKind kind) {
  switch (kind) {
    case ClaimKind::role:
      return "role";
    case ClaimKind::draws_more:
      return "draws-more-than";
    case ClaimKind::gives_more:
      return "gives-more-than";
    case ClaimKind::share:
      return "share";
    case ClaimKind::changes_role:
      return "changes-role-against";
    case ClaimKind::none_has_role:
      return "none";
    case ClaimKind::none_breathes:
      return "none-breathes";
    case ClaimKind::reverses:
      return "reverses-against";
    case ClaimKind::flow_falls:
      return "flow-falls-against";
    case ClaimKind::flow_rises:
      return "flow-rises-against";
    case ClaimKind::temperature:
      return "temperature";
    case ClaimKind::warms:
      return "warms-against";
    case ClaimKind::cools:
      return "cools-against";
  }
  return "";
}

Json names_json(const Run& run, const std::vector<int>& vents) {
  Json names = Json::array();
  for (const int vent : vents) names.push_back(run.content.device.vents[static_cast<std::size_t>(vent)].name);
  return names;
}

const std::string& condition_name(const Run& run, int condition) {
  return run.content.conditions[static_cast<std::size_t>(condition)].name;
}

Json kelvin_or_null(double value) { return value > 0.0 && std::isfinite(value) ? Json(value) : Json(); }

// What the claim states, with the keys of its kind only.
void add_statement(Json& json, const Run& run, const Claim& claim) {
  const auto against = [&] { json["against"] = condition_name(run, claim.against); };
  switch (claim.kind) {
    case ClaimKind::role:
      json["role"] = geometry::role_word(claim.role);
      json["any"] = claim.any;
      break;
    case ClaimKind::none_has_role:
      json["role"] = geometry::role_word(claim.role);
      break;
    case ClaimKind::none_breathes:
      json["breathes"] = claim.role == geometry::Role::intake ? "in" : "out";
      break;
    case ClaimKind::draws_more:
    case ClaimKind::gives_more:
      json["than"] = names_json(run, claim.than);
      json["by"] = claim.factor + 0.0;
      break;
    case ClaimKind::share:
      json["low"] = claim.low + 0.0;
      json["high"] = claim.high + 0.0;
      break;
    case ClaimKind::changes_role:
    case ClaimKind::reverses:
      against();
      if (claim.any) json["any"] = true;
      break;
    case ClaimKind::flow_falls:
    case ClaimKind::flow_rises:
      against();
      json["by_share"] = claim.by + 0.0;
      break;
    case ClaimKind::temperature:
      json["low_K"] = kelvin_or_null(claim.low);
      json["high_K"] = kelvin_or_null(claim.high);
      break;
    case ClaimKind::warms:
    case ClaimKind::cools:
      against();
      json["by_K"] = claim.by + 0.0;
      break;
  }
}

}  // namespace

Json claim_json(const Run& run, const study::ClaimResult& result) {
  const Claim& claim = run.content.claims[static_cast<std::size_t>(result.claim)];
  Json json;
  json["id"] = claim.id;
  json["say"] = claim.say;
  json["kind"] = kind_word(claim.kind);
  json["vents"] = names_json(run, claim.vents);
  if (geometry::is_about_heat(claim.kind)) json["of"] = study::name_of(run.content.device, claim.of);
  add_statement(json, run, claim);
  json["when"] = condition_name(run, claim.when);
  if (claim.seen_in >= 0) json["seen_in"] = condition_name(run, claim.seen_in);
  json["verdict"] = verdict_word(result.verdict);
  json["because"] = result.because;
  return json;
}

}  // namespace tuft::output
