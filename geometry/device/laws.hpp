// How far the laws of the model may be wrong, as inputs like any other. Knows no physics.
#pragma once

#include <array>

#include "geometry/device/cover.hpp"

namespace tuft::geometry {

/// The two parts of what a kind of grille resists, each times what its law gives [-].
struct CoverLaw {
  Value inertial = 1.0;
  Value viscous = 1.0;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& law) {
    to.field("inertial", law.inertial, "inertial");
    to.field("viscous", law.viscous, "viscous");
  }
};

/// Factors [-] on what the laws give, > 0 (jet_suction >= 0); 1 is the law itself. One for each family of
/// laws that share a cause of error: if a law is wrong for one vent, it is wrong in the same way for the next
/// one of its kind. The defaults' spreads and their sources stand in the table of keys (docs/theory.md, D24).
struct Laws {
  std::array<CoverLaw, kCoverKindCount> covers;  ///< in the order of CoverKind
  Value passages = 1.0;                          ///< resistance of passages between zones
  Value exchange = 1.0;                          ///< head that drives air both ways through one opening
  Value mixing = 1.0;        ///< momentum that a stream inside an unmixed zone has to be given
  Value entrainment = 1.0;   ///< air that plumes draw in
  Value jet_suction = 0.0;   ///< what outlets' jets draw with on openings beside them; 0: nothing
  Value still_rotor = 1.0;   ///< resistance of a fan that stands, or is driven beyond its curve
  Value fan_backflow = 1.0;  ///< the same again where air goes backwards through it
  Value gap = 1.0;           ///< resistance of the ways through a gap before a face
  Value fabric = 1.0;        ///< resistance of what air is drawn through
  Value fin_flow = 1.0;      ///< resistance of fin stacks
  Value fin_heat = 1.0;      ///< film between fins and air
  Value film = 1.0;          ///< natural convection off skin
  Value radiation = 1.0;     ///< off skin
  Value contact = 1.0;       ///< heat through a close gap into what lies behind

  template <class Archive, class Self>
  static void fields(Archive& to, Self& laws) {
    for (std::size_t i = 0; i < kCoverKindCount; ++i) to.field(kCoverKinds[i].word, laws.covers[i]);
    to.field("passages", laws.passages, "passages");
    to.field("exchange", laws.exchange, "exchange");
    to.field("mixing", laws.mixing, "mixing");
    to.field("entrainment", laws.entrainment, "entrainment");
    to.field("jet_suction", laws.jet_suction, "jet-suction");
    to.field("still_rotor", laws.still_rotor, "still-rotor");
    to.field("fan_backflow", laws.fan_backflow, "fan-backflow");
    to.field("gap", laws.gap, "gap");
    to.field("fabric", laws.fabric, "fabric");
    to.field("fin_flow", laws.fin_flow, "fin-flow");
    to.field("fin_heat", laws.fin_heat, "fin-heat");
    to.field("film", laws.film, "film");
    to.field("radiation", laws.radiation, "radiation");
    to.field("contact", laws.contact, "contact");
  }
};

}  // namespace tuft::geometry
