// Beliefs in results.json.
#include "solver/numerics/constants.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

Json interval_json(const uncertainty::Interval& interval) {
  return Json::array({plain(interval.low), plain(interval.high)});
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

Json claim_probability_json(const geometry::Case& content, const experiment::ClaimProbability& probability) {
  Json json;
  json["id"] = at(content.claims, probability.claim).id;
  json["verdict"] = verdict_word(verdict_of(probability));
  // Where no sample has a solution there are no numbers.
  const bool known = probability.unsolved < 1.0;
  const auto number = [known](Json value) { return known ? std::move(value) : Json(); };
  json["probability"] = number(probability.probability.value);
  json["standard_error"] = number(probability.probability.standard_error);
  json["probability_interval"] = number(interval_json(probability.probability.interval));
  json["settled"] = probability.settled;
  json["left_to_field"] = probability.left_to_field;
  json["unit"] = word_among(probability.unit, {"share of the through-flow", "factor", "K", "K, difference"});
  json["median"] = number(probability.median + 0.0);
  json["interval"] = number(interval_json(probability.interval));
  json["roles"] = list_json(probability.odds, [&](const auto& odds) { return odds_json(content, odds); });
  json["evidence"] = nullptr;
  if (probability.evidence.condition >= 0)
    json["evidence"] = {{"condition", at(content.conditions, probability.evidence.condition).name},
                        {"probability_there", probability.evidence.there},
                        {"same_here", probability.evidence.same}};
  json["room"] = nullptr;
  if (probability.room.settled_by != experiment::RoomSettles::nothing)
    json["room"] = {{"settled_by", geometry::word_of(probability.room.settled_by)},
                    {"true_there", probability.room.true_there},
                    {"samples", probability.room.samples}};
  json["unsolved"] = probability.unsolved;
  json["untold"] = probability.untold;
  return json;
}

Json influence_json(const Uncertainty& uncertainty, const experiment::Influence& influence) {
  const bool planned = uncertainty.sensitivity.planned;
  return {
      {"inputs", list_json(influence.inputs, [&](int input) { return at(uncertainty.inputs, input).key; })},
      {"rest", influence.rest},
      {"first", influence.index.first},
      {"first_interval", interval_json(influence.index.first_interval)},
      {"total", planned ? Json(influence.index.total) : Json()},
      {"total_interval", planned ? interval_json(influence.index.total_interval) : Json()}};
}

Json input_json(const study::Input& input) {
  return {{"key", input.key},
          {"about", geometry::word_of(input.kind())},
          {"assumed", input.origin == geometry::Origin::assumed},
          {"nominal", input.prior.nominal + 0.0},
          {"low", input.prior.low + 0.0},
          {"high", input.prior.high + 0.0}};
}

// Shares in the variance of a claim's margin, with their 95 % intervals.
Json shares_json(const Uncertainty& uncertainty, int claim) {
  const experiment::UncertaintyShares* shares = shares_of(uncertainty, claim);
  if (shares == nullptr) return nullptr;
  Json json = Json::object();
  for (std::size_t kind = 0; kind < study::kInputKinds; ++kind) {
    const uncertainty::Share& share = shares->of[kind];
    const double half = numerics::kDeviations95 * share.error;
    json[geometry::word_of(static_cast<study::InputKind>(kind))] = {
        {"share", share.first}, {"interval", interval_json({share.first - half, share.first + half})}};
  }
  return json;
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

Json suggestion_json(const Run& run, const Uncertainty& uncertainty,
                     const experiment::Suggestion& suggestion) {
  Json drops = Json::object();
  for (std::size_t c = 0; c < suggestion.gain.size(); ++c)
    drops[at(run.content.claims, uncertainty.questions.claims[c]).id] = suggestion.gain[c];
  return {{"what", measurement_words(run.content, uncertainty.inputs, suggestion.measurement)},
          {"information_gain_bit", suggestion.total},
          {"information_gain_by_claim_bit", drops},
          {"how", how_to(suggestion.measurement)}};
}

}  // namespace

Json uncertainty_json(const Run& run, const Uncertainty& uncertainty) {
  Json part;
  part["samples"] = uncertainty.samples;
  part["replicates"] = uncertainty.replicates;
  part["seed"] = uncertainty.seed;
  part["settled"] = uncertainty.settled;
  part["model"] = uncertainty.model;
  part["model_conditions"] =
      list_json(uncertainty.model_conditions, [&](int condition) { return condition_name(run, condition); });
  part["inputs"] = list_json(uncertainty.inputs, input_json);
  part["conditions"] =
      list_json(uncertainty.conditions, [&](const auto& ranges) { return ranges_json(run.content, ranges); });
  part["sensitivity_method"] = uncertainty.sensitivity.planned ? "plan" : "sample";
  part["claims"] = list_json(uncertainty.claims, [&](const auto& probability) {
    Json entry = claim_probability_json(run.content, probability);
    entry["sentence"] = probability_sentence(run.content, uncertainty, probability);
    entry["uncertainty_from"] = shares_json(uncertainty, probability.claim);
    entry["sensitivity"] = Json::array();
    for (const auto& claim : uncertainty.sensitivity.claims) {
      if (claim.claim != probability.claim) continue;
      for (const auto& influence : claim.influences)
        entry["sensitivity"].push_back(influence_json(uncertainty, influence));
    }
    return entry;
  });
  part["index_runs"] = uncertainty.sensitivity.runs;
  part["index_runs_unsolved"] = uncertainty.sensitivity.unsolved;
  part["inputs_fixed"] = uncertainty.sensitivity.held;
  part["measurements"] = list_json(uncertainty.suggestions, [&](const auto& suggestion) {
    return suggestion_json(run, uncertainty, suggestion);
  });
  return part;
}

std::string study_json(const Run& run, const Uncertainty& uncertainty, const Contents& contents) {
  Json json = results_head(run, contents);
  json["claims"] = list_json(run.claims, [&](const auto& claim) { return claim_json(run, claim); });
  json["uncertainty"] = uncertainty_json(run, uncertainty);
  return json_text(json);
}

std::string learned_json(const Run& run, const experiment::Learned& learned, const LearnWords& words,
                         const Contents& contents) {
  const std::vector<std::string>& observations = words.observations;
  Json json = results_head(run, contents);
  Json part;
  part["samples"] = learned.samples;
  part["effective_at_once"] = learned.effective_at_once;
  part["effective"] = learned.effective;
  part["refined_rounds"] = learned.rounds;
  part["thin"] = learned.thin;
  part["reliable"] = learned.reliable;
  part["contradictions"] =
      list_json(learned.contradictions, [&](const auto& found) { return contradiction_json(found, words); });
  const auto probabilities = [&](const std::vector<experiment::ClaimProbability>& list) {
    return list_json(
        list, [&](const auto& probability) { return claim_probability_json(run.content, probability); });
  };
  part["before"] = probabilities(learned.before);
  part["after"] = probabilities(learned.after);
  part["inputs"] = list_json(learned.probabilities, [&](const auto& probability) {
    Json entry = input_json(at(learned.inputs, probability.input));
    entry["before_interval"] = interval_json(probability.before_interval);
    entry["after_interval"] = interval_json(probability.after_interval);
    entry["after_mean"] = probability.after.mean + 0.0;
    entry["moved"] = probability.moved;
    return entry;
  });
  part["observations"] = Json::array();
  for (std::size_t j = 0; j < observations.size(); ++j) {
    const experiment::PredictiveCheck& check = learned.predictive_checks[j];
    Json entry = {{"what", observations[j]},
                  {"expected", check.expected + 0.0},
                  {"expected_interval", interval_json(check.interval)},
                  {"tail", check.tail.two_sided},
                  {"lapse_probability", check.lapse},
                  {"conflicts_with_model", check.conflicts_with_model}};
    if (check.conflicts_with_model) entry["why"] = predictive_check_sentence(learned, j, observations[j]);
    part["observations"].push_back(std::move(entry));
  }
  part["correlations"] = list_json(learned.correlations, [&](const auto& tie) -> Json {
    return {{"inputs", Json::array({at(learned.inputs, tie.first).key, at(learned.inputs, tie.second).key})},
            {"correlation", tie.correlation}};
  });
  json["learned"] = std::move(part);
  return json_text(json);
}

}  // namespace tuft::io
