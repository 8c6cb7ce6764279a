// Rows of the key table: the device itself, the room, zones, passages, vents with their grilles, leaks.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/device.hpp"

namespace tuft::casefile {
namespace {

using geometry::CoverKindInfo;

// "open: nothing in the opening; perforated: sheet with holes; ..."
std::string say_kinds() {
  std::string out;
  for (const CoverKindInfo& kind : geometry::kCoverKinds)
    out += (out.empty() ? "" : "; ") + std::string(kind.word) + ": " + kind.says;
  return out + ".";
}

// A key for the kinds of grille that have such a size, with what is assumed for each.
Key size_key(const std::string& path, Dimension dimension, geometry::AssumedSize CoverKindInfo::*size) {
  Key key = quantity_key(path, dimension);
  for (const CoverKindInfo& kind : geometry::kCoverKinds) {
    if ((kind.*size).value == nullptr) continue;
    key.kinds.push_back(kind.word);
    key.fallback_of(kind.word, (kind.*size).value, (kind.*size).why);
  }
  return key;
}

std::vector<Key> cover_keys() {
  using D = Dimension;
  return {
      map_key("vents.*.cover")
          .or_one_of(geometry::all_words<geometry::CoverKind>())
          .fallback("perforated", "most vents of small devices are rows of holes or short slots; judgement")
          .doc("The grille. A bare word names the kind and takes its defaults."),
      word_key("vents.*.cover.kind", geometry::all_words<geometry::CoverKind>()).must().doc(say_kinds()),
      size_key("vents.*.cover.open", D::share, &CoverKindInfo::open)
          .in("> 0 %", "100 %")
          .doc("Free area over the area of the vent."),
      size_key("vents.*.cover.hole", D::length, &CoverKindInfo::hole)
          .in("> 0 mm", "200 mm")
          .doc("Diameter of a hole, clear gap between wires or blades, or width of a slot."),
      size_key("vents.*.cover.thickness", D::length, &CoverKindInfo::thickness)
          .in("> 0 mm", "200 mm")
          .doc("Thickness of the sheet, depth of the blades, or thickness of the layer."),
      quantity_key("vents.*.cover.permeability", D::permeability)
          .in("> 0 m2", "0.0001 m2")
          .only({"foam"})
          .fallback("4.5e-9 m2 */ 2.45",
                    "open-cell foam of 20 mm passes 500..3000 mm/s at 100 Pa (from memory, order of "
                    "magnitude), turned into a permeability by K = mu v L / dp")
          .doc("Darcy permeability of the foam or dust."),
      quantity_key("vents.*.cover.inertia", D::inverse_length)
          .in("0 1/m", "1000000 1/m")
          .only({"foam"})
          .fallback("1500 1/m */ 4",
                    "about 0.1 over the root of the permeability, as for open foams; judgement")
          .doc("Forchheimer coefficient of the foam or dust."),
      quantity_key("vents.*.cover.loss", D::number)
          .in("> 0", "100000")
          .doc("Measured loss coefficient on the mean velocity over the vent's area, losses in and out "
               "included; it replaces the law of the kind."),
  };
}

}  // namespace

std::vector<Key> device_keys() {
  using D = Dimension;
  return {
      word_key("tuft", {"1"}).must().doc("Version of the case file format."),

      map_key("device").must().doc(
          "The chassis: a box. x runs to the right, y from the front edge to the rear edge, z from the base "
          "up; the origin is the front left corner of the base."),
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
          .fallback("30..45..60 %", "a heated room; judgement")
          .doc("Relative humidity of the room's air."),

      named_key("zones")
          .at_most(40)
          .fallback("one zone named 'inside' that fills the chassis",
                    "without walls inside, the air of the chassis is one space")
          .doc("Spaces inside the chassis whose air is taken as well mixed: boxes with sides along x, y and "
               "z."),
      map_key("zones.*").doc("One zone, by two opposite corners of its box."),
      point_key("zones.*.from", 3).must().doc("One corner of the box."),
      point_key("zones.*.to", 3).must().doc("The opposite corner."),
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
      point_key("passages.*.at", 3)
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

std::vector<Key> opening_keys() {
  using D = Dimension;
  std::vector<Key> rows = {
      named_key("vents").must().at_most(200).doc(
          "The openings somebody made on purpose: rectangles on a face."),
      map_key("vents.*").doc("One vent."),
      word_key("vents.*.face", geometry::all_words<geometry::Face>())
          .must()
          .doc("Face the vent lies on; hinge is the slot between chassis and lid, at the upper rear edge."),
      point_key("vents.*.centre", 2)
          .must()
          .at_least(1)
          .doc("Centre in the face's own coordinates: base and top x, y; left and right y, z; front and rear "
               "x, z; hinge x alone, in a list of one or two."),
      quantities_key("vents.*.size", D::length, 2)
          .must()
          .in("> 0 mm", "2 m")
          .doc("Size along the same two axes; on the hinge along x and across the slot."),
  };
  for (Key& key : cover_keys()) rows.push_back(std::move(key));
  const std::vector<Key> rest = {
      reference_key("vents.*.behind", {"zones", "fins"})
          .fallback("the only zone, or the zone whose box lies just inside the vent",
                    "a vent opens into the space behind it")
          .doc("Zone or fins behind the vent. A vent that a fan draws from or blows into has none."),
      quantity_key("vents.*.blocked", D::share)
          .fallback("0..0..10 %", "free as far as can be seen, a rib perhaps behind it; judgement")
          .doc("Share of the area that is taped over or hidden behind a part."),
      named_key("vents.*.takes-back")
          .at_most(100)
          .doc("Air that comes back: which other vents' outgoing air this vent draws in again, by their "
               "names. Left out, it draws the room's air alone."),
      quantity_key("vents.*.takes-back.*", D::share)
          .doc("Share of what this vent draws that the other has just let out; together at most 100 %."),

      named_key("leaks")
          .at_most(200)
          .empty_ok()
          .fallback("a seam along each of the left, right, front and rear faces",
                    "shells clipped together are never tight; judgement")
          .doc("Seams and gaps nobody meant as vents. An empty map, {}, says there are none."),
      map_key("leaks.*").doc("One leak, spread evenly over its rectangle."),
      word_key("leaks.*.face", geometry::all_words<geometry::Face>()).must().doc("Face the leak lies on."),
      quantity_key("leaks.*.area", D::area)
          .in("> 0 mm2", "0.1 m2")
          .fallback("0.05 mm times the length of the edge, */ 3",
                    "gap of a clipped shell, order of magnitude; judgement")
          .doc("Total free area."),
      reference_key("leaks.*.behind", {"zones"})
          .fallback("the zone nearest to its centre", "a seam opens into the space behind it")
          .doc("Zone it opens into."),
      point_key("leaks.*.centre", 2)
          .at_least(1)
          .fallback("centre of the face", "a seam runs along the whole face")
          .doc("Centre in the face's own coordinates, as for vents."),
      quantities_key("leaks.*.size", D::length, 2)
          .in("> 0 mm", "2 m")
          .fallback("the whole face", "a seam runs along the whole face")
          .doc("Size along the face's axes, as for vents."),
  };
  rows.insert(rows.end(), rest.begin(), rest.end());
  return rows;
}

}  // namespace tuft::casefile
