// Beliefs in results.json.
#include "tools/io/doubt.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

Json interval_json(const uncertainty::Interval& interval) {
  return Json::array({plain(interval.low), plain(interval.high)});
}

const char* unit_word(study::Behind::Unit unit) {
  return word_among(unit, {"share of the through-flow", "factor", "K", "K, difference"});
}

Json odds_json(const geometry::Case& content, const experiment::RoleOdds& odds) {
  Json json;
  json["vent"] = vent_name(content, odds.vent);
  for (const auto role :
       {geometry::Role::intake, geometry::Role::exhaust, geometry::Role::both_ways, geometry::Role::idle})
    json[geometry::role_word(role)] = odds.probability[static_cast<std::size_t>(role)];
  json["net_share_median"] = odds.flow + 0.0;
  return json;
}

Json belief_json(const geometry::Case& content, const experiment::ClaimBelief& belief) {
  Json json;
  json["id"] = at(content.claims, belief.claim).id;
  json["verdict"] = verdict_word(verdict_of(belief));
  // Where no sample has a solution there are no numbers.
  const bool known = belief.unsolved < 1.0;
  const auto number = [known](Json value) { return known ? std::move(value) : Json(); };
  json["probability"] = number(belief.probability.value);
  json["standard_error"] = number(belief.probability.standard_error);
  json["probability_interval"] = number(interval_json(belief.probability.interval));
  json["settled"] = belief.settled;
  json["unit"] = unit_word(belief.unit);
  json["median"] = number(belief.median + 0.0);
  json["interval"] = number(interval_json(belief.interval));
  json["roles"] = list_json(belief.odds, [&](const auto& odds) { return odds_json(content, odds); });
  json["evidence"] = nullptr;
  if (belief.evidence.condition >= 0) {
    json["evidence"] = {{"condition", at(content.conditions, belief.evidence.condition).name},
                        {"probability_there", belief.evidence.there},
                        {"same_here", belief.evidence.same}};
  }
  json["unsolved"] = belief.unsolved;
  return json;
}

Json influence_json(const Doubt& doubt, const experiment::Influence& influence) {
  const bool planned = doubt.hangs_on.planned;
  return {{"inputs", list_json(influence.inputs, [&](int input) { return at(doubt.inputs, input).key; })},
          {"rest", influence.rest},
          {"first", influence.index.first},
          {"first_interval", interval_json(influence.index.first_interval)},
          {"total", planned ? Json(influence.index.total) : Json()},
          {"total_interval", planned ? interval_json(influence.index.total_interval) : Json()}};
}

Json input_json(const study::Input& input) {
  return {{"key", input.key},
          {"assumed", input.origin == geometry::Origin::assumed},
          {"nominal", input.prior.nominal + 0.0},
          {"low", input.prior.low + 0.0},
          {"high", input.prior.high + 0.0}};
}

Json ranges_json(const geometry::Case& content, const experiment::ConditionRanges& ranges) {
  Json json;
  json["condition"] = at(content.conditions, ranges.condition).name;
  json["unsolved"] = ranges.unsolved;
  json["vents"] = list_json(ranges.vents, [&](const auto& vent) {
    Json entry = odds_json(content, vent.odds);
    entry["net_in_median_kg_s"] = plain(vent.net_median);
    entry["net_in_interval_kg_s"] = interval_json(vent.net);
    return entry;
  });
  return json;
}

Json contradiction_json(const experiment::Contradiction& found, const LearnWords& words) {
  const auto name = [&](int index) { return at(words.observations, index); };
  return {{"what", name(found.observation)},
          {"against", found.against < 0 ? Json() : Json(name(found.against))},
          {"expected", plain(found.expected)},
          {"expected_interval", interval_json(found.interval)},
          {"tail", found.tail},
          {"sentence", contradiction_sentence(found, words)}};
}

Json suggestion_json(const Run& run, const Doubt& doubt, const experiment::Suggestion& suggestion) {
  Json drops = Json::object();
  for (std::size_t c = 0; c < suggestion.drop.size(); ++c)
    drops[at(run.content.claims, doubt.questions.claims[c]).id] = suggestion.drop[c];
  return {{"what", measurement_words(run.content, doubt.inputs, suggestion.measurement)},
          {"drop_bit", suggestion.total},
          {"drop_by_claim_bit", drops},
          {"how", how_to(suggestion.measurement)}};
}

}  // namespace

Json doubt_json(const Run& run, const Doubt& doubt) {
  Json part;
  part["samples"] = doubt.samples;
  part["replicates"] = doubt.replicates;
  part["seed"] = doubt.seed;
  part["settled"] = doubt.settled;
  part["model"] = doubt.model;
  part["model_conditions"] =
      list_json(doubt.model_conditions, [&](int condition) { return condition_name(run, condition); });
  part["inputs"] = list_json(doubt.inputs, input_json);
  part["conditions"] =
      list_json(doubt.conditions, [&](const auto& ranges) { return ranges_json(run.content, ranges); });
  part["hangs_on_from"] = doubt.hangs_on.planned ? "plan" : "sample";
  part["claims"] = list_json(doubt.claims, [&](const auto& belief) {
    Json entry = belief_json(run.content, belief);
    entry["sentence"] = belief_sentence(run.content, doubt, belief);
    entry["hangs_on"] = Json::array();
    for (const auto& claim : doubt.hangs_on.claims) {
      if (claim.claim != belief.claim) continue;
      for (const auto& influence : claim.influences)
        entry["hangs_on"].push_back(influence_json(doubt, influence));
    }
    return entry;
  });
  part["index_runs"] = doubt.hangs_on.runs;
  part["index_runs_unsolved"] = doubt.hangs_on.unsolved;
  part["inputs_held"] = doubt.hangs_on.held;
  part["measure_next"] = list_json(
      doubt.suggestions, [&](const auto& suggestion) { return suggestion_json(run, doubt, suggestion); });
  return part;
}

std::string study_json(const Run& run, const Doubt& doubt, const std::vector<std::string>& files) {
  Json json = results_head(run, files);
  json["claims"] = list_json(run.claims, [&](const auto& claim) { return claim_json(run, claim); });
  json["doubt"] = doubt_json(run, doubt);
  return json_text(json);
}

std::string learned_json(const Run& run, const experiment::Learned& learned, const LearnWords& words,
                         const std::vector<std::string>& files) {
  const std::vector<std::string>& observations = words.observations;
  Json json = results_head(run, files);
  Json part;
  part["samples"] = learned.samples;
  part["effective_at_once"] = learned.effective_at_once;
  part["effective"] = learned.effective;
  part["refined_rounds"] = learned.rounds;
  part["thin"] = learned.thin;
  part["reliable"] = learned.reliable;
  part["contradictions"] =
      list_json(learned.contradictions, [&](const auto& found) { return contradiction_json(found, words); });
  const auto beliefs = [&](const std::vector<experiment::ClaimBelief>& list) {
    return list_json(list, [&](const auto& belief) { return belief_json(run.content, belief); });
  };
  part["before"] = beliefs(learned.before);
  part["after"] = beliefs(learned.after);
  part["inputs"] = list_json(learned.beliefs, [&](const auto& belief) {
    Json entry = input_json(at(learned.inputs, belief.input));
    entry["before_interval"] = interval_json(belief.before_interval);
    entry["after_interval"] = interval_json(belief.after_interval);
    entry["after_mean"] = belief.after.mean + 0.0;
    entry["moved"] = belief.moved;
    return entry;
  });
  part["observations"] = Json::array();
  for (std::size_t j = 0; j < observations.size(); ++j) {
    const experiment::Surprise& surprise = learned.surprises[j];
    Json entry = {{"what", observations[j]},
                  {"expected", surprise.expected + 0.0},
                  {"expected_interval", interval_json(surprise.interval)},
                  {"tail", surprise.tail.two_sided},
                  {"lapse", surprise.lapse},
                  {"unexplained", surprise.unexplained}};
    if (surprise.unexplained) entry["why"] = surprise_sentence(learned, j, observations[j]);
    part["observations"].push_back(std::move(entry));
  }
  part["together"] = list_json(learned.ties, [&](const auto& tie) -> Json {
    return {{"inputs", Json::array({at(learned.inputs, tie.first).key, at(learned.inputs, tie.second).key})},
            {"correlation", tie.correlation}};
  });
  json["learned"] = std::move(part);
  return json_text(json);
}

}  // namespace tuft::io
