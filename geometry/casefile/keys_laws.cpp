// Rows of the key table: how far the laws of the model may be wrong.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/laws.hpp"

namespace tuft::casefile {
namespace {

Key factor_key(const std::string& path, const std::string& says, const std::string& spread,
               const std::string& why) {
  return quantity_key(path, Dimension::number, "0.1", "10", says).fallback(spread, why);
}

std::vector<Key> cover_law_keys() {
  std::vector<Key> rows;
  for (const geometry::CoverKindInfo& kind : geometry::kCoverKinds) {
    if (kind.inertial.value == nullptr) continue;
    const std::string path = std::string("laws.") + kind.word, name = std::string("`") + kind.word + "`";
    const bool bare = &kind == &geometry::info_of(geometry::CoverKind::open);
    rows.push_back(map_key(
        path, "The loss of vents of kind " + name +
                  (bare ? ", and of seams." : ". A vent with a `loss` of its own has no part in it.")));
    rows.push_back(factor_key(path + ".inertial",
                              "Multiplies the part that rises with the square of the flow.",
                              kind.inertial.value, kind.inertial.why));
    rows.push_back(factor_key(path + ".viscous", "Multiplies the part that rises with the flow itself.",
                              kind.viscous.value, kind.viscous.why));
  }
  return rows;
}

}  // namespace

std::vector<Key> law_keys() {
  return joined(
      {map_key("laws",
               "How far the laws of the model may be wrong: factors on what they give, 1 being the law "
               "itself. They are sampled like any uncertain value, and only those that the device has a use "
               "for are. `exact` takes every law as it is.")
           .or_one_of({"exact"}),
       cover_law_keys(),
       factor_key("laws.passages", "Multiplies what passages between zones resist.", "1 ± 20 %",
                  "one right-angle turn is 0.98 to 1.26 in four handbooks (E5); entry and exit judgement"),
       factor_key(
           "laws.exchange", "Multiplies the head that drives air both ways through one opening.", "1 */ 2.3",
           "the discharge coefficient of a doorway that passes air both ways is 0.40 + 0.0045 for each "
           "kelvin "
           "(ASHRAE Handbook, ch. 16, eq. 39), ours is 0.61: heads down to 0.43 times; as far upwards, "
           "judgement; constants of level openings from memory"),
       factor_key(
           "laws.mixing",
           "Multiplies the momentum that a stream inside a zone has to be given where nothing mixes its air.",
           "1 */ 4.5",
           "flows of an open box scatter by 9 % about the field's and go with its power -0.10 (N8): a "
           "deviation by a factor of 2.4"),
       factor_key(
           "laws.entrainment", "Multiplies the air that plumes over heat with a place draw in.", "1 */ 2",
           "entrainment coefficients of 0.10 to 0.16 are in use: flows of 0.8 to 1.5 times ours; streams "
           "from openings that lean on a plume raise its flow (Quintiere et al. 1981, abstract), to two to "
           "three times for fires amid a room (Steckler et al. 1982, abstract); judgement"),
       quantity_key("laws.jet-suction", Dimension::number, "0", "10",
                    "Multiplies what the jets of outlets draw with on openings beside them in the same face. "
                    "Values as written are predicted without it.")
           .fallback(
               "0..0..2",
               "from nothing to twice the law of a free jet over a wall: small jets are not turbulent at "
               "once and draw in a third of that at first (Hill 1972, abstract), and a table or "
               "another jet is in the way; judgement"),
       factor_key("laws.still-rotor",
                  "Multiplies what a fan resists that stands still or is driven beyond its curve.", "1 */ 3",
                  "judgement: no measurement of a small rotor was found"),
       factor_key("laws.fan-backflow",
                  "Multiplies the same once more where air goes backwards through the fan.", "1 */ 2",
                  "judgement: no measurement was found"),
       factor_key("laws.gap", "Multiplies what the ways through the gap before a face resist.", "1 ± 25 %",
                  "friction between plates is exact; that a stream spreads by 45 degrees, and turns like "
                  "a bend, is judgement"),
       factor_key(
           "laws.fabric",
           "Multiplies what fabric resists. Without a spread where its permeability is assumed: that "
           "holds the doubt already.",
           "1 */ 1.5",
           "a test at 100 Pa carried over to a thousandth of it, and the rim around a vent; judgement"),
       factor_key(
           "laws.fin-flow", "Multiplies what fin stacks resist.", "1 ± 15 %",
           "friction in straight channels is exact; the share of the face that fins take is judgement"),
       factor_key(
           "laws.fin-heat", "Multiplies the film between fins and air.", "1 ± 15 %",
           "two published laws of developing flow differ by 11 % (Stephan 1959, Teertstra et al. 2000); "
           "uneven channels add to it, judgement"),
       factor_key("laws.film", "Multiplies the natural convection off skin.", "1 ± 20 %",
                  "published laws are means of smooth plates alone in a quiet room; judgement"),
       factor_key("laws.radiation", "Multiplies the radiation off skin.", "1 ± 10 %",
                  "not all that the skin faces is as warm as the room's air; judgement"),
       factor_key("laws.contact", "Multiplies the heat through a close gap into what lies behind it.",
                  "1 */ 2", "what table, bedding, lap and lid take up is judgement throughout (N6)")});
}

}  // namespace tuft::casefile
