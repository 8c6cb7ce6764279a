// Heat from a flat patch of the device's skin to the air of the room.
#pragma once

#include "solver/physics/air.hpp"
#include "solver/physics/heat_flux.hpp"

namespace tuft::elements {

/// A rectangular patch of one temperature, free to the room on one side. Lengths in m, > 0.
struct Patch {
  double width = 0.0;   ///< across the direction in which air climbs
  double height = 0.0;  ///< along it (of the two sides the steeper one)
  double tilt =
      0.0;  ///< angle between the outward normal and up [rad]: 0 faces up, pi/2 stands, pi faces down
};

/// What `film_flux` needs of a patch; made once.
struct FilmLaw {
  double height = 0.0;             ///< [m]
  double side = 0.0;               ///< area over perimeter [m]
  double still = 0.0;              ///< conduction into still air, h/k [1/m]
  double along = 0.0;              ///< component of gravity along the patch, sin(tilt)
  double horizontal_if_hot = 0.0;  ///< weight of the horizontal law while the patch is the warmer one, 0 .. 1
  double horizontal_if_cold = 0.0;  ///< and while it is the colder one
  bool faces_up = false;
};

/// Heat transfer coefficient over conductivity [1/m] of one side of a width x height [m] patch in still air
/// that reaches far, the rest of its plane insulated: 4 M / (sqrt(pi) width height), M the
/// arithmetic-geometric mean of the sides. It is exact for the ellipse of the same area and ratio of axes
/// (capacity 4 pi epsilon a / K(e) with the complete elliptic integral K; derived), and so for a disc: 4 /
/// sqrt(pi) = 2.257 on the root of the area. A square has 2.30 (from memory), 2 % more; a strip 50 : 1 has
/// some 10 % less.
double still_air_conductance(double width, double height);

/// Makes the law of a patch. Throws std::invalid_argument for sides <= 0 or a tilt outside 0 .. pi.
FilmLaw film_law(const Patch& patch);

/// Heat flux by natural convection into still air, with exact derivatives. Temperatures in K, 200 .. 500.
///
/// With Rayleigh numbers of the properties at (T_s + T_a)/2 (docs/theory.md, H1):
///   standing, v:     `vertical_plate` on the height, gravity g sin(tilt);
///   horizontal, u:   `face_up_plate` or `face_down_plate` on area over perimeter, gravity g;
///   still, c:        `still_air_conductance`, below which a real patch never falls;
///   (h/k)^6 = c^6 + (1 - w) v^6 Ra_v / (Ra_v + 10) + w u^6.
/// The weight w is a smooth step of the angle e off the vertical: for captive air from e = 60 to 90 degrees,
/// as g cos(e) in the vertical law is taken to hold up to 60 (Rich 1953, Vliet 1969, from memory); for free
/// air from 0 to 90, because there g cos(e) holds for no range. The latter stays within 10 % of the rule to
/// take the larger of the vertical law with g cos(e) and the horizontal one with g sin(e) (Nellis & Klein,
/// Introduction to Engineering Heat Transfer, Cambridge 2021, as coded publicly). The fraction takes the
/// vertical law's constant at rest, that of an endless plate, away where the patch's own conduction stands
/// for it. The sixth power, the fraction and the smooth steps are judgements; they keep the flux and its
/// slopes continuous in temperatures and angle, through zero difference and through the vertical, and change
/// the published laws by less than 1e-3 above Ra 1e4 for a patch about as wide as high.
///
/// The laws are means of smooth isolated plates in a quiet room: expect +-20 %, more for patches below 20 mm
/// and for captive air, whose published laws begin at Ra 1e4 .. 1e5.
HeatFlux film_flux(const FilmLaw& law, const air::AirState& state, double surface, double room);

/// Heat flux into air that blows along a width x length [m] patch at a speed [m/s] >= 0, laminar:
/// `forced_plate` on the length, joined with conduction into still air as (h/k)^2 = forced^2 + still^2
/// (judgement), so that it neither vanishes nor gets an infinite slope at rest. Re < 5e5.
HeatFlux forced_flux(double width, double length, const air::AirState& state, double speed, double surface,
                     double room);

}  // namespace tuft::elements
