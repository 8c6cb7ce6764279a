// Rows of the key table: the lid, poses, supports, loads.
#include "geometry/casefile/generic.hpp"
#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"

namespace tuft::casefile {

namespace {

// One of the two small angles of a support's tilt.
Key tilt_key(const std::string& path, const std::string& says) {
  const std::string level = "tables and shelves are rarely off by more, feet included; judgement";
  return quantity_key(path, Dimension::angle, "-15 deg", "15 deg", says)
      .fallback_of("hard", "0 deg ± 1.5 deg", level)
      .fallback_of("stand", "0 deg ± 1.5 deg", level)
      .fallback_of("wall", "0 deg ± 1.5 deg", level)
      .fallback_of("air", "0 deg ± 2 deg", "hung, or held by eye; judgement")
      .fallback_of("soft", "0 deg ± 4 deg", "bedding gives way on one side; judgement")
      .fallback_of("lap", "0 deg ± 5 deg", "legs are never level; judgement");
}

}  // namespace

std::vector<Key> use_keys() {
  using D = Dimension;
  return {
      map_key("lid", "The screen half of a notebook; leave it out for a device without one."),
      quantity_key("lid.angle", D::angle, "0 deg", "360 deg", "Opening angle in use; 0 is closed.")
          .fallback("100..110..120 deg", "how people sit before a notebook; judgement"),
      quantity_key("lid.clearance", D::length, "0 mm", "50 mm", "Gap between the closed lid and the top.")
          .fallback("0.5..1..2 mm", "bumpers around the screen; judgement"),
      named_key("lid.hides-hinge", 100,
                "Share of a hinge vent that the lid hides, at opening angles; in between it is interpolated.")
          .fallback("{0 deg: 95 %, 90 deg: 20 %, 135 deg: 50 %}",
                    "a lid that turns down behind the rear edge as it opens; judgement"),
      exact_key("lid.hides-hinge.*", D::share, "0 %", "100 %", "Share hidden at this angle."),
      quantity_key("lid.edge-distance", D::length, "0.1 mm", "500 mm",
                   "Path of the air from the hinge vents to the lower edge of the screen. Counts only with a "
                   "vent on the hinge.")
          .fallback("10..20..40 mm", "from the slot under the hinge up to the glass; judgement"),

      named_key("poses", 100,
                "How the device is held. flat, upside-down, on-left-edge, on-right-edge, on-front-edge and "
                "on-rear-edge are known without being written (on-left-edge: the left side is down)."),
      map_key("poses.*", "One pose: one of the known words, or a tilt from lying flat.")
          .or_one_of(geometry::pose_words()),
      must(exact_key("poses.*.tilt", D::angle, "-360 deg", "360 deg",
                     "Angle turned from lying flat, right-handed about the axis.")),
      must(word_key(
               "poses.*.about", {"x", "y", "z"},
               "Axis of the device it is turned about: a letter, or a direction as a list of three numbers.")
               .or_vector(3)),

      named_key("supports", 100,
                "What the device rests on. air (nothing near) and table (hard, with the device's feet) are "
                "known without being written."),
      map_key("supports.*",
              "One support. A bare word names the kind and takes its defaults, or a generic support.")
          .or_one_of(geometry::all_words<geometry::SupportKind>())
          .or_generic(generic_names("supports")),
      like_key("supports.*", "supports"),
      must_unless(
          {"like"},
          word_key("supports.*.kind", geometry::all_words<geometry::SupportKind>(),
                   "air: nothing near; hard: table; soft: bed, sofa, cushion; lap: two legs; wall: hung "
                   "with its base against a wall; stand: raised.")),
      quantity_key(
          "supports.*.gap", D::length, "0 mm", "1 m",
          "Clear gap between the resting face and the surface, instead of the feet; of a stand, its height.")
          .only({"hard", "soft", "lap", "wall", "stand"})
          .fallback_of("hard", "the device's feet", "a device stands on its feet")
          .fallback_of("stand", "25..40..80 mm", "folding stands for notebooks; judgement")
          .fallback_of("soft", "the feet less the sink", "soft things have no gap of their own")
          .fallback_of("lap", "the feet less the sink", "soft things have no gap of their own")
          .fallback_of("wall", "the device's feet", "the feet keep it off the wall"),
      quantity_key("supports.*.edge-gap", D::length, "0 mm", "100 mm",
                   "Gap left when the device lies on another face than its base.")
          .only({"hard"})
          .fallback("0.3 mm */ 2",
                    "unevenness of shell and table where a face without feet rests; judgement"),
      quantity_key("supports.*.sink", D::length, "0 mm", "200 mm", "How far the device sinks in.")
          .only({"soft", "lap"})
          .fallback_of("soft", "3..8..15 mm", "a light device on bedding; judgement")
          .fallback_of("lap", "0..2..6 mm", "a light device on trousers; judgement"),
      share_key("supports.*.covers",
                "Share of the area of each vent on the resting face that is pressed shut.")
          .only({"soft", "lap"})
          .fallback_of("soft", "50..80..95 %", "bedding that rises into the base; judgement")
          .fallback_of("lap", "20..40..65 %", "two legs under a base wider than they are; judgement"),
      quantity_key("supports.*.permeability", D::velocity, "0 mm/s", "10 m/s",
                   "Air permeability of the fabric: the velocity at 100 Pa, as ISO 9237 states it.")
          .only({"soft", "lap"})
          .fallback("122 mm/s */ 4.1",
                    "woven upholstery passes 30..500 mm/s at 100 Pa; from memory, order of magnitude"),
      quantity_key("supports.*.thickness", D::length, "0.01 mm", "1 m",
                   "Thickness of the layer that air is drawn through.")
          .only({"soft", "lap"})
          .fallback_of("soft", "30 mm */ 2", "cover and wadding the air is drawn through; judgement")
          .fallback_of("lap", "2 mm */ 2", "a layer or two of cloth; judgement"),
      references_key("supports.*.over", {"vents"},
                     "Vents on other faces that the support covers entirely, as a blanket does.")
          .only({"hard", "soft", "lap", "wall", "stand"}),

      references_key(
          "supports.*.touches", {"vents"},
          "The only vents of the resting face that lie against the support; without it, all of them do.")
          .only({"hard", "soft", "lap", "wall", "stand"}),
      map_key("supports.*.tilt",
              "How far the support is from level, and every device on it: one table has one tilt, in all "
              "poses and conditions. Values as written are predicted on a level one unless x or y say "
              "otherwise; samples draw from the spread.")
          .or_one_of({"level", "0"}),
      tilt_key("supports.*.tilt.x",
               "Turn about the axis that points to the right of a device lying flat; + raises the rear."),
      tilt_key("supports.*.tilt.y",
               "Turn about the axis that points to the rear of a device lying flat; + lowers the right."),
      share_key("supports.*.shelter",
                "Share of the draught's speed that the support and what stands on it keep from the device.")
          .only({"soft", "lap"})
          .fallback_of("soft", "20..50..80 %", "a hollow between cushions and bedding; judgement")
          .fallback_of("lap", "0..30..60 %", "beside a body; judgement"),

      named_key("loads", 100, "What the device is doing.")
          .fallback("one load named 'idle': no power, fans at full speed",
                    "shows what the fans do by themselves"),
      map_key("loads.*", "One load."),
      named_key("loads.*.power", 100, "Power of each source; a source left out gives no heat.").empty_ok(),
      quantity_key("loads.*.power.*", D::power, "0 W", "10 kW", "Power of the source."),
      named_key("loads.*.fans", 100,
                "Setting of each fan; a fan left out follows its sensor if it has a `speed-control`, else it "
                "runs at full speed.")
          .empty_ok(),
      word_key("loads.*.fans.*", {"full", "stopped", "controlled"},
               "full, stopped, controlled (by its sensor, for a fan with `speed-control`), a speed (2100 "
               "rpm), or a "
               "share of full speed (60 %).")
          .or_a(D::rotation, "0 rpm", "60000 rpm"),
  };
}

}  // namespace tuft::casefile
