// Rows of the key table: vents, their covers, leaks.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/device.hpp"

namespace tuft::casefile {
namespace {

const std::vector<std::string> kCovers = {"open", "perforated", "mesh", "louvre", "slots", "foam"};

std::vector<Key> cover_keys() {
  using D = Dimension;
  return {
      map_key("vents.*.cover")
          .or_one_of(kCovers)
          .fallback("perforated", "most vents of small devices are rows of holes or short slots; judgement")
          .doc("The grille. A bare word names the kind and takes its defaults."),
      word_key("vents.*.cover.kind", kCovers)
          .must()
          .doc("open: nothing in the opening; perforated: sheet with holes; mesh: woven wire; louvre: fixed "
               "blades; slots: "
               "comb of parallel slots; foam: open-cell foam or a layer of dust."),
      quantity_key("vents.*.cover.open", D::share)
          .in("> 0 %", "100 %")
          .only({"perforated", "mesh", "louvre", "slots"})
          .fallback_of("perforated", "25..40..55 %", "punched or moulded hole fields; judgement")
          .fallback_of("mesh", "30..45..60 %", "woven wire and dust screens; judgement")
          .fallback_of("louvre", "30..50..70 %", "clear gaps between fixed blades; judgement")
          .fallback_of("slots", "35..50..65 %",
                       "moulded combs with bars about as wide as the slots; judgement")
          .doc("Free area over the area of the vent."),
      quantity_key("vents.*.cover.hole", D::length)
          .in("> 0 mm", "200 mm")
          .only({"perforated", "mesh", "louvre", "slots"})
          .fallback_of("perforated", "1..1.5..2.5 mm", "hole fields of small devices; judgement")
          .fallback_of("mesh", "0.3..0.5..1 mm", "insect and dust screens; judgement")
          .fallback_of("louvre", "2..3..5 mm", "gaps between moulded blades; judgement")
          .fallback_of("slots", "1..2..3.5 mm", "finger-safe slots; judgement")
          .doc("Diameter of a hole, clear gap between wires or blades, or width of a slot."),
      quantity_key("vents.*.cover.thickness", D::length)
          .in("> 0 mm", "200 mm")
          .only({"perforated", "mesh", "louvre", "slots", "foam"})
          .fallback_of("perforated", "0.6..1..1.6 mm", "sheet metal and moulded shells; judgement")
          .fallback_of("mesh", "0.2..0.3..0.5 mm", "two wires thick; judgement")
          .fallback_of("louvre", "1..2..4 mm", "depth of moulded blades; judgement")
          .fallback_of("slots", "0.8..1.2..2 mm", "moulded shells; judgement")
          .fallback_of("foam", "3 mm */ 2", "filter foams of small devices; judgement")
          .doc("Thickness of the sheet, depth of the blades, or thickness of the layer."),
      quantity_key("vents.*.cover.permeability", D::permeability)
          .in("> 0 m2", "0.0001 m2")
          .only({"foam"})
          .fallback("4.5e-9 m2 */ 2.45",
                    "open-cell foam of 20 mm passes 500..3000 mm/s at 100 Pa (from memory, order of "
                    "magnitude), turned "
                    "into a permeability by K = mu v L / dp")
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
               "included; "
               "it replaces the law of the kind."),
  };
}

}  // namespace

std::vector<Key> opening_keys() {
  using D = Dimension;
  std::vector<Key> rows = {
      named_key("vents").must().at_most(200).doc(
          "The openings somebody made on purpose: rectangles on a face."),
      map_key("vents.*").doc("One vent."),
      word_key("vents.*.face", geometry::face_words())
          .must()
          .doc("Face the vent lies on; hinge is the slot between chassis and lid, at the upper rear edge."),
      quantities_key("vents.*.centre", D::length, 2)
          .must()
          .at_least(1)
          .in("0 mm", "2 m")
          .doc("Centre in the face's own coordinates: base and top x, y; left and right y, z; front and rear "
               "x, z; "
               "hinge x alone, in a list of one or two."),
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
          .in("0 %", "100 %")
          .fallback("0..0..10 %", "free as far as can be seen, a rib perhaps behind it; judgement")
          .doc("Share of the area that is taped over or hidden behind a part."),
      named_key("vents.*.takes-back")
          .at_most(100)
          .doc("Air that comes back: which other vents' outgoing air this vent draws in again, by their "
               "names. "
               "Left out, it draws the room's air alone."),
      quantity_key("vents.*.takes-back.*", D::share)
          .in("0 %", "100 %")
          .doc("Share of what this vent draws that the other has just let out; together at most 100 %."),

      named_key("leaks")
          .at_most(200)
          .empty_ok()
          .fallback("a seam along each of the left, right, front and rear faces",
                    "shells clipped together are never tight; judgement")
          .doc("Seams and gaps nobody meant as vents. An empty map, {}, says there are none."),
      map_key("leaks.*").doc("One leak, spread evenly over its rectangle."),
      word_key("leaks.*.face", geometry::face_words()).must().doc("Face the leak lies on."),
      quantity_key("leaks.*.area", D::area)
          .in("> 0 mm2", "0.1 m2")
          .fallback("0.05 mm times the length of the edge, */ 3",
                    "gap of a clipped shell, order of magnitude; judgement")
          .doc("Total free area."),
      reference_key("leaks.*.behind", {"zones"})
          .fallback("the zone nearest to its centre", "a seam opens into the space behind it")
          .doc("Zone it opens into."),
      quantities_key("leaks.*.centre", D::length, 2)
          .at_least(1)
          .in("0 mm", "2 m")
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
