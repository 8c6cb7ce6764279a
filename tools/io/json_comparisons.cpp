// What changes between two conditions, in results.json.
#include <algorithm>

#include "solver/study/predict.hpp"
#include "tools/io/json_parts.hpp"

namespace tuft::output {
namespace {

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
  return run.content.conditions[static_cast<std::size_t>(result.condition)];
}

SupportKind support_of(const Run& run, const geometry::Condition& condition) {
  return run.content.supports[static_cast<std::size_t>(condition.support)].kind;
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
    const geometry::Claim& claim = run.content.claims[static_cast<std::size_t>(result.claim)];
    if (claim.against < 0) continue;
    const ConditionResult *from = solved(run, claim.against), *to = solved(run, claim.when);
    if (from != nullptr && to != nullptr) pairs.push_back({"claim", claim.id, from, to});
  }
}

Json change_json(const Run& run, const study::VentChange& change) {
  return {{"vent", run.content.device.vents[static_cast<std::size_t>(change.vent)].name},
          {"role_from", geometry::role_word(change.from)},
          {"role_to", geometry::role_word(change.to)},
          {"inflow_from_kg_s", plain(change.inflow_from)},
          {"inflow_to_kg_s", plain(change.inflow_to)},
          {"outflow_from_kg_s", plain(change.outflow_from)},
          {"outflow_to_kg_s", plain(change.outflow_to)},
          {"role_changes", change.role_changes},
          {"size_changes", change.size_changes},
          {"because", change.because}};
}

}  // namespace

Json comparisons_json(const Run& run) {
  std::vector<Pair> pairs;
  add_soft(run, pairs);
  add_claimed(run, pairs);
  Json list = Json::array();
  for (const Pair& pair : pairs) {
    Json entry = {
        {"kind", pair.kind}, {"claim", pair.claim}, {"from", pair.from->name}, {"to", pair.to->name}};
    entry["changes"] = Json::array();
    for (const auto& change : study::compare(run.content, *pair.from, *pair.to))
      entry["changes"].push_back(change_json(run, change));
    list.push_back(std::move(entry));
  }
  return list;
}

}  // namespace tuft::output
