// Rows of the key table: conditions, sweeps, roles, claims, and what varies together.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"

namespace tuft::casefile {
namespace {

const std::vector<std::string> kRoles = geometry::all_words<geometry::Role>();

// The keys of a condition, which a claim may also write in place of a condition's name.
std::vector<Key> condition_keys(const std::string& path) {
  return {
      reference_key(path + ".pose", {"poses"}, "A pose of the file or one of the known words.")
          .fallback("flat", "as a device mostly lies"),
      reference_key(path + ".support", {"supports"}, "A support of the file, or air or table.")
          .fallback("table", "where a device mostly stands"),
      reference_key(path + ".load", {"loads"}, "A load of the file.")
          .fallback("the only load", "with one load there is no choice"),
      quantity_key(path + ".lid", Dimension::angle, "0 deg", "360 deg",
                   "Opening angle of the lid, instead of the device's own."),
  };
}

std::vector<Key> role_keys() {
  using D = Dimension;
  const std::string why = "a definition that you may change, not a measurement";
  return {
      map_key("roles", "Where the line runs between the roles of a vent."),
      exact_key("roles.still-velocity", D::velocity, "0 m/s", "100 m/s",
                "Below this mean velocity a vent is idle, whatever its share: the air of the quietest room "
                "moves faster.")
          .fallback("0.0005 m/s", why),
      exact_key(
          "roles.idle-share", D::share, "0 %", "100 %",
          "A vent is idle if its share of the through-flow stays below this and its velocity below the next.")
          .fallback("3 %", why),
      exact_key("roles.idle-velocity", D::velocity, "0 m/s", "100 m/s", "Mean velocity over the vent's area.")
          .fallback("0.05 m/s", why),
      exact_key("roles.both-ways-ratio", D::share, "0 %", "100 %",
                "A vent breathes both ways if its smaller gross flow is at least this share of its larger.")
          .fallback("20 %", why),
      exact_key("roles.margin", D::number, "1", "100",
                "A role is firm if it stays the same when every threshold is multiplied and divided by this.")
          .fallback("1.5", why),
  };
}

std::vector<Key> claim_keys() {
  using D = Dimension;
  return joined({
      list_key("claims", 500, "Sentences somebody wants to publish, in a form that can be checked."),
      map_key("claims[]",
              "One claim: what it is about (vents, side, of or air-of), a condition, and exactly one "
              "statement. `flow-falls-against` and `flow-rises-against` without vents speak of the air "
              "through the whole device."),
      must(text_key("claims[].id", "Short name, in letters, digits, - _ and dots.")),
      must(text_key("claims[].say", "The sentence as it will be published.")),
      references_key("claims[].vents", {"vents", "leaks"},
                     "The vents the sentence is about: a list, or one name."),
      word_key("claims[].side", geometry::all_words<geometry::Face>(),
               "Instead of `vents`: all vents in this face, leaks left out."),
      reference_key("claims[].of", {"sources", "parts", "skin", "fins"},
                    "What the sentence about a temperature is about: a chip, a part, a patch of skin, the "
                    "metal of fins."),
      reference_key("claims[].air-of", {"vents", "zones"},
                    "Instead of `of`: the air that a vent lets out, or that stands in a zone."),
      statement(word_key("claims[].role", kRoles, "Every one of the vents has this role.")),
      truth_key("claims[].any",
                "With `role`, `changes-role-against` or `reverses-against`: one of the vents is enough."),
      statement(word_key("claims[].none", kRoles, "None of the vents has this role.")),
      statement(word_key(
          "claims[].none-breathes", {"in", "out"},
          "None of the vents takes air in, or lets air out; one that breathes both ways does both.")),
      statement(references_key("claims[].draws-more-than", {"vents", "leaks"},
                               "The vents together take in more than these.")),
      statement(references_key("claims[].gives-more-than", {"vents", "leaks"},
                               "The vents together let out more than these.")),
      exact_key("claims[].by", D::number, "0.001", "1000",
                "With a comparison: at least this many times as much.")
          .fallback("1", "more means more, by any margin"),
      statement(
          share_key("claims[].share",
                    "The vents together carry a share of the through-flow within this range (40..100 %).")
              .asked()),
      statement(reference_key("claims[].changes-role-against", {"conditions"},
                              "The vents have another role than in this condition.")),
      statement(
          reference_key("claims[].reverses-against", {"conditions"},
                        "The vents take in where they let out in this condition, or the other way round.")),
      statement(reference_key("claims[].flow-falls-against", {"conditions"},
                              "The vents together pass less air than in this condition.")),
      statement(reference_key("claims[].flow-rises-against", {"conditions"},
                              "The vents together pass more air than in this condition.")),
      exact_key("claims[].by-share", D::share, "0 %", "1000 %",
                "With a flow that falls or rises: by at least this share of what it was.")
          .fallback("0 %", "less means less, by any margin"),
      statement(quantity_key("claims[].temperature", D::temperature, "-100 degC", "500 degC",
                             "The temperature lies within this range (40..60 degC).")
                    .asked()),
      statement(exact_key("claims[].hotter-than", D::temperature, "-100 degC", "500 degC",
                          "The temperature lies above this.")),
      statement(exact_key("claims[].cooler-than", D::temperature, "-100 degC", "500 degC",
                          "The temperature lies below this.")),
      statement(reference_key("claims[].warms-against", {"conditions"},
                              "The temperature is higher than in this condition.")),
      statement(reference_key("claims[].cools-against", {"conditions"},
                              "The temperature is lower than in this condition.")),
      exact_key("claims[].by-degrees", D::difference, "0 K", "500 K",
                "With a temperature that rises or falls: by at least so much.")
          .fallback("0 K", "warmer means warmer, by any margin"),
      reference_key("claims[].evidence-from", {"conditions"},
                    "Condition in which the evidence for the sentence was gathered. Where the sentence "
                    "speaks of another, the program says what the evidence is worth there."),
      map_key("claims[].when",
              "A condition's name, or a condition written out; one that is new is solved as well.")
          .or_name_of({"conditions"})
          .fallback("the only condition", "with one condition there is no choice"),
      condition_keys("claims[].when"),
  });
}

std::vector<Key> condition_and_sweep_keys() {
  using D = Dimension;
  return joined({
      named_key("conditions", 500, "The combinations of pose, support, load and lid to be solved.")
          .fallback("every combination of the poses, supports and loads of the file (flat, table if there "
                    "are none)",
                    "what the file lists is meant to be solved"),
      map_key("conditions.*", "One condition."),
      condition_keys("conditions.*"),
      named_key("sweeps", 50, "Series of poses, to see at which angle a vent changes its role."),
      map_key("sweeps.*", "One sweep: support, load and lid of a condition, and a turning pose."),
      must(
          reference_key("sweeps.*.condition", {"conditions"}, "Condition whose support, load and lid hold.")),
      must(word_key("sweeps.*.about", {"x", "y", "z"},
                    "Axis of the device it is turned about, from lying flat.")
               .or_vector(3)),
      exact_key("sweeps.*.from", D::angle, "-3600 deg", "3600 deg", "First angle.")
          .fallback("0 deg", "a full turn"),
      exact_key("sweeps.*.to", D::angle, "-3600 deg", "3600 deg", "Last angle.")
          .fallback("360 deg", "a full turn"),
      exact_key("sweeps.*.step", D::angle, "-360 deg", "360 deg",
                "Step between angles; negative when the angles fall.")
          .fallback("15 deg", "24 steps in a full turn"),
  });
}

std::vector<Key> correlation_keys() {
  return {
      list_key("correlations", 200,
               "Uncertain quantities that vary together, such as two fans of one batch. What is not named "
               "here varies by itself."),
      map_key("correlations[]", "One set of quantities; every two of them have this correlation."),
      must(inputs_key("correlations[].inputs", 2,
                      "Their paths, as the list of assumptions writes them: `fans.left.flow-factor`, "
                      "`vents.grille.cover.open`. Each has a spread, written or assumed.")),
      must(exact_key("correlations[].correlation", Dimension::number, "-0.999", "0.999",
                     "Correlation of their normal scores. Above 0: both are large together; below 0: one is "
                     "large where the other is small.")),
  };
}

std::vector<Key> joint_sample_keys() {
  return {
      map_key("joint-sample",
              "Uncertain quantities that are known together only, as a list of equally likely devices: what "
              "`tuft learn` writes where correlations do not hold what was learned. They take no part in "
              "`correlations`."),
      must(inputs_key("joint-sample.inputs", 1, "Their paths, as in `correlations`.")),
      must(list_key(
          "joint-sample.places", 4096,
          "The devices. Each is a text of whole numbers from 0 to 999, one for each of `inputs`: in "
          "which thousandth of its spread, counted from below by probability, the quantity lies. 500 "
          "begins at the median.")),
      text_key("joint-sample.places[]", "One device."),
  };
}

std::vector<Key> expected_keys() {
  return {
      list_key("expected", 200,
               "Key paths of what is unusual and still so. A warning about something unusual names its path; "
               "named here, it is not given. The path of a source (sources.chip) confirms its temperature.")
          .empty_ok(),
      text_key("expected[]", "One such path."),
  };
}

}  // namespace

std::vector<Key> question_keys() {
  return joined({condition_and_sweep_keys(), role_keys(), claim_keys(), correlation_keys(),
                 joint_sample_keys(), expected_keys()});
}

}  // namespace tuft::casefile
