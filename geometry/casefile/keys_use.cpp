// Rows of the key table: the lid, poses, supports, loads.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"

namespace tuft::casefile {

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
      quantity_key("lid.hides-hinge.*", D::share).no_spread().doc("Share hidden at this angle."),
      quantity_key("lid.edge-distance", D::length)
          .in("> 0 mm", "500 mm")
          .fallback("10..20..40 mm", "from the slot under the hinge up to the glass; judgement")
          .doc("Way of the air from the hinge vents to the lower edge of the screen. Counts only with a vent "
               "on the hinge."),
  };
}

std::vector<Key> use_keys() {
  using D = Dimension;
  return {
      named_key("poses").at_most(100).doc(
          "How the device is held. flat, upside-down, on-left-edge, on-right-edge, on-front-edge and "
          "on-rear-edge are known without being written (on-left-edge: the left side is down)."),
      map_key("poses.*")
          .or_one_of(geometry::pose_words())
          .doc("One pose: one of the known words, or a tilt from lying flat."),
      quantity_key("poses.*.tilt", D::angle)
          .must()
          .no_spread()
          .in("-360 deg", "360 deg")
          .doc("Angle turned from lying flat, right-handed about the axis."),
      word_key("poses.*.about", {"x", "y", "z"})
          .must()
          .or_vector(3)
          .doc("Axis of the device it is turned about: a letter, or a direction as a list of three numbers."),

      named_key("supports")
          .at_most(100)
          .doc("What the device rests on. air (nothing near) and table (hard, with the device's feet) are "
               "known without being written."),
      map_key("supports.*")
          .or_one_of(geometry::all_words<geometry::SupportKind>())
          .doc("One support. A bare word names the kind and takes its defaults."),
      word_key("supports.*.kind", geometry::all_words<geometry::SupportKind>())
          .must()
          .doc("air: nothing near; hard: table; soft: bed, sofa, cushion; lap: two legs; wall: hung with its "
               "base against a wall; stand: raised."),
      quantity_key("supports.*.gap", D::length)
          .in("0 mm", "1 m")
          .only({"hard", "soft", "lap", "wall", "stand"})
          .fallback_of("hard", "the device's feet", "a device stands on its feet")
          .fallback_of("stand", "25..40..80 mm", "folding stands for notebooks; judgement")
          .fallback_of("soft", "the feet less the sink", "soft things have no gap of their own")
          .fallback_of("lap", "the feet less the sink", "soft things have no gap of their own")
          .fallback_of("wall", "the device's feet", "the feet keep it off the wall")
          .doc("Clear gap between the resting face and the surface, instead of the feet; of a stand, its "
               "height."),
      quantity_key("supports.*.edge-gap", D::length)
          .in("0 mm", "100 mm")
          .only({"hard"})
          .fallback("0.3 mm */ 2", "unevenness of shell and table where a face without feet rests; judgement")
          .doc("Gap left when the device lies on another face than its base."),
      quantity_key("supports.*.sink", D::length)
          .in("0 mm", "200 mm")
          .only({"soft", "lap"})
          .fallback_of("soft", "3..8..15 mm", "a light device on bedding; judgement")
          .fallback_of("lap", "0..2..6 mm", "a light device on trousers; judgement")
          .doc("How far the device sinks in."),
      quantity_key("supports.*.covers", D::share)
          .only({"soft", "lap"})
          .fallback_of("soft", "50..80..95 %", "bedding that rises into the base; judgement")
          .fallback_of("lap", "20..40..65 %", "two legs under a base wider than they are; judgement")
          .doc("Share of the area of each vent on the resting face that is pressed shut."),
      quantity_key("supports.*.permeability", D::velocity)
          .in("0 mm/s", "10 m/s")
          .only({"soft", "lap"})
          .fallback("122 mm/s */ 4.1",
                    "woven upholstery passes 30..500 mm/s at 100 Pa; from memory, order of magnitude")
          .doc("Air permeability of the fabric: the velocity at 100 Pa, as ISO 9237 states it."),
      quantity_key("supports.*.thickness", D::length)
          .in("> 0 mm", "1 m")
          .only({"soft", "lap"})
          .fallback_of("soft", "30 mm */ 2", "cover and wadding the air is drawn through; judgement")
          .fallback_of("lap", "2 mm */ 2", "a layer or two of cloth; judgement")
          .doc("Thickness of the layer that air is drawn through."),
      references_key("supports.*.over", {"vents"})
          .only({"hard", "soft", "lap", "wall", "stand"})
          .doc("Vents on other faces that the support covers entirely, as a blanket does."),

      references_key("supports.*.touches", {"vents"})
          .only({"hard", "soft", "lap", "wall", "stand"})
          .doc(
              "The only vents of the resting face that lie against the support; without it, all of them do."),

      named_key("loads")
          .at_most(100)
          .fallback("one load named 'idle': no power, fans at full speed",
                    "shows what the fans do by themselves")
          .doc("What the device is doing."),
      map_key("loads.*").doc("One load."),
      named_key("loads.*.power")
          .at_most(100)
          .empty_ok()
          .doc("Power of each source; a source left out gives no heat."),
      quantity_key("loads.*.power.*", D::power).in("0 W", "10 kW").doc("Power of the source."),
      named_key("loads.*.fans")
          .at_most(100)
          .empty_ok()
          .doc("Setting of each fan; a fan left out follows its sensor if it has one (`follows`), else it "
               "runs at full speed."),
      word_key("loads.*.fans.*", {"full", "stopped", "follows"})
          .or_a(D::rotation)
          .in("0 rpm", "60000 rpm")
          .doc("full, stopped, follows (its sensor, for a fan with `follows`), a speed (2100 rpm), or a "
               "share of full speed (60 %)."),
  };
}

}  // namespace tuft::casefile
