// Rows of the key table: fans, fins, sources of heat, parts that carry it, skin that somebody touches, and
// spots on them.
#include "geometry/casefile/generic.hpp"
#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"

namespace tuft::casefile {
namespace {

const std::vector<std::string> kOuterFaces = {"base", "top", "left", "right", "front", "rear"};

// Ways for heat from a source or part.
std::vector<Key> joint_keys(const std::string& of) {
  return {
      named_key(of + ".joins", 100,
                "Heat paths by conduction, by the name of the part, fins, zone (its air) or patch of skin "
                "they lead to. A path is written at one of its ends."),
      quantity_key(of + ".joins.*", Dimension::resistance, "0.001 K/W", "100000 K/W",
                   "Heat resistance from here to there.")
          .because("no joint conducts better than 0.001 K/W; two things joined that well are one part")
          .or_generic(generic_names("joins")),
  };
}

std::vector<Key> fin_keys() {
  using D = Dimension;
  return joined({
      named_key("fins", 40, "Stacks of parallel fins that a fan blows through."),
      map_key("fins.*", "One stack. The vents that name it in `behind` are its outlets, or a zone is."),
      like_key("fins.*", "fins"),
      must_unless({"like"}, quantity_key("fins.*.channels", D::number, "1", "10000",
                                         "Number of channels between fins.")),
      quantity_key("fins.*.gap", D::length, "0.01 mm", "100 mm", "Clear width of one channel.")
          .fallback("0.9..1.1..1.5 mm", "folded or zipped fins of slim devices; judgement"),
      must_unless({"like"}, quantity_key("fins.*.height", D::length, "0.1 mm", "500 mm",
                                         "Clear height of the channels.")),
      must_unless({"like"}, quantity_key("fins.*.length", D::length, "0.1 mm", "1 m",
                                         "Length of the channels along the flow.")),
      quantity_key("fins.*.walls", D::conductance, "0 W/K", "1000 W/K",
                   "Heat conductance from the fins to the room through the chassis.")
          .fallback("0.15 W/K */ 2.5", "the part of the chassis over a small fin stack; judgement"),
      reference_key("fins.*.exits-into", {"zones"},
                    "Zone the air leaves into; without it, the vents that name the stack in `behind`."),
      point_key("fins.*.at", 3, "Centre of the stack.")
          .fallback("centre of its outlet",
                    "the network needs its height alone; `tuft field` and the drawings need the place"),
      edge_keys("fins.*",
                "to the nearest side of the stack, instead of `at`. Without a height it is that of the "
                "outlet's centre."),
      quantity_key("fins.*.fin-thickness", D::length, "0.001 mm", "20 mm",
                   "Thickness of one fin. This and the next two count only for fins that a joint leads to.")
          .fallback("0.1..0.2..0.4 mm", "folded or zipped sheet of slim devices; judgement"),
      quantity_key("fins.*.conductivity", D::conductivity, "0.01 W/(m K)", "3000 W/(m K)",
                   "Heat conductivity of the fins.")
          .fallback("200..390..400 W/(m K)",
                    "copper mostly, aluminium alloys at the lower end; conductivities from memory"),
      quantity_key("fins.*.capacity", D::capacity, "0.001 J/K", "100000 J/K",
                   "Heat capacity of the metal of the stack.")
          .fallback("from the volume of the metal",
                    "fins between the channels and a base of 1.5 mm, copper above 300 W/(m K) and aluminium "
                    "below, within a factor of 2; heat capacities from memory, base and factor judgement"),
  });
}

std::vector<Key> source_keys() {
  using D = Dimension;
  return joined({
      named_key("sources", 100, "What turns power into heat. The loads state how much."),
      map_key("sources.*", "One source."),
      named_key(
          "sources.*.heats", 100,
          "Zones and fins that take up the heat, with shares that add to 100 %. Not together with `joins`.")
          .fallback("all into the only zone", "with one zone there is nowhere else"),
      share_key("sources.*.heats.*", "Share of the source's power."),
      point_key(
          "sources.*.from", 3,
          "One corner of the box within which the air of a zone takes up the heat: on the surface of what is "
          "hot. Only with `to`, without `joins`, and with one zone in `heats`."),
      point_key("sources.*.to", 3,
                "The opposite corner. Equal coordinates make it a plate, a line or a point. Without a box "
                "the heat is "
                "spread evenly over the zone."),
      point_key("sources.*.size", 3,
                "Size of that box along x, y and z, where distances to edges say where it is."),
      edge_keys("sources.*",
                "to the nearest side of the box, instead of `from` and `to`: one along each of x, y and z."),
      joint_keys("sources.*"),
      quantity_key("sources.*.capacity", D::capacity, "0.001 J/K", "100000 J/K",
                   "Heat capacity of the source, as far as it follows the chip at once. Only with `joins`, "
                   "as the next three.")
          .fallback("5 J/K */ 3", "a chip with its lid or spreader, a few grams to some tens; judgement"),
      quantity_key("sources.*.throttles-at", D::temperature, "0 °C", "250 °C",
                   "Temperature above which the source takes less power, so that it gets no hotter."),
      quantity_key("sources.*.least-power", D::power, "0 W", "10 kW",
                   "Power below which it does not throttle. Only with `throttles-at`.")
          .fallback("0 W, as little as it takes", "without a floor the power may fall to nothing"),
      quantity_key("sources.*.shuts-down-at", D::temperature, "0 °C", "250 °C",
                   "Temperature at which the source switches off; above `throttles-at`."),
  });
}

std::vector<Key> part_keys() {
  return joined({
      named_key("parts", 100,
                "What carries heat between others and has one temperature: heat pipe, spreader, plate, "
                "circuit board."),
      map_key("parts.*", "One part."),
      like_key("parts.*", "parts"),
      joint_keys("parts.*"),
      quantity_key("parts.*.capacity", Dimension::capacity, "0.001 J/K", "1000000 J/K",
                   "Heat capacity of the part.")
          .fallback("50 J/K */ 4", "a heat pipe at the lower end, a board or plate at the upper; judgement"),
  });
}

std::vector<Key> skin_keys() {
  using D = Dimension;
  return joined({
      named_key("skin", 100,
                "Patches of the outer surface that somebody can touch, each a rectangle on a face with one "
                "temperature."),
      map_key("skin.*", "One patch."),
      must(word_key("skin.*.face", kOuterFaces, "Face the patch lies on.")),
      must_unless(edge_words(),
                  point_key("skin.*.centre", 2,
                            "Centre in the face's own coordinates: base and top x, y; left and right y, z; "
                            "front and rear x, z.")),
      edge_keys("skin.*", "to the nearest edge of the patch, instead of `centre`, as for vents."),
      must(quantities_key("skin.*.size", D::length, 2, "0.01 mm", "2 m", "Size along the same two axes.")),
      reference_key("skin.*.behind", {"zones"}, "Zone whose air lies behind the patch.")
          .fallback("the only zone, or the zone whose box lies just inside the patch",
                    "the air behind a wall is what it warms up by"),
      must(word_key("skin.*.material", geometry::all_words<geometry::SkinMaterial>(),
                    "What a hand feels: it decides how hot is too hot.")),
      share_key("skin.*.emissivity", "Emissivity of the outside in the far infrared.")
          .fallback_of("metal", "0.3..0.75..0.95",
                       "anodised or painted mostly, bare at the lower end; from memory")
          .fallback_of("glass", "0.85..0.9..0.95", "glass in the far infrared; from memory")
          .fallback_of("plastic", "0.85..0.92..0.97", "plastics and paints; from memory")
          .fallback_of("wood", "0.8..0.9..0.95", "wood, oiled or varnished; from memory"),
      quantity_key("skin.*.inside-film", D::film, "0.001 W/(m2 K)", "10000 W/(m2 K)",
                   "Heat transfer coefficient between the air of the zone and the patch.")
          .fallback("8 W/(m2 K) */ 2", "slow air and radiation in a narrow space; judgement"),
      quantity_key("skin.*.areal-capacity", D::areal_capacity, "0.1 J/(m2 K)", "1000000 J/(m2 K)",
                   "Heat capacity of the sheet over its area.")
          .fallback_of("metal", "2400 J/(m2 K) */ 1.6",
                       "about 1 mm of aluminium alloy; properties from memory")
          .fallback_of("glass", "2500 J/(m2 K) */ 2", "about 1.2 mm of glass; properties from memory")
          .fallback_of("plastic", "2500 J/(m2 K) */ 1.6", "about 1.6 mm of plastic; properties from memory")
          .fallback_of("wood", "4000 J/(m2 K) */ 2", "about 4 mm of wood; properties from memory"),
      quantity_key(
          "skin.*.contact", D::time, "0.1 s", "24 h",
          "How long a hand stays on it at a time; it decides which touch limit the patch is put beside.")
          .fallback("60 s */ 10", "from a hand put down for moments to one that rests there; judgement"),
  });
}

std::vector<Key> fan_keys() {
  using D = Dimension;
  return joined({
      named_key("fans", 40, "The fans."),
      map_key("fans.*", "One fan. A measured curve is better than size and speed, but nobody needs one."),
      like_key("fans.*", "fans"),
      must_unless({"like"}, word_key("fans.*.kind", geometry::all_words<geometry::FanKind>(),
                                     "blower: in along the axis, out at the rim; axial: straight through.")),
      must_unless({"like"}, quantity_key("fans.*.diameter", D::length, "1 mm", "500 mm",
                                         "Diameter of the impeller.")),
      quantity_key("fans.*.thickness", D::length, "0.01 mm", "200 mm",
                   "Length of the impeller along its axis. Counts for a blower without a curve; an axial "
                   "fan's does not.")
          .fallback_of("blower", "3.5..5..8 mm", "blowers of slim devices; judgement")
          .fallback_of("axial", "8..15..25 mm", "frame fans of small devices; judgement"),
      quantity_key("fans.*.speed", D::rotation, "1 rpm", "60000 rpm",
                   "Full speed. Most devices show it in a maintenance tool.")
          .because("a fan that slow moves no air; write `stopped` under the `fans` of a load for one that rests")
          .fallback_of("blower", "3000..4500..5500 rpm", "notebook blowers of 60 to 75 mm; from memory")
          .fallback_of("axial", "1500..3000..5000 rpm", "frame fans of small devices; judgement"),
      must(reference_key("fans.*.draws-from", {"zones", "vents"},
                         "Zone it draws from, or the vent it sits right behind.")),
      must(reference_key("fans.*.blows-into", {"zones", "fins", "vents"},
                         "Zone or fins it blows into, or the vent it sits right behind.")),
      point_key("fans.*.at", 3, "Centre of the impeller.")
          .fallback("centre of what it draws from",
                    "the network needs its height alone; `tuft field` and the drawings need the place"),
      edge_keys("fans.*",
                "to the nearest side of the impeller, instead of `at`. Without a height it is that of the "
                "centre of what the fan draws from."),
      map_key("fans.*.curve",
              "Static pressure against flow, measured or from a data sheet. Without it the curve is made "
              "from kind, diameter, thickness and speed."),
      quantity_key("fans.*.flow-factor", D::number, "0.1", "10",
                   "Multiplies the curve's flow: the uncertainty of the curve, or what was learned of it.")
          .fallback_of("without a curve", "1 ± 35 %",
                       "flow of the class and size against a real fan; judgement")
          .fallback_of("with a curve", "1 ± 5 %", "a curve against the fan at hand; judgement"),
      quantity_key("fans.*.pressure-factor", D::number, "0.1", "10", "The same for its pressure.")
          .fallback_of("without a curve", "1 ± 30 %",
                       "pressure of the class and size against a real fan; judgement")
          .fallback_of("with a curve", "1 ± 8 %", "a curve against the fan at hand; judgement"),
      exact_key("fans.*.curve.speed", D::rotation, "1 rpm", "60000 rpm",
                "Speed at which the curve was taken.")
          .because("a fan that slow moves no air; write `stopped` under the `fans` of a load for one that rests")
          .fallback("the fan's full speed", "curves are mostly taken at full speed"),
      exact_key("fans.*.curve.density", D::density, "0.1 kg/m3", "10 kg/m3",
                "Density of the air in which the curve was taken.")
          .fallback("1.2 kg/m3",
                    "air at about 20 °C and sea level, the usual reference of fan curves; common practice, "
                    "no source"),
      must(list_key(
          "fans.*.curve.points", 200,
          "Points [flow, pressure]; flows rise from 0, pressures are never negative, a hump is allowed; the "
          "first pressure is above 0 and the last point lies below the one before it.")),
      quantities_key("fans.*.curve.points[]", D::volume_flow, 2, "", "",
                     "One point: flow, then static pressure rise.")
          .then(D::pressure),
      map_key("fans.*.speed-control",
              "Speed against a temperature, if something in the device controls it. A fan without it runs at "
              "full speed unless a load says otherwise."),
      must(reference_key("fans.*.speed-control.sensor", {"sources", "parts"},
                         "Source or part whose temperature the fan follows: a source with `joins`, since one "
                         "that only `heats` air has no temperature.")),
      must(list_key("fans.*.speed-control.speeds", 100,
                    "Points [temperature, speed]; temperatures rise, speeds never fall. In between it is "
                    "interpolated, outside the table its end holds.")),
      quantities_key("fans.*.speed-control.speeds[]", D::temperature, 2, "", "",
                     "One point: temperature, then speed.")
          .then(D::rotation),
      quantity_key("fans.*.speed-control.hysteresis", D::difference, "0 K", "50 K",
                   "How far the temperature must fall before the fan slows down again.")
          .fallback("1..3..6 K", "tables of small devices; judgement"),
  });
}

std::vector<Key> spot_keys() {
  using D = Dimension;
  return {
      named_key("spots", 100,
                "Places an infrared thermometer is pointed at, mostly numbered; `tuft bench` says what it "
                "would show there and refuses where the reading would be wrong."),
      map_key("spots.*", "One place."),
      must(reference_key("spots.*.on", {"skin", "parts", "fins", "sources"},
                         "What it is pointed at. Inner things: with the device open, or through a window.")),
      word_key("spots.*.surface",
               {"bare-aluminium", "oxidised-aluminium", "blasted-cast-aluminium", "anodised-aluminium",
                "bare-steel", "bare-copper", "paint", "plastic", "paper", "vinyl-tape", "glass",
                "circuit-board", "skin"},
               "What the surface is, which decides how well it radiates. Skin: its own emissivity if left "
               "out; parts, fins and sources need it."),
      exact_key(
          "spots.*.size", D::length, "0.01 mm", "2 m",
          "Smaller side of what is in sight of the surface: a spot that is larger reads its neighbours too.")
          .fallback("the smaller side of the patch, else 10 mm",
                    "what is in sight of a small part; judgement"),
      exact_key("spots.*.distance", D::length, "1 mm", "10 m", "From the thermometer to the surface.")
          .fallback("150 mm", "near, with the hand clear of it; judgement"),
      truth_key("spots.*.through-glass", "A window or screen stands between."),
  };
}

}  // namespace

std::vector<Key> inside_keys() {
  return joined({fan_keys(), fin_keys(), source_keys(), part_keys(), skin_keys(), spot_keys()});
}

}  // namespace tuft::casefile
