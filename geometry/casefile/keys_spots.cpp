// Rows of the key table: spots of an infrared thermometer.
#include "geometry/casefile/keys.hpp"

namespace tuft::casefile {

std::vector<Key> spot_keys() {
  using D = Dimension;
  return {
      named_key("spots").at_most(100).doc(
          "Places an infrared thermometer is pointed at, mostly numbered; `tuft "
          "bench` says what it would show there and refuses where it would lie."),
      map_key("spots.*").doc("One place."),
      reference_key("spots.*.on", {"skin", "parts", "fins", "sources"})
          .must()
          .doc("What it is pointed at. Inner things: with the device open, or through a window."),
      word_key("spots.*.surface", {"bare-aluminium", "oxidised-aluminium", "blasted-cast-aluminium",
                                   "anodised-aluminium", "bare-steel", "bare-copper", "paint", "plastic",
                                   "paper", "vinyl-tape", "glass", "circuit-board", "skin"})
          .doc("What the surface is, which decides how well it radiates. Skin: its own emissivity if left "
               "out; "
               "parts, fins and sources need it."),
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
