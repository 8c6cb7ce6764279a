#include "solver/experiment/verdicts.hpp"

#include <algorithm>
#include <set>

#include "solver/uncertainty/weights.hpp"

namespace tuft::experiment {

int place_of(const Questions& questions, int condition) {
  const auto& all = questions.conditions;
  const auto found = std::lower_bound(all.begin(), all.end(), condition);
  return found == all.end() || *found != condition ? -1 : static_cast<int>(found - all.begin());
}

Questions questions_of(const geometry::Case& content, const std::vector<int>& claims,
                       const std::vector<int>& also) {
  Questions out;
  std::set<int> needed(also.begin(), also.end());
  for (const int index : claims) {
    const geometry::Claim& claim = content.claims[index];
    for (const int condition : geometry::conditions_of(claim)) needed.insert(condition);
    if (claim.seen_in >= 0) needed.insert(claim.seen_in);
  }
  out.claims = claims;
  out.conditions.assign(needed.begin(), needed.end());
  for (const int index : claims) {
    geometry::Claim claim = content.claims[index];
    claim.when = place_of(out, claim.when);
    if (claim.against >= 0) claim.against = place_of(out, claim.against);
    if (claim.seen_in >= 0) claim.seen_in = place_of(out, claim.seen_in);
    out.placed.push_back(std::move(claim));
  }
  return out;
}

std::vector<double> truths(const geometry::Case& content, const Questions& questions,
                           const std::vector<study::StateSummary>& views) {
  std::vector<double> out;
  out.reserve(questions.placed.size());
  for (const geometry::Claim& claim : questions.placed)
    out.push_back(study::is_true(content, claim, views) ? 1.0 : 0.0);
  return out;
}

namespace {

using geometry::Claim;
using geometry::Role;

// One number of every sample that counts, 0 of the others.
template <typename Of>
std::vector<double> numbers(const Sample& sample, const Of& of) {
  std::vector<double> out(sample.views.size(), 0.0);
  for (std::size_t i = 0; i < out.size(); ++i)
    if (sample.weights[i] > 0.0) out[i] = of(sample.views[i]);
  return out;
}

double mean(const Sample& sample, const std::vector<double>& event) {
  double sum = 0.0, total = 0.0;
  for (std::size_t i = 0; i < event.size(); ++i) {
    sum += sample.weights[i] * event[i];
    total += sample.weights[i];
  }
  return total > 0.0 ? sum / total : 0.0;
}

// Weights of a sample for one claim: what it does not speak of may be without a solution.
std::vector<double> weights_for(const Sample& sample, const Claim& claim) {
  std::vector<double> out = sample.weights;
  for (std::size_t i = 0; i < out.size(); ++i)
    if (!study::is_solved(claim, sample.views[i])) out[i] = 0.0;
  return out;
}

double unsolved_share(const Sample& sample, const Claim& claim) {
  const auto none = std::count_if(sample.views.begin(), sample.views.end(),
                                  [&](const auto& views) { return !study::is_solved(claim, views); });
  return static_cast<double>(none) / static_cast<double>(std::max<std::size_t>(1, sample.views.size()));
}

// Share of the samples, by weight, that can't tell the claim.
double untold_share(const geometry::Case& content, const Sample& sample, const Claim& claim) {
  return mean(sample, numbers(sample, [&](const auto& views) {
                return study::can_be_told(content, claim, views) ? 0.0 : 1.0;
              }));
}

bool any_counts(const std::vector<double>& weights) {
  return std::any_of(weights.begin(), weights.end(), [](double w) { return w > 0.0; });
}

Evidence evidence_of(const geometry::Case& content, const Questions& questions, const Claim& claim,
                     const Sample& whole, const std::vector<double>& here) {
  Evidence out;
  if (claim.seen_in < 0 || claim.seen_in == claim.when || claim.seen_in == claim.against) return out;
  Claim seen = claim;
  seen.when = claim.seen_in;
  const std::vector<double> weights = weights_for(whole, seen);
  if (!any_counts(weights)) return out;
  const Sample sample{whole.views, weights, whole.replicates};
  const auto there =
      numbers(sample, [&](const auto& views) { return study::is_true(content, seen, views) ? 1.0 : 0.0; });
  std::vector<double> same(here.size());
  for (std::size_t i = 0; i < here.size(); ++i) same[i] = here[i] == there[i] ? 1.0 : 0.0;
  out.condition = questions.conditions[claim.seen_in];
  out.there = mean(sample, there);
  out.same = mean(sample, same);
  return out;
}

VentRange range_of(const Sample& sample, std::size_t place, int vent) {
  VentRange out;
  out.odds = role_odds(sample, static_cast<int>(place), vent);
  const auto net = numbers(sample, [&](const auto& views) {
    const study::VentSummary& view = views[place].vents[vent];
    return view.inflow - view.outflow;
  });
  out.net_median = uncertainty::quantiles(net, {0.5}, sample.weights)[0];
  out.net = uncertainty::central_interval(net, kShownLevel, sample.weights);
  return out;
}

}  // namespace

RoleOdds role_odds(const Sample& sample, int place, int vent) {
  RoleOdds out;
  out.vent = vent;
  for (const Role role : {Role::intake, Role::exhaust, Role::both_ways, Role::idle}) {
    const auto is =
        numbers(sample, [&](const auto& views) { return views[place].vents[vent].role == role ? 1.0 : 0.0; });
    out.probability[static_cast<std::size_t>(role)] = mean(sample, is);
  }
  const auto net = numbers(sample, [&](const auto& views) {
    const study::StateSummary& view = views[place];
    return view.through_flow > 0.0 ? (view.vents[vent].inflow - view.vents[vent].outflow) / view.through_flow
                                   : 0.0;
  });
  out.flow = uncertainty::quantiles(net, {0.5}, sample.weights)[0];
  return out;
}

std::vector<ClaimProbability> probabilities(const geometry::Case& content, const Questions& questions,
                                            const Sample& all, const uncertainty::VerdictRule& rule) {
  std::vector<ClaimProbability> out;
  for (std::size_t c = 0; c < questions.placed.size(); ++c) {
    const Claim& claim = questions.placed[c];
    const std::vector<double> weights = weights_for(all, claim);
    const Sample sample{all.views, weights, all.replicates};
    const double unsolved = unsolved_share(all, claim);
    ClaimProbability probability;
    probability.claim = questions.claims[c];
    probability.unsolved = unsolved;
    probability.probability.value = 0.5;
    probability.probability.interval = {0.0, 1.0};
    if (!any_counts(weights)) {
      out.push_back(probability);
      continue;
    }
    const auto event =
        numbers(sample, [&](const auto& views) { return study::is_true(content, claim, views) ? 1.0 : 0.0; });
    probability.probability =
        uncertainty::probability(uncertainty::count_replicates(event, sample.replicates, sample.weights));
    probability.untold = untold_share(content, sample, claim);
    const bool told = unsolved <= kMostUnsolved && probability.untold <= kMostUnsolved;
    probability.verdict =
        told ? uncertainty::verdict(probability.probability, rule) : uncertainty::Verdict::undecided;
    // More samples would not let air pass.
    probability.settled =
        probability.untold > kMostUnsolved || (told && uncertainty::settled(probability.probability, rule));
    study::Behind::Unit unit = study::Behind::Unit::share;
    const auto values = numbers(sample, [&](const auto& views) {
      const study::Behind number = study::behind(content, claim, views);
      unit = number.unit;
      return number.value;
    });
    probability.unit = unit;
    probability.median = uncertainty::quantiles(values, {0.5}, sample.weights)[0];
    probability.interval = uncertainty::central_interval(values, kShownLevel, sample.weights);
    if (study::is_about_roles(claim.kind))
      for (const int vent : claim.vents) probability.odds.push_back(role_odds(sample, claim.when, vent));
    probability.evidence = evidence_of(content, questions, claim, sample, event);
    out.push_back(std::move(probability));
  }
  return out;
}

std::vector<ConditionRanges> ranges(const geometry::Case& content, const Questions& questions,
                                    const Sample& all) {
  std::vector<ConditionRanges> out;
  for (std::size_t place = 0; place < questions.conditions.size(); ++place) {
    ConditionRanges here;
    here.condition = questions.conditions[place];
    std::vector<double> weights = all.weights;
    double none = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
      if (all.views[i][place].solved) continue;
      weights[i] = 0.0;
      none += 1.0;
    }
    here.unsolved = none / static_cast<double>(std::max<std::size_t>(1, weights.size()));
    if (any_counts(weights)) {
      const Sample sample{all.views, weights, all.replicates};
      here.vents.resize(content.device.vents.size());
      uncertainty::for_each_piece(static_cast<long>(here.vents.size()), [&](long vent) {
        here.vents[vent] = range_of(sample, place, static_cast<int>(vent));
      });
    }
    out.push_back(std::move(here));
  }
  return out;
}

}  // namespace tuft::experiment
