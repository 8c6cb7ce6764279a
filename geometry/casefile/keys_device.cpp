// Rows of the key table: the device itself, the room, zones, passages, vents with their grilles, leaks.
#include "geometry/casefile/generic.hpp"
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
Key size_key(std::string path, Dimension dimension, geometry::AssumedSize CoverKindInfo::*size,
             std::string low, std::string high, std::string says) {
  Key key = quantity_key(std::move(path), dimension, std::move(low), std::move(high), std::move(says));
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
      map_key("vents.*.cover",
              "The grille. A bare word names the kind and takes its defaults, or a generic grille.")
          .or_one_of(geometry::all_words<geometry::CoverKind>())
          .or_generic(generic_names("covers"))
          .fallback("perforated", "most vents of small devices are rows of holes or short slots; judgement"),
      must_unless({"like"},
                  word_key("vents.*.cover.kind", geometry::all_words<geometry::CoverKind>(), say_kinds())),
      like_key("vents.*.cover", "covers"),
      size_key("vents.*.cover.open", D::share, &CoverKindInfo::open, "0.01 %", "100 %",
               "Free area over the area of the vent."),
      size_key("vents.*.cover.hole", D::length, &CoverKindInfo::hole, "0.01 mm", "200 mm",
               "Diameter of a hole, clear gap between wires or blades, or width of a slot."),
      size_key(
          "vents.*.cover.thickness", D::length, &CoverKindInfo::thickness, "0.001 mm", "200 mm",
          "Thickness of the sheet, depth of the blades, or thickness of the layer; of the wall around an "
          "opening without a grille."),
      quantity_key("vents.*.cover.permeability", D::permeability, "1e-15 m2", "0.0001 m2",
                   "Darcy permeability of the foam or dust.")
          .only({"foam"})
          .fallback("4.5e-9 m2 */ 2.45",
                    "open-cell foam of 20 mm passes 500..3000 mm/s at 100 Pa (from memory, order of "
                    "magnitude), turned into a permeability by K = mu v L / dp"),
      quantity_key("vents.*.cover.inertia", D::inverse_length, "0 1/m", "1000000 1/m",
                   "Forchheimer coefficient of the foam or dust.")
          .only({"foam"})
          .fallback("1500 1/m */ 4",
                    "about 0.1 over the root of the permeability, as for open foams; judgement"),
      quantity_key("vents.*.cover.loss", D::number, "0.01", "100000",
                   "Measured loss coefficient on the mean velocity over the vent's area, losses in and out "
                   "included; it replaces the law of the kind."),
  };
}

std::vector<Key> space_keys() {
  using D = Dimension;
  return {
      must(word_key("tuft", {"1"}, "Version of the case file format.")),

      must(map_key("device",
                   "The chassis: a box. x runs to the right, y from the front edge to the rear edge, z from "
                   "the base up; the origin is the front left corner of the base.")),
      must(text_key("device.name", "What reports call the device.")),
      must(quantities_key("device.size", D::length, 3, "1 mm", "2 m",
                          "Outer size of the chassis along x, y and z, without feet and lid.")),
      quantity_key("device.feet", D::length, "0 mm", "100 mm",
                   "Height of the feet: the gap between the base and a hard surface.")
          .fallback("1..1.5..2.5 mm", "low rubber feet of slim devices; judgement"),

      map_key("room", "The air around the device."),
      quantity_key("room.temperature", D::temperature, "-40 °C", "60 °C", "Temperature of the room's air.")
          .fallback("18..21..25 °C", "a heated room; judgement"),
      quantity_key("room.altitude", D::length, "-500 m", "9000 m",
                   "Height above sea level; it sets the density of the air.")
          .fallback("0..100..500 m", "where most people live; judgement"),
      share_key("room.humidity", "Relative humidity of the room's air.")
          .fallback("30..45..60 %", "a heated room; judgement"),
      map_key("room.draught",
              "Air that moves through the room. Values as written are predicted in the likeliest air, which "
              "without this key is still; samples draw from the spread.")
          .or_one_of({"still", "0"}),
      quantity_key("room.draught.speed", D::velocity, "0 m/s", "5 m/s",
                   "Speed of the room's air where the device is, as if the device were not there.")
          .fallback(
              "0..0..0.2 m/s",
              "a room where nobody walks and nothing blows: half of the time below 0.06 m/s, the middle "
              "of what occupied zones show; judgement"),
      quantity_key("room.draught.from", D::angle, "-720 deg", "720 deg",
                   "Level direction the air comes from, seen from above: 0 deg the front of a device that "
                   "lies flat, 90 deg its right, 180 deg its rear. In other poses the room's directions "
                   "stay.")
          .fallback("0..360 deg", "from anywhere"),

      named_key("zones", 40,
                "Spaces inside the chassis: boxes with sides along x, y and z. Their air is mixed where fans "
                "drive it, and layered where buoyancy does.")
          .fallback("one zone named 'inside' that fills the chassis",
                    "without walls inside, the air of the chassis is one space"),
      map_key("zones.*", "One zone, by two opposite corners of its box."),
      must(point_key("zones.*.from", 3, "One corner of the box.")),
      must(point_key("zones.*.to", 3, "The opposite corner.")),
      quantity_key("zones.*.walls", D::conductance, "0 W/K", "1000 W/K",
                   "Heat conductance from the zone's air to the room through the chassis walls.")
          .fallback(
              "6 W/(m2 K) times the part of the box's surface that lies on the chassis' surface, */ 2",
              "air to skin to room through a thin wall, free convection and radiation in series; judgement"),

      named_key("passages", 200, "Openings and ducts between two zones."),
      map_key("passages.*", "One passage: a rectangle that leads from one zone to another."),
      must(references_key("passages.*.between", {"zones"}, "The two zones.").number_of(2)),
      word_key("passages.*.across", {"x", "y", "z"}, "Axis along which the air goes through.")
          .fallback("the axis along which the zones' centres lie farthest apart, measured in box sizes",
                    "a passage leads from one box to its neighbour"),
      point_key("passages.*.at", 3, "Centre of the passage.")
          .fallback("middle of the wall the boxes share, or of their centres when they do not touch",
                    "the position matters little: only the height of the opening counts"),
      must(quantities_key("passages.*.size", D::length, 2, "0.01 mm", "2 m",
                          "Clear size along the two axes other than `across`, in the order x, y, z.")
               .with_spread()),
      quantity_key("passages.*.length", D::length, "0 mm", "1 m",
                   "Length along the flow; 0 is a hole in a thin wall.")
          .fallback("0..2..10 mm", "a hole in a rib up to a short duct; judgement"),
      quantity_key("passages.*.bends", D::number, "0", "20", "Number of right-angle turns.")
          .fallback("0..0..1", "mostly straight; judgement"),
  };
}

std::vector<Key> opening_keys() {
  using D = Dimension;
  return joined({
      must(named_key("vents", 200, "The openings that were made on purpose: rectangles on a face.")),
      map_key("vents.*", "One vent."),
      must(word_key(
          "vents.*.face", geometry::all_words<geometry::Face>(),
          "Face the vent lies on; hinge is the slot between chassis and lid, at the upper rear edge.")),
      must_unless(edge_words(),
                  point_key("vents.*.centre", 2,
                            "Centre in the face's own coordinates: base and top x, y; left and right y, z; "
                            "front and rear x, z; hinge x alone, in a list of one or two.")
                      .at_least(1)),
      edge_keys("vents.*",
                "to the nearest edge of the vent, instead of `centre`: one along each of the face's two "
                "axes. Sides are those of a device lying flat before you, on the base too."),
      must(quantities_key("vents.*.size", D::length, 2, "0.01 mm", "2 m",
                          "Size along the same two axes; on the hinge along x and across the slot.")),
      exact_key("vents.*.turned", D::angle, "-180 deg", "180 deg",
                "How far the rectangle is turned about its centre, counter-clockwise as you look at the face "
                "from outside. Distances to edges are then those of its outermost corners. The field and the "
                "cross-section compute a turned vent as the upright rectangle that holds it, with the flow "
                "of its own area."),
      cover_keys(),
      reference_key("vents.*.behind", {"zones", "fins"},
                    "Zone or fins behind the vent. A vent that a fan draws from or blows into has none.")
          .fallback("the only zone, or the zone whose box lies just inside the vent",
                    "a vent opens into the space behind it"),
      share_key("vents.*.blocked", "Share of the area that is taped over or hidden behind a part.")
          .fallback("0..0..10 %", "free as far as can be seen, perhaps with a rib behind it; judgement"),
      named_key("vents.*.recirculates", 100,
                "Recirculation: the other vents whose outgoing air this vent draws in again, by name. "
                "Without it the vent draws only room air."),
      share_key("vents.*.recirculates.*",
                "Share of what this vent draws that the other has just let out; together at most 100 %."),

      named_key("leaks", 200,
                "Seams and gaps that are not meant as vents. An empty map, {}, says there are none.")
          .empty_ok()
          .fallback("a seam along each of the left, right, front and rear faces",
                    "shells clipped together are never tight; judgement"),
      map_key("leaks.*", "One leak, spread evenly over its rectangle."),
      must(word_key("leaks.*.face", geometry::all_words<geometry::Face>(), "Face the leak lies on.")),
      quantity_key("leaks.*.area", D::area, "0.0001 mm2", "0.1 m2", "Total free area.")
          .fallback("0.05 mm times the length of the edge, */ 3",
                    "gap of a clipped shell, order of magnitude; judgement"),
      reference_key("leaks.*.behind", {"zones"}, "Zone it opens into.")
          .fallback("the zone nearest to its centre, of equals the first by name",
                    "a seam opens into the space behind it"),
      point_key("leaks.*.centre", 2, "Centre in the face's own coordinates, as for vents.")
          .at_least(1)
          .fallback("centre of the face", "a seam runs along the whole face"),
      quantities_key("leaks.*.size", D::length, 2, "0.01 mm", "2 m",
                     "Size along the face's axes, as for vents.")
          .fallback("the whole face", "a seam runs along the whole face"),
  });
}

}  // namespace

std::vector<Key> device_keys() { return joined({space_keys(), opening_keys()}); }

}  // namespace tuft::casefile
