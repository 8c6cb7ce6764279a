// Rows of the key table: fans, the lid.
#include "geometry/casefile/keys.hpp"

namespace tuft::casefile {

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
          .doc("Static pressure against flow, measured or from a data sheet. Without it the curve is made "
               "from kind, "
               "diameter, thickness and speed."),
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
               "the first "
               "pressure is above 0 and the last point lies below the one before it."),
      quantities_key("fans.*.curve.points[]", D::volume_flow, 2)
          .then(D::pressure)
          .doc("One point: flow, then static pressure rise."),
      map_key("fans.*.follows")
          .doc(
              "Speed against a temperature, if something in the device controls it. A fan without it runs at "
              "full speed unless a load says otherwise."),
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

std::vector<Key> lid_keys() {
  using D = Dimension;
  return {
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
      quantity_key("lid.edge-distance", D::length)
          .in("> 0 mm", "500 mm")
          .fallback("10..20..40 mm", "from the slot under the hinge up to the glass; judgement")
          .doc("Way of the air from the hinge vents to the lower edge of the screen. Counts only with a vent "
               "on "
               "the hinge."),
  };
}

}  // namespace tuft::casefile
