// Rows of the key table: fans, fins, sources of heat, parts that carry it, skin that somebody touches, and
// spots on them.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"

namespace tuft::casefile {
namespace {

const std::vector<std::string> kOuterFaces = {"base", "top", "left", "right", "front", "rear"};

// Ways for heat from a source or part.
std::vector<Key> joint_keys(const std::string& of) {
  return {
      named_key(of + ".joins")
          .at_most(100)
          .doc("Ways for heat by conduction, by the name of the part, fins, zone (its air) or patch of skin "
               "they lead to. A way is written at one of its ends."),
      quantity_key(of + ".joins.*", Dimension::resistance)
          .in("> 0 K/W", "100000 K/W")
          .doc("Heat resistance from here to there."),
  };
}

void append(std::vector<Key>& rows, std::vector<Key> more) {
  for (Key& key : more) rows.push_back(std::move(key));
}

std::vector<Key> fin_keys() {
  using D = Dimension;
  return {
      named_key("fins").at_most(40).doc("Stacks of parallel fins that a fan blows through."),
      map_key("fins.*").doc("One stack. The vents that name it in `behind` are its outlets, or a zone is."),
      quantity_key("fins.*.channels", D::number)
          .must()
          .in("1", "10000")
          .doc("Number of channels between fins."),
      quantity_key("fins.*.gap", D::length)
          .in("> 0 mm", "100 mm")
          .fallback("0.9..1.1..1.5 mm", "folded or zipped fins of slim devices; judgement")
          .doc("Clear width of one channel."),
      quantity_key("fins.*.height", D::length)
          .must()
          .in("> 0 mm", "500 mm")
          .doc("Clear height of the channels."),
      quantity_key("fins.*.length", D::length)
          .must()
          .in("> 0 mm", "1 m")
          .doc("Length of the channels along the flow."),
      quantity_key("fins.*.walls", D::conductance)
          .in("0 W/K", "1000 W/K")
          .fallback("0.15 W/K */ 2.5", "the part of the chassis over a small fin stack; judgement")
          .doc("Heat conductance from the fins to the room through the chassis."),
      reference_key("fins.*.exits-into", {"zones"})
          .doc("Zone the air leaves into; without it, the vents that name the stack in `behind`."),
      point_key("fins.*.at", 3)
          .fallback("centre of its outlet", "the place enters only through the height of the air column")
          .doc("Centre of the stack."),
      quantity_key("fins.*.fin-thickness", D::length)
          .in("> 0 mm", "20 mm")
          .fallback("0.1..0.2..0.4 mm", "folded or zipped sheet of slim devices; judgement")
          .doc("Thickness of one fin. This and the next two count only for fins that a joint leads to."),
      quantity_key("fins.*.conductivity", D::conductivity)
          .in("> 0 W/(m K)", "3000 W/(m K)")
          .fallback("200..390..400 W/(m K)",
                    "copper mostly, aluminium alloys at the lower end; conductivities from memory")
          .doc("Heat conductivity of the fins."),
      quantity_key("fins.*.capacity", D::capacity)
          .in("> 0 J/K", "100000 J/K")
          .fallback("20 J/K */ 2", "about 50 g of copper, 390 J/(kg K) from memory; judgement")
          .doc("Heat capacity of the metal of the stack."),
  };
}

std::vector<Key> source_keys() {
  using D = Dimension;
  std::vector<Key> rows = {
      named_key("sources").at_most(100).doc("What turns power into heat. How much is said by the loads."),
      map_key("sources.*").doc("One source."),
      named_key("sources.*.heats")
          .at_most(100)
          .fallback("all into the only zone", "with one zone there is nowhere else")
          .doc("Zones and fins that take up the heat, with shares that add to 100 %. Not together with "
               "`joins`."),
      quantity_key("sources.*.heats.*", D::share).doc("Share of the source's power."),
  };
  append(rows, joint_keys("sources.*"));
  append(
      rows,
      {
          quantity_key("sources.*.capacity", D::capacity)
              .in("> 0 J/K", "100000 J/K")
              .fallback("5 J/K */ 3", "a chip with its lid or spreader, a few grams to some tens; judgement")
              .doc("Heat capacity of the source, as far as it follows the chip at once. Only with `joins`, "
                   "as the next three."),
          quantity_key("sources.*.throttles-at", D::temperature)
              .in("0 °C", "250 °C")
              .doc("Temperature above which the source takes less power, so that it gets no hotter."),
          quantity_key("sources.*.least-power", D::power)
              .in("0 W", "10 kW")
              .fallback("0 W, as little as it takes", "without a floor the power may fall to nothing")
              .doc("Power below which it does not throttle. Only with `throttles-at`."),
          quantity_key("sources.*.shuts-down-at", D::temperature)
              .in("0 °C", "250 °C")
              .doc("Temperature at which the source switches off; above `throttles-at`."),
      });
  return rows;
}

std::vector<Key> part_keys() {
  std::vector<Key> rows = {
      named_key("parts").at_most(100).doc("What carries heat between others and has one temperature: heat "
                                          "pipe, spreader, plate, circuit board."),
      map_key("parts.*").doc("One part."),
  };
  append(rows, joint_keys("parts.*"));
  rows.push_back(
      quantity_key("parts.*.capacity", Dimension::capacity)
          .in("> 0 J/K", "1000000 J/K")
          .fallback("50 J/K */ 4", "a heat pipe at the lower end, a board or plate at the upper; judgement")
          .doc("Heat capacity of the part."));
  return rows;
}

std::vector<Key> skin_keys() {
  using D = Dimension;
  return {
      named_key("skin").at_most(100).doc("Patches of the outer surface that somebody can touch, each a "
                                         "rectangle on a face with one temperature."),
      map_key("skin.*").doc("One patch."),
      word_key("skin.*.face", kOuterFaces).must().doc("Face the patch lies on."),
      point_key("skin.*.centre", 2)
          .must()
          .doc("Centre in the face's own coordinates: base and top x, y; left and right y, z; front and rear "
               "x, z."),
      quantities_key("skin.*.size", D::length, 2)
          .must()
          .in("> 0 mm", "2 m")
          .doc("Size along the same two axes."),
      reference_key("skin.*.behind", {"zones"})
          .fallback("the only zone, or the zone whose box lies just inside the patch",
                    "the air behind a wall is what it warms up by")
          .doc("Zone whose air lies behind the patch."),
      word_key("skin.*.material", geometry::all_words<geometry::SkinMaterial>())
          .must()
          .doc("What a hand feels: it decides how hot is too hot."),
      quantity_key("skin.*.emissivity", D::share)
          .fallback_of("metal", "0.3..0.75..0.95",
                       "anodised or painted mostly, bare at the lower end; from memory")
          .fallback_of("glass", "0.85..0.9..0.95", "glass in the far infrared; from memory")
          .fallback_of("plastic", "0.85..0.92..0.97", "plastics and paints; from memory")
          .fallback_of("wood", "0.8..0.9..0.95", "wood, oiled or varnished; from memory")
          .doc("Emissivity of the outside in the far infrared."),
      quantity_key("skin.*.inside-film", D::film)
          .in("> 0 W/(m2 K)", "10000 W/(m2 K)")
          .fallback("8 W/(m2 K) */ 2", "slow air and radiation in a narrow space; judgement")
          .doc("Heat transfer coefficient between the air of the zone and the patch."),
      quantity_key("skin.*.areal-capacity", D::areal_capacity)
          .in("> 0 J/(m2 K)", "1000000 J/(m2 K)")
          .fallback_of("metal", "2400 J/(m2 K) */ 1.6",
                       "about 1 mm of aluminium alloy; properties from memory")
          .fallback_of("glass", "2500 J/(m2 K) */ 2", "about 1.2 mm of glass; properties from memory")
          .fallback_of("plastic", "2500 J/(m2 K) */ 1.6", "about 1.6 mm of plastic; properties from memory")
          .fallback_of("wood", "4000 J/(m2 K) */ 2", "about 4 mm of wood; properties from memory")
          .doc("Heat capacity of the sheet over its area."),
      quantity_key("skin.*.contact", D::time)
          .in("> 0 s", "24 h")
          .fallback("60 s */ 10", "from a hand put down for moments to one that rests there; judgement")
          .doc(
              "How long a hand stays on it at a time; it decides which touch limit the patch is put beside."),
  };
}

}  // namespace

std::vector<Key> fan_keys() {
  using D = Dimension;
  return {
      named_key("fans").at_most(40).doc("The fans."),
      map_key("fans.*").doc("One fan. A measured curve is better than size and speed, but nobody needs one."),
      word_key("fans.*.kind", geometry::all_words<geometry::FanKind>())
          .must()
          .doc("blower: in along the axis, out at the rim; axial: straight through."),
      quantity_key("fans.*.diameter", D::length)
          .must()
          .in("> 0 mm", "500 mm")
          .doc("Diameter of the impeller."),
      quantity_key("fans.*.thickness", D::length)
          .in("> 0 mm", "200 mm")
          .fallback_of("blower", "3.5..5..8 mm", "blowers of slim devices; judgement")
          .fallback_of("axial", "8..15..25 mm", "frame fans of small devices; judgement")
          .doc("Length of the impeller along its axis. Counts for a blower without a curve; an axial fan's "
               "does not."),
      quantity_key("fans.*.speed", D::rotation)
          .in("> 0 rpm", "60000 rpm")
          .fallback_of("blower", "3000..4500..5500 rpm", "notebook blowers of 60 to 75 mm; from memory")
          .fallback_of("axial", "1500..3000..5000 rpm", "frame fans of small devices; judgement")
          .doc("Full speed. Most devices show it in a maintenance tool."),
      reference_key("fans.*.draws-from", {"zones", "vents"})
          .must()
          .doc("Zone it draws from, or the vent it sits right behind."),
      reference_key("fans.*.blows-into", {"zones", "fins", "vents"})
          .must()
          .doc("Zone or fins it blows into, or the vent it sits right behind."),
      point_key("fans.*.at", 3)
          .fallback("centre of what it draws from",
                    "the place enters only through the height of the air column")
          .doc("Centre of the impeller."),
      map_key("fans.*.curve")
          .doc("Static pressure against flow, measured or from a data sheet. Without it the curve is made "
               "from kind, diameter, thickness and speed."),
      quantity_key("fans.*.flow-factor", D::number)
          .in("0.1", "10")
          .fallback_of("without a curve", "1 ± 35 %",
                       "flow of the class and size against a real fan; judgement")
          .fallback_of("with a curve", "1 ± 5 %", "a curve against the fan at hand; judgement")
          .doc("Multiplies the curve's flow: the doubt of the curve, or what was learned of it."),
      quantity_key("fans.*.pressure-factor", D::number)
          .in("0.1", "10")
          .fallback_of("without a curve", "1 ± 30 %",
                       "pressure of the class and size against a real fan; judgement")
          .fallback_of("with a curve", "1 ± 8 %", "a curve against the fan at hand; judgement")
          .doc("The same for its pressure."),
      quantity_key("fans.*.curve.speed", D::rotation)
          .no_spread()
          .in("> 0 rpm", "60000 rpm")
          .fallback("the fan's full speed", "curves are mostly taken at full speed")
          .doc("Speed at which the curve was taken."),
      quantity_key("fans.*.curve.density", D::density)
          .no_spread()
          .in("> 0 kg/m3", "10 kg/m3")
          .fallback("1.2 kg/m3",
                    "air at about 20 °C and sea level, the usual reference of fan curves; common practice, "
                    "no source")
          .doc("Density of the air in which the curve was taken."),
      list_key("fans.*.curve.points")
          .must()
          .at_most(200)
          .doc("Points [flow, pressure]; flows rise from 0, pressures are never negative, a hump is allowed; "
               "the first pressure is above 0 and the last point lies below the one before it."),
      quantities_key("fans.*.curve.points[]", D::volume_flow, 2)
          .then(D::pressure)
          .doc("One point: flow, then static pressure rise."),
      map_key("fans.*.follows")
          .doc("Speed against a temperature, if something in the device controls it. A fan without it runs "
               "at full speed unless a load says otherwise."),
      reference_key("fans.*.follows.sensor", {"sources", "parts"})
          .must()
          .doc("Source or part whose temperature the fan follows: a source with `joins`, since one that only "
               "`heats` air has no temperature."),
      list_key("fans.*.follows.speeds")
          .must()
          .at_most(100)
          .doc("Points [temperature, speed]; temperatures rise, speeds never fall. In between it is "
               "interpolated, outside the table its end holds."),
      quantities_key("fans.*.follows.speeds[]", D::temperature, 2)
          .then(D::rotation)
          .doc("One point: temperature, then speed."),
      quantity_key("fans.*.follows.hysteresis", D::difference)
          .in("0 K", "50 K")
          .fallback("1..3..6 K", "tables of small devices; judgement")
          .doc("How far the temperature must fall before the fan slows down again."),
  };
}

std::vector<Key> heat_keys() {
  std::vector<Key> rows = fin_keys();
  append(rows, source_keys());
  append(rows, part_keys());
  append(rows, skin_keys());
  return rows;
}

std::vector<Key> spot_keys() {
  using D = Dimension;
  return {
      named_key("spots").at_most(100).doc(
          "Places an infrared thermometer is pointed at, mostly numbered; `tuft bench` says what it would "
          "show there and refuses where it would lie."),
      map_key("spots.*").doc("One place."),
      reference_key("spots.*.on", {"skin", "parts", "fins", "sources"})
          .must()
          .doc("What it is pointed at. Inner things: with the device open, or through a window."),
      word_key("spots.*.surface", {"bare-aluminium", "oxidised-aluminium", "blasted-cast-aluminium",
                                   "anodised-aluminium", "bare-steel", "bare-copper", "paint", "plastic",
                                   "paper", "vinyl-tape", "glass", "circuit-board", "skin"})
          .doc("What the surface is, which decides how well it radiates. Skin: its own emissivity if left "
               "out; parts, fins and sources need it."),
      quantity_key("spots.*.size", D::length)
          .no_spread()
          .in("> 0 mm", "2 m")
          .fallback("the smaller side of the patch, else 10 mm",
                    "what is in sight of a small part; judgement")
          .doc("Smaller side of what is in sight of the surface: a spot that is larger reads its neighbours "
               "too."),
      quantity_key("spots.*.distance", D::length)
          .no_spread()
          .in("> 0 mm", "10 m")
          .fallback("150 mm", "near, with the hand clear of it; judgement")
          .doc("From the thermometer to the surface."),
      truth_key("spots.*.through-glass").doc("A window or screen stands between."),
  };
}

}  // namespace tuft::casefile
