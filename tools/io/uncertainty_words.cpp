// Beliefs in sentences.
#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/device/lists.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using experiment::Instrument;
using study::Behind;

std::string name_at(const geometry::Case& content, int condition) {
  return study::quoted(at(content.conditions, condition).name);
}

std::string number_text(Behind::Unit unit, double value) {
  if (unit == Behind::Unit::share) return percent_text(std::abs(value));
  if (unit == Behind::Unit::factor) return significant(value, 3);
  return unit == Behind::Unit::temperature ? temperature_text(value) : significant(value, 3, 1) + " K";
}

constexpr double kShownOdds = 0.005;  // less than half a percent is not told

// The role whose probability is that of the claim itself, or -1.
int role_of_claim(const geometry::Claim& claim) {
  return claim.kind == geometry::ClaimKind::role && claim.vents.size() == 1 ? static_cast<int>(claim.role)
                                                                            : -1;
}

// Whole percents of the roles, which add up to 100 where all are told: rounded down, then up where most was
// cut off. Of the role that is the claim's, the number that the sentence has.
std::array<int, 4> percents_of(const experiment::RoleOdds& odds, int fixed) {
  std::array<int, 4> percents{};
  std::vector<std::pair<double, std::size_t>> cut;
  int left = 100;
  for (std::size_t i = 0; i < percents.size(); ++i) {
    const double percent = 100.0 * odds.probability[i];
    const bool claimed = static_cast<int>(i) == fixed;
    percents[i] =
        claimed && percent > 0.0 ? whole_percent(odds.probability[i]) : static_cast<int>(std::floor(percent));
    left -= percents[i];
    if (!claimed && percent > 0.0) cut.emplace_back(percents[i] - percent, i);
  }
  std::sort(cut.begin(), cut.end());
  for (std::size_t k = 0; k < cut.size() && left > 0; ++k, --left) ++percents[cut[k].second];
  return percents;
}

// Samples that all say the same make a role no surer than how many they are: the words say no number then.
std::string odds_text(const geometry::Case& content, const experiment::RoleOdds& odds, int claimed,
                      bool sampled) {
  std::vector<std::string> words;
  const std::array<int, 4> percents = percents_of(odds, claimed);
  for (const auto role :
       {geometry::Role::intake, geometry::Role::exhaust, geometry::Role::both_ways, geometry::Role::idle}) {
    const double p = odds.probability[static_cast<std::size_t>(role)];
    if (p >= 1.0) {
      words.push_back(role_text(role) + (sampled ? " in all samples" : ""));
    } else if (p >= kShownOdds) {
      const int percent = std::clamp(percents[static_cast<std::size_t>(role)], 1, 99);
      words.push_back(role_text(role) + " " + std::to_string(percent) + " %");
    }
  }
  return vent_name(content, odds.vent) + ": " + listed(words);
}

const char* origin_word(const Uncertainty& uncertainty, const experiment::Influence& influence) {
  std::size_t assumed = 0;
  for (const int index : influence.inputs) {
    const study::Input& input = at(uncertainty.inputs, index);
    if (input.of_case < 0) return "model uncertainty";
    if (input.origin == geometry::Origin::assumed) ++assumed;
  }
  if (assumed == 0) return "given";
  return assumed == influence.inputs.size() ? "assumed" : "partly assumed";
}

constexpr double kMatters = 0.1;  // share of a claim's uncertainty from which an input is named (judgement)

// A plan of its own tells a share to the percent; the sample of the verdict only tells it roughly.
std::string share_words(double share, bool planned) {
  if (planned) return significant(100.0 * std::min(share, 1.0), 2, 0) + " %";
  const double tens = 10.0 * std::round(10.0 * share);
  return tens >= 100.0 ? "nearly all" : "about " + significant(tens, 2, 0) + " %";
}

// What the claim depends on, given or assumed alike; without that, how much was assumed.
std::string hangs_text(const Uncertainty& uncertainty, int claim) {
  for (const experiment::Sensitivity& entry : uncertainty.sensitivity.claims) {
    if (entry.claim != claim) continue;
    if (!entry.varies) return "It depends on no uncertain value.";
    std::vector<std::string> names;
    for (const auto& influence : entry.influences) {
      const double share = experiment::share_of(uncertainty.sensitivity, influence);
      if (share < kMatters) continue;
      const std::string percent =
          share_words(share, uncertainty.sensitivity.planned) + (names.empty() ? " of the uncertainty" : "");
      names.push_back(influence_name(uncertainty.inputs, influence) + " (" + percent +
                      (influence.rest ? ")" : std::string(", ") + origin_word(uncertainty, influence) + ")"));
    }
    if (names.empty()) return "No single value contributes a tenth of its uncertainty.";
    return "It depends most on " + listed(names) + ".";
  }
  const std::size_t assumed = count_assumed(uncertainty.inputs);
  if (assumed == 0) return "";
  return std::to_string(assumed) + " of the " + std::to_string(uncertainty.inputs.size()) +
         " uncertain values were assumed, not given.";
}

// All or none of the samples is no certainty: what the interval still leaves room for is said instead.
std::string how_likely(const Uncertainty& uncertainty, const uncertainty::Probability& probability) {
  if (uncertainty.inputs.empty())
    return std::string(probability.value > 0.5 ? "True" : "Not true") +
           " of the device as described, in which no value is uncertain";
  const std::string samples = " of " + std::to_string(uncertainty.samples) + " samples";
  if (probability.value >= 1.0 || probability.value <= 0.0)
    return std::string("True in ") + (probability.value > 0.5 ? "all" : "none") + samples +
           ", so the probability is " + probability_text(probability);
  const std::string value = probability_text(probability), interval = interval_text(probability.interval);
  const bool same = probability_with_interval(probability) == interval;
  return "True with a probability of " + (same ? interval : value + " (99 % interval " + interval + ")");
}

// No sample has a solution of what the claim speaks of, so there is no number to give.
std::string nothing_told(const geometry::Case& content, const Uncertainty& uncertainty,
                         const geometry::Claim& claim) {
  std::string where = name_at(content, claim.when);
  if (claim.against >= 0) where += " together with " + name_at(content, claim.against);
  return "No verdict is possible: none of " + std::to_string(uncertainty.samples) +
         " samples has a solution in " + where + ".";
}

}  // namespace

std::size_t count_assumed(const std::vector<study::Input>& inputs) {
  return static_cast<std::size_t>(std::count_if(inputs.begin(), inputs.end(), [](const auto& input) {
    return input.origin == geometry::Origin::assumed;
  }));
}

study::Verdict verdict_of(const experiment::ClaimProbability& claim) {
  using study::Verdict;
  return word_among(claim.verdict, {Verdict::holds, Verdict::fails, Verdict::undecided});
}

std::vector<std::string> assumed_that_matter(const Uncertainty& uncertainty) {
  constexpr std::size_t kMost = 3;
  std::vector<std::pair<double, std::string>> found;
  for (const experiment::Sensitivity& claim : uncertainty.sensitivity.claims) {
    for (const experiment::Influence& influence : claim.influences) {
      const double share = experiment::share_of(uncertainty.sensitivity, influence);
      if (influence.rest || share < kMatters || std::string(origin_word(uncertainty, influence)) != "assumed")
        continue;
      found.emplace_back(share, influence_name(uncertainty.inputs, influence));
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::string> names;
  for (const auto& [share, name] : found)
    if (names.size() < kMost && !geometry::contains(names, name)) names.push_back(name);
  return names;
}

std::string influence_name(const std::vector<study::Input>& inputs, const experiment::Influence& influence) {
  if (influence.rest) return "the other " + std::to_string(influence.inputs.size());
  return listed(each(influence.inputs, [&](int input) { return at(inputs, input).key; }));
}

std::string measurement_words(const geometry::Case& content, const std::vector<study::Input>& inputs,
                              const experiment::Measurement& measurement) {
  const geometry::Device& device = content.device;
  const experiment::Probe& probe = measurement.probe;
  const auto name = [](const auto& list, int index) { return at(list, index).name; };
  std::string where = measurement.condition < 0 ? "" : ", in " + name_at(content, measurement.condition);
  switch (probe.instrument) {
    case Instrument::tell_tale:
      return "strip at " + name(device.vents, probe.vent) + where;
    case Instrument::anemometer:
      return "anemometer at " + name(device.vents, probe.vent) + where;
    case Instrument::fan_speed:
      return "speed of fan " + name(device.fans, probe.place.index) + where;
    case Instrument::chip_sensor:
      return "sensor of " +
             (probe.place.kind == geometry::PlaceKind::source ? name(device.sources, probe.place.index)
                                                              : name(device.parts, probe.place.index)) +
             where;
    case Instrument::infrared:
      if (probe.spot) return "infrared at spot " + probe.spot->name + where;
      return "infrared at skin " + name(device.skins, probe.place.index) + where;
    case Instrument::thermocouple:
      if (probe.vent >= 0) return "air temperature at " + name(device.vents, probe.vent) + where;
      return "temperature of skin " + name(device.skins, probe.place.index) + where;
    case Instrument::ruler:
      return "ruler: " + at(inputs, measurement.input).key;
    case Instrument::hand:
      break;
  }
  return "hand at " + name(device.vents, probe.vent) + where;
}

std::string how_to(const experiment::Measurement& measurement) {
  switch (measurement.probe.instrument) {
    case Instrument::tell_tale:
      return "Hang a strip of tissue on a holder 20 mm before the vent, with its lower end in the air "
             "stream. Wait half a minute and note in, out or still. Keep away, breathe to the side, and keep "
             "loose things away from fans.";
    case Instrument::anemometer:
      return "Hold a hot-wire anemometer 20 mm before the middle of the vent and average over half a minute. "
             "Do not touch the grille, and put nothing into a fan.";
    case Instrument::fan_speed:
      return "Read the speed that the device itself reports, once it is steady in this condition.";
    case Instrument::chip_sensor:
      return "Read the sensor that the device itself reports, once it is steady in this condition.";
    case Instrument::infrared:
      return "Point an infrared thermometer at the spot from the distance in the case file, with nothing in "
             "between. Set its emissivity to that of the surface. Never measure through glass or on bare "
             "metal.";
    case Instrument::thermocouple:
      if (measurement.probe.vent >= 0)
        return "Hold a thin thermocouple 20 mm before the middle of the vent until its reading is steady, "
               "with its wires in the same air. Put nothing into a vent or a fan, and beware of hot air.";
      return "Tape a thermocouple to the middle of the patch and wait until its reading is steady. Beware of "
             "hot "
             "skin; "
             "do not open the chassis for it.";
    case Instrument::ruler:
      return "Switch the device off and unplug it. Measure with a ruler or callipers; for a free area, count "
             "the holes "
             "and measure a few of them.";
    case Instrument::hand:
      break;
  }
  return "Hold the palm before the vent. Beware of hot air.";
}

std::string probability_sentence(const geometry::Case& content, const Uncertainty& uncertainty,
                                 const experiment::ClaimProbability& probability) {
  const geometry::Claim& claim = at(content.claims, probability.claim);
  if (probability.unsolved >= 1.0) return nothing_told(content, uncertainty, claim);
  std::string text = how_likely(uncertainty, probability.probability);
  if (probability.odds.empty()) {
    text += std::string("; ") +
            word_among(probability.unit, {"share of the air", "factor", "temperature", "difference"}) + " " +
            number_text(probability.unit, probability.median) + ", nine in ten between " +
            number_text(probability.unit, probability.interval.low) + " and " +
            number_text(probability.unit, probability.interval.high);
    const std::string asked = study::asked_by(claim);
    if (!asked.empty()) text += "; claimed: " + asked;
  } else {
    text +=
        "; in " + name_at(content, claim.when) + " " + joined(each(probability.odds, [&](const auto& odds) {
          return odds_text(content, odds, role_of_claim(claim), !uncertainty.inputs.empty());
        }));
  }
  text += ".";
  if (!probability.settled) text += " More samples might change this verdict.";
  if (probability.unsolved > 0.0)
    text +=
        " " + probability_text(probability.unsolved) + " of the samples have no solution and are left out.";
  if (probability.evidence.condition >= 0) {
    const std::string there = name_at(content, probability.evidence.condition);
    text += " The evidence is from " + there + ", but the sentence is about " + name_at(content, claim.when) +
            ". In " + there + " it would be true with a probability of " +
            probability_text(probability.evidence.there) + "; the two agree with a probability of " +
            probability_text(probability.evidence.same) + ".";
  }
  if (uncertainty.inputs.empty()) return text;
  const std::string hangs = hangs_text(uncertainty, probability.claim);
  return hangs.empty() ? text : text + " " + hangs;
}

}  // namespace tuft::io
