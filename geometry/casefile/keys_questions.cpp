// Rows of the key table: conditions, sweeps, roles, claims, and what varies together.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"

namespace tuft::casefile {
namespace {

const std::vector<std::string> kRoles = geometry::all_words<geometry::Role>();

// The keys of a condition, which a claim may also write in place of a condition's name.
std::vector<Key> condition_keys(const std::string& path) {
  return {
      reference_key(path + ".pose", {"poses"})
          .fallback("flat", "as a device mostly lies")
          .doc("A pose of the file or one of the known words."),
      reference_key(path + ".support", {"supports"})
          .fallback("table", "where a device mostly stands")
          .doc("A support of the file, or air or table."),
      reference_key(path + ".load", {"loads"})
          .fallback("the only load", "with one load there is no choice")
          .doc("A load of the file."),
      quantity_key(path + ".lid", Dimension::angle)
          .in("0 deg", "360 deg")
          .doc("Opening angle of the lid, instead of the device's own."),
  };
}

std::vector<Key> role_keys() {
  using D = Dimension;
  const std::string why = "a definition that the person may change, no measurement";
  return {
      map_key("roles").doc("Where the line runs between the roles of a vent."),
      quantity_key("roles.still-velocity", D::velocity)
          .no_spread()
          .in("0 m/s", "100 m/s")
          .fallback("0.05 cm/s", why)
          .doc("Below this mean velocity a vent is idle, whatever its share: the air of the quietest room "
               "moves faster."),
      quantity_key("roles.idle-share", D::share)
          .no_spread()
          .fallback("3 %", why)
          .doc("A vent is idle if its share of the through-flow stays below this and its velocity below the "
               "next."),
      quantity_key("roles.idle-velocity", D::velocity)
          .no_spread()
          .in("0 m/s", "100 m/s")
          .fallback("5 cm/s", why)
          .doc("Mean velocity over the vent's area."),
      quantity_key("roles.both-ways-ratio", D::share)
          .no_spread()
          .fallback("20 %", why)
          .doc("A vent breathes both ways if its smaller gross flow is at least this share of its larger."),
      quantity_key("roles.margin", D::number)
          .no_spread()
          .in("1", "100")
          .fallback("1.5", why)
          .doc("A role is firm if it stays when every threshold is multiplied and divided by this."),
  };
}

std::vector<Key> claim_keys() {
  using D = Dimension;
  std::vector<Key> rows = {
      list_key("claims").at_most(500).doc(
          "Sentences somebody wants to publish, in a form that can be checked."),
      map_key("claims[]")
          .doc("One claim: what it is about (vents, side, of or air-of), a condition, and exactly one "
               "statement. `flow-falls-against` and `flow-rises-against` without vents speak of the air "
               "through the whole device."),
      text_key("claims[].id").must().doc("Short name, in letters, digits, - _ and dots."),
      text_key("claims[].say").must().doc("The sentence as it will be published."),
      references_key("claims[].vents", {"vents", "leaks"})
          .doc("The vents the sentence is about: a list, or one name."),
      word_key("claims[].side", geometry::all_words<geometry::Face>())
          .doc("Instead of `vents`: all vents in this face, leaks left out."),
      reference_key("claims[].of", {"sources", "parts", "skin", "fins"})
          .doc("What the sentence about a temperature is about: a chip, a part, a patch of skin, the metal "
               "of fins."),
      reference_key("claims[].air-of", {"vents", "zones"})
          .doc("Instead of `of`: the air that a vent lets out, or that stands in a zone."),
      word_key("claims[].role", kRoles).one_statement().doc("Every one of the vents has this role."),
      truth_key("claims[].any")
          .doc("With `role`, `changes-role-against` or `reverses-against`: one of the vents is enough."),
      word_key("claims[].none", kRoles).one_statement().doc("None of the vents has this role."),
      word_key("claims[].none-breathes", {"in", "out"})
          .one_statement()
          .doc("None of the vents takes air in, or lets air out; one that breathes both ways does both."),
      references_key("claims[].draws-more-than", {"vents", "leaks"})
          .one_statement()
          .doc("The vents together take in more than these."),
      references_key("claims[].gives-more-than", {"vents", "leaks"})
          .one_statement()
          .doc("The vents together let out more than these."),
      quantity_key("claims[].by", D::number)
          .no_spread()
          .in("> 0", "1000")
          .fallback("1", "more means more, by any margin")
          .doc("With a comparison: at least this many times as much."),
      quantity_key("claims[].share", D::share)
          .asked()
          .one_statement()
          .doc("The vents together carry a share of the through-flow within this range (40..100 %)."),
      reference_key("claims[].changes-role-against", {"conditions"})
          .one_statement()
          .doc("The vents have another role than in this condition."),
      reference_key("claims[].reverses-against", {"conditions"})
          .one_statement()
          .doc("The vents take in where they let out in this condition, or the other way round."),
      reference_key("claims[].flow-falls-against", {"conditions"})
          .one_statement()
          .doc("The vents together pass less air than in this condition."),
      reference_key("claims[].flow-rises-against", {"conditions"})
          .one_statement()
          .doc("The vents together pass more air than in this condition."),
      quantity_key("claims[].by-share", D::share)
          .no_spread()
          .in("0 %", "1000 %")
          .fallback("0 %", "less means less, by any margin")
          .doc("With a flow that falls or rises: by at least this share of what it was."),
      quantity_key("claims[].temperature", D::temperature)
          .asked()
          .one_statement()
          .in("-100 degC", "500 degC")
          .doc("The temperature lies within this range (40..60 degC)."),
      quantity_key("claims[].hotter-than", D::temperature)
          .no_spread()
          .one_statement()
          .in("-100 degC", "500 degC")
          .doc("The temperature lies above this."),
      quantity_key("claims[].cooler-than", D::temperature)
          .no_spread()
          .one_statement()
          .in("-100 degC", "500 degC")
          .doc("The temperature lies below this."),
      reference_key("claims[].warms-against", {"conditions"})
          .one_statement()
          .doc("The temperature is higher than in this condition."),
      reference_key("claims[].cools-against", {"conditions"})
          .one_statement()
          .doc("The temperature is lower than in this condition."),
      quantity_key("claims[].by-degrees", D::difference)
          .no_spread()
          .in("0 K", "500 K")
          .fallback("0 K", "warmer means warmer, by any margin")
          .doc("With a temperature that rises or falls: by at least so much."),
      reference_key("claims[].seen-in", {"conditions"})
          .doc("Condition in which the evidence for the sentence was gathered. Where the sentence speaks of "
               "another, the program says what the evidence is worth there."),
      map_key("claims[].when")
          .or_name_of({"conditions"})
          .fallback("the only condition", "with one condition there is no choice")
          .doc("A condition's name, or a condition written out; one that is new is solved as well."),
  };
  for (Key& key : condition_keys("claims[].when")) rows.push_back(std::move(key));
  return rows;
}

}  // namespace

std::vector<Key> question_keys() {
  using D = Dimension;
  std::vector<Key> rows = {
      named_key("conditions")
          .at_most(500)
          .fallback("every combination of the poses, supports and loads of the file (flat, table if there "
                    "are none)",
                    "what is written down is meant to be looked at")
          .doc("The combinations of pose, support, load and lid to be solved."),
      map_key("conditions.*").doc("One condition."),
  };
  for (Key& key : condition_keys("conditions.*")) rows.push_back(std::move(key));
  const std::vector<Key> sweeps = {
      named_key("sweeps").at_most(50).doc("Series of poses, to see at which angle a vent changes its role."),
      map_key("sweeps.*").doc("One sweep: support, load and lid of a condition, and a turning pose."),
      reference_key("sweeps.*.condition", {"conditions"})
          .must()
          .doc("Condition whose support, load and lid hold."),
      word_key("sweeps.*.about", {"x", "y", "z"})
          .must()
          .or_vector(3)
          .doc("Axis of the device it is turned about, from lying flat."),
      quantity_key("sweeps.*.from", D::angle)
          .no_spread()
          .in("-3600 deg", "3600 deg")
          .fallback("0 deg", "a full turn")
          .doc("First angle."),
      quantity_key("sweeps.*.to", D::angle)
          .no_spread()
          .in("-3600 deg", "3600 deg")
          .fallback("360 deg", "a full turn")
          .doc("Last angle."),
      quantity_key("sweeps.*.step", D::angle)
          .no_spread()
          .in("-360 deg", "360 deg")
          .fallback("15 deg", "24 steps in a full turn")
          .doc("Step between angles; negative when the angles fall."),
  };
  rows.insert(rows.end(), sweeps.begin(), sweeps.end());
  for (Key& key : role_keys()) rows.push_back(std::move(key));
  for (Key& key : claim_keys()) rows.push_back(std::move(key));
  return rows;
}

std::vector<Key> together_keys() {
  return {
      list_key("together")
          .at_most(200)
          .doc("Uncertain quantities that vary together, such as two fans of one batch. What is not named "
               "here varies by itself."),
      map_key("together[]").doc("One set of quantities; every two of them have this correlation."),
      inputs_key("together[].inputs", 2)
          .must()
          .doc("Their paths, as the list of assumptions writes them: `fans.left.flow-factor`, "
               "`vents.grille.cover.open`. Each has a spread, written or assumed."),
      quantity_key("together[].correlation", Dimension::number)
          .must()
          .no_spread()
          .in("-0.999", "0.999")
          .doc("Above 0: large together; below 0: one large where the other is small; of their normal "
               "scores."),
  };
}

}  // namespace tuft::casefile
