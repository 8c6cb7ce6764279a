// Rows of the key table: the device itself, the room, zones, passages.
#include "geometry/casefile/keys.hpp"

namespace tuft::casefile {

std::vector<Key> device_keys() {
  using D = Dimension;
  return {
      word_key("tuft", {"1"}).must().doc("Version of the case file format."),

      map_key("device").must().doc(
          "The chassis: a box. x runs to the right, y from the front edge to the rear "
          "edge, z from the base up; the origin is the front left corner of the base."),
      text_key("device.name").must().doc("What reports call the device."),
      quantities_key("device.size", D::length, 3)
          .must()
          .in("> 0 mm", "2 m")
          .doc("Outer size of the chassis along x, y and z, without feet and lid."),
      quantity_key("device.feet", D::length)
          .in("0 mm", "100 mm")
          .fallback("1..1.5..2.5 mm", "low rubber feet of slim devices; judgement")
          .doc("Height of the feet: the gap between the base and a hard surface."),

      map_key("room").doc("The air around the device."),
      quantity_key("room.temperature", D::temperature)
          .in("-40 °C", "60 °C")
          .fallback("18..21..25 °C", "a heated room; judgement")
          .doc("Temperature of the room's air."),
      quantity_key("room.altitude", D::length)
          .in("-500 m", "9000 m")
          .fallback("0..100..500 m", "where most people live; judgement")
          .doc("Height above sea level; it sets the density of the air."),
      quantity_key("room.humidity", D::share)
          .in("0 %", "100 %")
          .fallback("30..45..60 %", "a heated room; judgement")
          .doc("Relative humidity of the room's air."),

      named_key("zones")
          .at_most(40)
          .fallback("one zone named 'inside' that fills the chassis",
                    "without walls inside, the air of the chassis is one space")
          .doc("Spaces inside the chassis whose air is taken as well mixed: boxes with sides along x, y and "
               "z."),
      map_key("zones.*").doc("One zone, by two opposite corners of its box."),
      quantities_key("zones.*.from", D::length, 3).must().in("0 mm", "2 m").doc("One corner of the box."),
      quantities_key("zones.*.to", D::length, 3).must().in("0 mm", "2 m").doc("The opposite corner."),
      quantity_key("zones.*.walls", D::conductance)
          .in("0 W/K", "1000 W/K")
          .fallback(
              "6 W/(m2 K) times the part of the box's surface that lies on the chassis' surface, */ 2",
              "air to skin to room through a thin wall, free convection and radiation in series; judgement")
          .doc("Heat conductance from the zone's air to the room through the chassis walls."),

      named_key("passages").at_most(200).doc("Openings and ducts between two zones."),
      map_key("passages.*").doc("One passage: a rectangle that leads from one zone to another."),
      references_key("passages.*.between", {"zones"}).must().number_of(2).doc("The two zones."),
      word_key("passages.*.across", {"x", "y", "z"})
          .fallback("the axis along which the zones' centres lie farthest apart, measured in box sizes",
                    "a passage leads from one box to its neighbour")
          .doc("Axis along which the air goes through."),
      quantities_key("passages.*.at", D::length, 3)
          .in("0 mm", "2 m")
          .fallback("middle of the wall the boxes share, or of their centres when they do not touch",
                    "the place matters little: only the height of the opening enters")
          .doc("Centre of the passage."),
      quantities_key("passages.*.size", D::length, 2)
          .must()
          .with_spread()
          .in("> 0 mm", "2 m")
          .doc("Clear size along the two axes other than `across`, in the order x, y, z."),
      quantity_key("passages.*.length", D::length)
          .in("0 mm", "1 m")
          .fallback("0..2..10 mm", "a hole in a rib up to a short duct; judgement")
          .doc("Length along the flow; 0 is a hole in a thin wall."),
      quantity_key("passages.*.bends", D::number)
          .in("0", "20")
          .fallback("0..0..1", "mostly straight; judgement")
          .doc("Number of right-angle turns."),
  };
}

}  // namespace tuft::casefile
