// The signs of our figures: roles, arrows, gravity, scale.
#pragma once

#include <array>
#include <string>

#include "geometry/device/condition.hpp"
#include "tools/figure/svg.hpp"

namespace tuft::figure {

/// What a vent does in a figure: a role, or shut.
struct VentState {
  geometry::Role role = geometry::Role::idle;
  bool shut = false;
};

/// Each of them, in the order of keys.
inline constexpr std::array<VentState, 5> kVentStates = {{{geometry::Role::intake},
                                                          {geometry::Role::exhaust},
                                                          {geometry::Role::both_ways},
                                                          {geometry::Role::idle},
                                                          {geometry::Role::idle, true}}};

/// The paint of a role.
Paint vent_state_paint(const VentState& vent_state);
/// The word of a role in keys and labels: "takes air in", "lets air out", "both ways", "next to nothing",
/// "shut".
const char* vent_state_words(const VentState& vent_state);
/// The word for machines, in data-role: intake, exhaust, both-ways, idle, shut.
const char* vent_state_word(const VentState& vent_state);

/// The sign of a role. In: a filled disc with two wedges that point inwards. Out: a ring with two wedges that
/// point outwards. Both ways: half filled, one in and one out. Idle: a ring with a bar. Shut: a square with a
/// cross. Told apart by shape alone. `radius` [px] holds all of it.
void draw_mark(const VentState& vent_state, const Point& centre, double radius, Svg& svg);

/// An arrow on the page. Filled: air that goes in; hollow: air that comes out.
struct Arrow {
  Point from, to;      ///< tail and tip [px]
  double width = 9.0;  ///< of the head [px]; the head shrinks with short arrows
  Paint paint = Paint::intake;
  bool hollow = false;
  Tags tags = {};
};
void draw_arrow(const Arrow& arrow, Svg& svg);

/// Gravity as seen in a view: parts to the right and up on the page, and towards the person who looks; of a
/// unit vector.
struct Gravity {
  double right = 0.0, up = -1.0, towards = 0.0;
};
/// A ring of `radius` [px] with an arrow along its part in the plane; a dot when gravity points at the
/// reader, a cross when it points away.
void draw_gravity(const Gravity& gravity, const Point& centre, double radius, Svg& svg);

/// What that sign means, for a key: "gravity", or "gravity, away from you" where the sign is a cross.
std::string gravity_words(const Gravity& gravity);

/// Length for a scale bar: 1, 2 or 5 times a power of ten [m], the largest not above `most` [m].
double round_length(double most);
/// The same for anything [SI], round in the unit that it is shown in.
double round_in(const geometry::ShownUnit& unit, double most);
/// A length [m]: "50 mm", "2 in".
std::string length_text(double metres, geometry::UnitSystem units);
/// A volume flow [m3/s]: "1.23 L/s", "2.61 cfm".
std::string flow_label(double cubic_metres_per_second, geometry::UnitSystem units);
/// A round volume flow for a key: "0.5 L/s".
std::string round_flow_label(double cubic_metres_per_second, geometry::UnitSystem units);
/// A temperature [K] in whole degrees: "41 °C".
std::string temperature_label(double kelvin, geometry::UnitSystem units);
/// A share [-] as "54 %".
std::string share_label(double share);

}  // namespace tuft::figure
