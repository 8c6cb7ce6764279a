// The lower edge of a screen that stands in the air of an outlet.
#pragma once

#include "solver/physics/air.hpp"

namespace tuft::heat {

/// Air leaving a slot towards the edge of a screen.
struct SlotJet {
  double width = 0.0;        ///< of the slot [m], > 0
  double height = 0.0;       ///< its short side [m], > 0
  double speed = 0.0;        ///< at the slot [m/s], >= 0
  double temperature = 0.0;  ///< [K]
  double distance = 0.0;     ///< from slot to edge along the jet [m], > 0
};

struct LidEdge {
  double air_temperature = 0.0;  ///< of the jet there [K]
  double temperature = 0.0;      ///< of the edge [K]
};

/// Temperature of a screen's lower edge. The jet of a slot keeps the share min(1, sqrt(K h/x)) of its speed,
/// K = 5 (the middle of 3.9 to 6.0 for slots; ASHRAE Handbook - Fundamentals, ch. 20, eq. 3 and table 1, as
/// transcribed publicly), and is taken to keep the same share of its warmth (judgement). It heats one side of
/// a strip of 20 mm (judgement) by `forced_flux`; the other side gives the heat off by natural convection,
/// standing, and both sides radiate with emissivity 0.9. Heat conducted along the screen is left out, so the
/// strip is no colder than this. Throws std::invalid_argument for sizes <= 0 or a negative speed.
LidEdge lid_edge(const SlotJet& jet, const air::AirState& state, double room);

}  // namespace tuft::heat
