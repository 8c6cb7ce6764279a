// Rows of the key table: fans, fins, sources of heat, the lid.
#include "geometry/casefile/keys.hpp"

namespace tuft::casefile {
namespace {

std::vector<Key> fan_keys() {
  using D = Dimension;
  return {
      named_key("fans").at_most(40).doc("The fans."),
      map_key("fans.*").doc("One fan. A measured curve is better than size and speed, but nobody needs one."),
      word_key("fans.*.kind", {"blower", "axial"})
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
      quantities_key("fans.*.at", D::length, 3)
          .in("0 mm", "2 m")
          .fallback("centre of what it draws from",
                    "the place enters only through the height of the air column")
          .doc("Centre of the impeller."),
      map_key("fans.*.curve")
          .fallback_of("flow without a curve", "1 ± 35 %",
                       "flow of the class and size against a real fan; judgement")
          .fallback_of("pressure without a curve", "1 ± 30 %",
                       "pressure of the class and size against a real fan; judgement")
          .fallback_of("flow of a given curve", "1 ± 5 %", "a curve against the fan at hand; judgement")
          .fallback_of("pressure of a given curve", "1 ± 8 %", "a curve against the fan at hand; judgement")
          .doc("Static pressure against flow, measured or from a data sheet. Without it the curve is made "
               "from kind, "
               "diameter, thickness and speed. The defaults are factors that carry the doubt of the curve."),
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
               "the first "
               "pressure is above 0 and the last point lies below the one before it."),
      quantities_key("fans.*.curve.points[]", D::volume_flow, 2)
          .doc("One point: flow, then static pressure rise."),
  };
}

std::vector<Key> heat_keys() {
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
      quantities_key("fins.*.at", D::length, 3)
          .in("0 mm", "2 m")
          .fallback("centre of its outlet", "the place enters only through the height of the air column")
          .doc("Centre of the stack."),

      named_key("sources").at_most(100).doc("What turns power into heat. How much is said by the loads."),
      map_key("sources.*").doc("One source."),
      named_key("sources.*.heats")
          .at_most(100)
          .fallback("all into the only zone", "with one zone there is nowhere else")
          .doc("Zones and fins that take up the heat, with shares that add to 100 %."),
      quantity_key("sources.*.heats.*", D::share).in("0 %", "100 %").doc("Share of the source's power."),

      map_key("lid").doc("The screen half of a notebook; leave it out for a device without one."),
      quantity_key("lid.angle", D::angle)
          .in("0 deg", "360 deg")
          .fallback("100..110..120 deg", "how people sit before a notebook; judgement")
          .doc("Opening angle in use; 0 is closed."),
      quantity_key("lid.clearance", D::length)
          .in("0 mm", "50 mm")
          .fallback("0.5..1..2 mm", "bumpers around the screen; judgement")
          .doc("Gap between the closed lid and the top."),
      named_key("lid.hides-hinge")
          .at_most(100)
          .fallback("{0 deg: 95 %, 90 deg: 20 %, 135 deg: 50 %}",
                    "a lid that turns down behind the rear edge as it opens; judgement")
          .doc("Share of a hinge vent that the lid hides, at opening angles; in between it is interpolated."),
      quantity_key("lid.hides-hinge.*", D::share)
          .no_spread()
          .in("0 %", "100 %")
          .doc("Share hidden at this angle."),
  };
}

}  // namespace

std::vector<Key> moving_keys() {
  std::vector<Key> rows = fan_keys();
  for (Key& key : heat_keys()) rows.push_back(std::move(key));
  return rows;
}

}  // namespace tuft::casefile
