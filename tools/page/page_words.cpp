#include "tools/page/page_words.hpp"

#include <fmt/format.h>

#include <optional>

#include "tools/figure/marks.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/words.hpp"

namespace tuft::page {
namespace {

using Json = nlohmann::ordered_json;

const Json* find_named(const Json& list, const char* key, const std::string& name) {
  if (!list.is_array()) return nullptr;
  for (const Json& entry : list)
    if (entry.is_object() && entry.value(key, "") == name) return &entry;
  return nullptr;
}

constexpr const char* kUnsureHere =
    "The network alone was asked, and it is unsure here; tuft check asks the field too and gives the "
    "verdict. ";

std::string verdict_text(const std::string& word) {
  if (word == "holds") return "holds";
  if (word == "fails") return "does not hold";
  return "undecided";
}

// Of the values as written alone: what they make of the claim is no verdict.
std::string written_text(const std::string& word) {
  if (word == "holds") return "true as written";
  if (word == "fails") return "not true as written";
  return "left open as written";
}

// What the section on uncertainty says of a claim; null without one.
const Json* entropy_of(const Json& results, const std::string& id) {
  if (!results.contains("uncertainty") || !results["uncertainty"].is_object()) return nullptr;
  const Json& uncertainty = results["uncertainty"];
  if (!uncertainty.contains("claims")) return nullptr;
  const Json* found = find_named(uncertainty["claims"], "id", id);
  return found != nullptr && found->contains("probability") && (*found)["probability"].is_number() ? found
                                                                                                   : nullptr;
}

// Two numbers that bound what samples tell; none where there are no such two.
std::optional<uncertainty::Interval> interval_of(const Json& entry) {
  const Json interval = entry.value("probability_interval", Json());
  if (!interval.is_array() || interval.size() != 2 || !interval[0].is_number() || !interval[1].is_number())
    return std::nullopt;
  return uncertainty::Interval{interval[0].get<double>(), interval[1].get<double>()};
}

std::string probability_of(double value, const std::optional<uncertainty::Interval>& interval) {
  if (!interval) return io::probability_text(value);
  uncertainty::Probability probability;
  probability.value = value;
  probability.interval = *interval;
  return io::probability_text(probability);
}

// Where every sample says the same, the interval's inner end: samples never make certain.
std::string sure_text(const Json* uncertainty) {
  if (uncertainty == nullptr) return "nominal values only";
  const double value = (*uncertainty)["probability"];
  const std::optional<uncertainty::Interval> interval = interval_of(*uncertainty);
  if (interval && interval->low == interval->high) return "with no uncertain value";
  const std::string text = "with a probability of " + probability_of(value, interval);
  if (!interval) return text;
  if (value >= 1.0) return text + ", true in all samples";
  if (value <= 0.0) return text + ", true in no sample";
  return text + ", 99 % interval " + io::interval_text(*interval);
}

std::string sentence(std::string text) {
  if (text.empty()) return text;
  // Names stay as they are written; a sentence that begins with "in bench:" begins with a capital here.
  if (text.compare(0, 3, "in ") == 0) text[0] = 'I';
  if (text.back() != '.' && text.back() != '!' && text.back() != '?') text += '.';
  return text;
}

// The numbers behind the verdict: with the values as written, and over all that the inputs allow.
std::string reasons(const Json& claim, const Json* uncertainty) {
  const std::string because = claim.value("because", "");
  const std::string sampled = uncertainty == nullptr ? "" : uncertainty->value("sentence", "");
  if (sampled.empty()) return sentence(because);
  return "With the values as written: " + sentence(because) +
         " With their uncertainties: " + sentence(sampled);
}

std::string setting(const Json& results, const std::string& name) {
  const Json* condition = find_named(results["conditions"], "name", name);
  return condition == nullptr
             ? io::quoted(name)
             : fmt::format("{} ({})", io::quoted(name), condition->value("circumstances", std::string()));
}

std::string for_what(const Json& results, const Json& claim) {
  std::string text = "The verdict applies to " + setting(results, claim.value("when", ""));
  if (claim.contains("against")) text += ", compared with " + setting(results, claim.value("against", ""));
  return text + "; not to another pose, load or surface.";
}

// Named vents whose role another threshold would change.
std::string close_calls(const Json& results, const Json& claim) {
  const Json* condition = find_named(results["conditions"], "name", claim.value("when", ""));
  if (condition == nullptr || !condition->contains("vents") || !claim.contains("vents")) return "";
  std::string names;
  for (const Json& name : claim["vents"]) {
    const Json* vent = find_named((*condition)["vents"], "vent", name.get<std::string>());
    if (vent == nullptr || vent->value("firm", true)) continue;
    names += (names.empty() ? "" : ", ") + name.get<std::string>();
  }
  return names.empty() ? "" : " Close to a threshold between roles: " + names + ".";
}

std::string other_states(const Json& results, const Json& claim) {
  const Json* condition = find_named(results["conditions"], "name", claim.value("when", ""));
  if (condition == nullptr || !condition->contains("states")) return "";
  const int stable = (*condition)["states"].value("stable", 1);
  if (stable < 2) return "";
  return fmt::format(" {} steady states exist there; this is about the one a cold start reaches.", stable);
}

// A list of the results, or an empty one: sections of other commands may lack what this version gives them.
Json list_in(const Json& object, const char* key) {
  const Json list = object.is_object() ? object.value(key, Json()) : Json();
  return list.is_array() ? list : Json::array();
}

Json role_words() {
  Json words;
  for (const figure::VentState& vent_state : figure::kVentStates)
    words[figure::vent_state_word(vent_state)] = figure::vent_state_words(vent_state);
  return words;
}

Json uncertainty_words(const Json& results) {
  const Json uncertainty = results.value("uncertainty", Json());
  Json claims = Json::array(), conditions = Json::array();
  for (const Json& claim : list_in(uncertainty, "claims")) {
    const Json value = claim.value("probability", Json());
    const std::optional<uncertainty::Interval> interval = interval_of(claim);
    claims.push_back({{"probability", value.is_number() ? probability_of(value, interval) : ""},
                      {"interval", interval ? io::interval_text(*interval) : "–"}});
  }
  for (const Json& condition : list_in(uncertainty, "conditions")) {
    Json vents = Json::array();
    for (const Json& vent : list_in(condition, "vents")) {
      Json roles;
      for (const char* role : {"intake", "exhaust", "both-ways", "idle"})
        roles[role] = vent.contains(role) && vent[role].is_number()
                          ? io::probability_text(vent[role].get<double>())
                          : "–";
      vents.push_back(roles);
    }
    conditions.push_back(vents);
  }
  return {{"claims", claims}, {"conditions", conditions}};
}

Json bench_words(const Json& results) {
  Json words = Json::array();
  for (const Json& vent : list_in(results.value("bench", Json()), "vents")) {
    const Json held = vent.value("by_hand", Json());
    const bool known = held.is_object() && held.contains("right") && held["right"].is_number();
    words.push_back(known ? io::probability_text(held["right"].get<double>()) : "");
  }
  return words;
}

}  // namespace

std::vector<ClaimWords> claim_words(const nlohmann::ordered_json& results) {
  std::vector<ClaimWords> list;
  for (const Json& claim : results["claims"]) {
    ClaimWords words;
    words.id = claim.value("id", "");
    // Where there is uncertainty, the verdict is the one it gives: by probability, not by the nominal values.
    const Json* uncertainty = entropy_of(results, words.id);
    const std::string nominal = claim.value("verdict", "");
    const bool left = uncertainty != nullptr && uncertainty->value("left_to_field", false);
    words.verdict = left                     ? io::kLeftOpen
                    : uncertainty == nullptr ? written_text(nominal)
                                             : verdict_text(uncertainty->value("verdict", nominal));
    words.sure = sure_text(uncertainty);
    words.paragraph =
        fmt::format("“{}”: {} ({}). {}{} {}{}{}", claim.value("say", ""), words.verdict, words.sure,
                    left ? kUnsureHere : "", reasons(claim, uncertainty), for_what(results, claim),
                    close_calls(results, claim), other_states(results, claim));
    list.push_back(words);
  }
  return list;
}

Json page_words(const Json& results) {
  Json claims = Json::array(), as_written;
  for (const ClaimWords& claim : claim_words(results))
    claims.push_back(
        {{"id", claim.id}, {"verdict", claim.verdict}, {"sure", claim.sure}, {"paragraph", claim.paragraph}});
  for (const char* verdict : {"holds", "fails", "undecided"}) as_written[verdict] = written_text(verdict);
  Json words = {{"claims", claims}, {"roles", role_words()}, {"as_written", as_written}};
  if (results.contains("uncertainty")) words["uncertainty"] = uncertainty_words(results);
  if (results.contains("bench")) words["bench"] = bench_words(results);
  return words;
}

}  // namespace tuft::page
