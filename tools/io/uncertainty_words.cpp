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

std::string number_text(Behind::Unit unit, double value, UnitSystem units) {
  if (unit == Behind::Unit::share) return percent_text(std::abs(value));
  if (unit == Behind::Unit::factor) return significant(value, 3);
  if (unit == Behind::Unit::temperature) return temperature_text(value, units);
  const geometry::ShownUnit degree = geometry::temperature_unit(units);
  return significant(degree.of_difference(value), 3, 1) + " " + degree.name;
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
    if (input.kind() == study::InputKind::model) return "model uncertainty";
    if (input.origin == geometry::Origin::assumed) ++assumed;
  }
  if (assumed == 0) return "given";
  return assumed == influence.inputs.size() ? "assumed" : "partly assumed";
}

constexpr double kMatters = 0.1;  // share of a claim's uncertainty from which an input is named (judgement)

// Whole steps of parts that add up to `whole` of them: rounded down, then up where most was cut off.
std::vector<int> whole_steps(const std::vector<double>& parts, int whole) {
  std::vector<int> out;
  std::vector<std::pair<double, std::size_t>> cut;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    out.push_back(static_cast<int>(std::floor(parts[i] + 1e-9)));
    cut.emplace_back(out.back() - parts[i], i);
    whole -= out.back();
  }
  std::sort(cut.begin(), cut.end());
  for (std::size_t k = 0; k < cut.size() && whole > 0; ++k, --whole) ++out[cut[k].second];
  return out;
}

// Shares of a claim's uncertainty in steps of 5 %, or of 10 % where that would be more than is known, rounded
// together: those of values never add up to more than that of the kind they are of.
struct RoundedShares {
  int step = 5;                                 // [%]
  std::array<int, study::kInputKinds> kinds{};  // [steps]
  std::vector<int> values;                      // [steps] of each of UncertaintyShares::values
};

RoundedShares rounded(const experiment::UncertaintyShares& entry) {
  constexpr double kPrecise = 0.025;  // standard error up to which steps of 5 % are known (judgement)
  RoundedShares out;
  double sum = 0.0;
  for (const uncertainty::Share& share : entry.of) {
    if (share.error > kPrecise) out.step = 10;
    sum += share.first;
  }
  const double scale = 100.0 / out.step / std::max(1.0, sum);  // noise may feign more than all
  std::vector<double> kinds;
  for (const uncertainty::Share& share : entry.of) kinds.push_back(scale * share.first);
  const std::vector<int> steps = whole_steps(kinds, static_cast<int>(std::round(scale * sum)));
  out.values.assign(entry.values.size(), 0);
  for (std::size_t kind = 0; kind < study::kInputKinds; ++kind) {
    out.kinds[kind] = steps[kind];
    std::vector<double> parts;
    double rest = kinds[kind];
    for (const experiment::ValueShare& value : entry.values) {
      parts.push_back(scale * std::max(0.0, value.of[kind]));
      rest -= parts.back();
    }
    parts.push_back(std::max(0.0, rest));
    const std::vector<int> whole = whole_steps(parts, steps[kind]);
    for (std::size_t v = 0; v < out.values.size(); ++v) out.values[v] += whole[v];
  }
  return out;
}

std::string steps_text(const RoundedShares& rounded, int steps) {
  const int percent = rounded.step * steps;
  if (percent >= 100) return "nearly all";
  return (steps > 0 ? "about " + std::to_string(percent) : "under " + std::to_string(rounded.step)) + " %";
}

// What the claim depends on, given or assumed alike; without that, how much was assumed.
std::string hangs_text(const Uncertainty& uncertainty, int claim) {
  if (const experiment::UncertaintyShares* entry = shares_of(uncertainty, claim)) {
    if (!entry->varies) return "It depends on no uncertain value.";
    const RoundedShares steps = rounded(*entry);
    std::vector<std::string> names;
    for (std::size_t v = 0; v < entry->values.size(); ++v) {
      if (entry->values[v].share.first < kMatters) continue;
      experiment::Influence influence;
      influence.inputs = entry->values[v].inputs;
      names.push_back(influence_name(uncertainty.inputs, influence) + " (" +
                      steps_text(steps, steps.values[v]) + (names.empty() ? " of the uncertainty" : "") +
                      ", " + origin_word(uncertainty, influence) + ")");
    }
    if (names.empty()) return "No single value contributes a tenth of its uncertainty.";
    return "It depends most on " + listed(names) + ".";
  }
  const std::size_t assumed = count_assumed(uncertainty.inputs);
  if (assumed == 0) return "";
  return std::to_string(assumed) + " of the " + std::to_string(count_values(uncertainty.inputs)) +
         " uncertain values were assumed, not given.";
}

// What of the room would settle a claim that can't be told.
std::string room_text(const experiment::RoomDoubt& room) {
  if (room.settled_by == experiment::RoomSettles::nothing) return "";
  const bool holds = room.true_there > 0.5;
  const std::string so = std::string("there it is ") + (holds ? "" : "not ") + "true in " +
                         percent_text(holds ? room.true_there : 1.0 - room.true_there) + " of " +
                         std::to_string(room.samples) + " samples";
  switch (room.settled_by) {
    case experiment::RoomSettles::still_air:
      return "It can't be told mostly because the room's air is not known: still air would settle it (" + so +
             ").";
    case experiment::RoomSettles::level_support:
      return "It can't be told mostly because nobody knows how level the device stands: a level support "
             "would settle it (" +
             so + ").";
    case experiment::RoomSettles::both:
    case experiment::RoomSettles::nothing:
      break;
  }
  return "It can't be told mostly because neither the room's air nor how level the device stands is known: "
         "still air and a level support together would settle it (" +
         so + ").";
}

std::string how_to_read_room(experiment::Of of) {
  if (of == experiment::Of::tilt)
    return "Lay a spirit level, or a telephone that shows angles, on what the device stands on, along its "
           "width and along its depth.";
  const std::string how =
      " where the device will stand, with the device switched off and taken away, and step back for a minute";
  if (of == experiment::Of::draught_speed) return "Put a hot-wire anemometer" + how + ".";
  return "Hang a strip of tissue" + how + "; note the side it leans away from. Use no smoke near the device.";
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

// What the samples in which hardly any air passes are worth; nothing where there are none.
std::string stagnant_share(const experiment::ClaimProbability& probability) {
  if (probability.untold <= 0.0) return {};
  const std::string share =
      probability.untold >= 1.0 ? "all samples" : probability_text(probability.untold) + " of the samples";
  return "In " + share +
         " hardly any air passes: temperatures are upper bounds there, and flows tell nothing" +
         (probability.untold > experiment::kMostUnsolved ? ", so there is no verdict" : "") +
         ". By the network alone: ";
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

std::size_t count_values(const std::vector<study::Input>& inputs) {
  return static_cast<std::size_t>(std::count_if(inputs.begin(), inputs.end(), [](const auto& input) {
    return input.kind() != study::InputKind::model;
  }));
}

std::size_t count_assumed(const std::vector<study::Input>& inputs) {
  return static_cast<std::size_t>(std::count_if(inputs.begin(), inputs.end(), [](const auto& input) {
    return input.origin == geometry::Origin::assumed && input.kind() != study::InputKind::model;
  }));
}

std::string sample_words(const Uncertainty& uncertainty, bool in_short) {
  const std::size_t values = count_values(uncertainty.inputs);
  const std::size_t assumed = count_assumed(uncertainty.inputs);
  const std::size_t laws = uncertainty.inputs.size() - values;
  std::string text = counted(uncertainty.samples, "sample") + " of " + counted(values, "uncertain value");
  if (assumed > 0 && !in_short) text += " (" + std::to_string(assumed) + " of them assumed)";
  return text + (laws > 0 ? " and " + counted(laws, "factor") + " on the laws of the model"
                          : "; the laws of the model are taken as exact");
}

const experiment::UncertaintyShares* shares_of(const Uncertainty& uncertainty, int claim) {
  for (const experiment::UncertaintyShares& entry : uncertainty.shares)
    if (entry.claim == claim) return &entry;
  return nullptr;
}

std::string shares_sentence(const Uncertainty& uncertainty, int claim) {
  constexpr std::array<const char*, study::kInputKinds> kNames = {"the device", "the room", "the model"};
  constexpr double kWhole = 0.9;  // from which on nothing worth a word is left (judgement)
  const experiment::UncertaintyShares* entry = shares_of(uncertainty, claim);
  if (entry == nullptr || !entry->varies) return "";
  const RoundedShares steps = rounded(*entry);
  std::vector<std::string> parts;
  double told = 0.0;
  for (std::size_t kind = 0; kind < study::kInputKinds; ++kind) {
    const auto is = [kind](const study::Input& input) {
      return static_cast<std::size_t>(input.kind()) == kind;
    };
    if (std::none_of(uncertainty.inputs.begin(), uncertainty.inputs.end(), is)) continue;
    parts.push_back(std::string(kNames[kind]) + " (" + steps_text(steps, steps.kinds[kind]) + ")");
    told += entry->of[kind].first;
  }
  if (parts.size() < 2) return "";
  return "Its uncertainty comes from " + listed(parts) +
         (told < kWhole ? "; the rest, only from several values together." : ".");
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
      return word_among(measurement.of, {"ruler: ", "level: ", "anemometer beside the device: ",
                                         "hanging strip beside the device: "}) +
             at(inputs, measurement.input).key;
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
      if (measurement.of != experiment::Of::size) return how_to_read_room(measurement.of);
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
  std::string text = stagnant_share(probability) + how_likely(uncertainty, probability.probability);
  if (probability.odds.empty()) {
    text += std::string("; ") +
            word_among(probability.unit, {"share of the air", "factor", "temperature", "difference"}) + " " +
            number_text(probability.unit, probability.median, content.units) + ", nine in ten between " +
            number_text(probability.unit, probability.interval.low, content.units) + " and " +
            number_text(probability.unit, probability.interval.high, content.units);
    const std::string asked = study::asked_by(claim, content.units);
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
  const std::string room = room_text(probability.room);
  if (!room.empty()) text += " " + room;
  if (uncertainty.inputs.empty()) return text;
  for (const std::string& more :
       {hangs_text(uncertainty, probability.claim), shares_sentence(uncertainty, probability.claim)})
    if (!more.empty()) text += " " + more;
  return text;
}

}  // namespace tuft::io
