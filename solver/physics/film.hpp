// Heat from a flat surface to air: published Nusselt numbers, and the laws made of them.
#pragma once

#include "solver/physics/air.hpp"
#include "solver/physics/radiation.hpp"

namespace tuft::physics {

// Published mean Nusselt numbers [-] of flat plates in air, as published; `film_flux` makes one law of them.

/// Isothermal vertical plate, Ra >= 0 and Nu on its height, laminar and turbulent in one:
/// Nu = {0.825 + 0.387 Ra^(1/6) / [1 + (0.492/Pr)^(9/16)]^(8/27)}^2. Churchill S.W., Chu H.H.S. (1975) Int.
/// J. Heat Mass Transfer 18:1323-1329, as transcribed in the ASHRAE Handbook - Fundamentals, ch. 4 (T9.3). Ra
/// up to 1e12; the plate is wide, so that the value at Ra = 0 is not that of a finite patch.
numerics::Sloped vertical_plate(const numerics::Sloped& rayleigh, const numerics::Sloped& prandtl);

/// Horizontal plate with the light air free to rise: hot and facing up, or cold and facing down. Ra, Nu on
/// area over perimeter. 0.96 Ra^(1/6) for 1 < Ra < 200, 0.59 Ra^(1/4) to 1e4, 0.54 Ra^(1/4) for 2.2e4 .. 8e6,
/// 0.15 Ra^(1/3) to 1.5e9. Lloyd J.R., Moran W.R. (1974) J. Heat Transfer 96:443-447 and Goldstein R.J. et
/// al. (1973), as transcribed in the ASHRAE Handbook - Fundamentals, ch. 4 (T9.5-T9.8). The published pieces
/// do not meet; here they go over into each other smoothly (in ln Nu against ln Ra) over 100 .. 400, 1e4
/// .. 2.2e4 and 4e6 .. 1.6e7, which leaves no piece by more than 2.5 % in its own range at and beyond 150.
numerics::Sloped face_up_plate(const numerics::Sloped& rayleigh);

/// Horizontal plate that holds the light air captive: hot and facing down, or cold and facing up. Ra, Nu on
/// area over perimeter: 0.27 Ra^(1/4), 1e5 < Ra < 1e10, McAdams, as transcribed in the ASHRAE Handbook
/// (T9.9).
numerics::Sloped face_down_plate(const numerics::Sloped& rayleigh);

/// Laminar flow along an isothermal plate, mean over its length, Re and Nu on the length:
/// Nu = 0.664 Re^(1/2) Pr^(1/3), Re < 5e5, Pr > 0.6. ASHRAE Handbook - Fundamentals, ch. 4, Table 8.
numerics::Sloped forced_plate(const numerics::Sloped& reynolds, const numerics::Sloped& prandtl);

/// Properties of air at a film temperature, which is the mean of a surface's and a room's.
struct FilmAir {
  numerics::Sloped conductivity;  ///< k [W/(m K)]
  numerics::Sloped prandtl;       ///< [-]
  numerics::Sloped rayleigh;  ///< g beta / (nu alpha) [1/(K m3)]: Rayleigh number per kelvin and cubic metre
  numerics::Sloped reynolds;  ///< 1 / nu [s/m2]: Reynolds number per speed and length
};

/// Properties at the film temperature [K], 200 K .. 500 K; beta = 1/T of an ideal gas, standard gravity. Of
/// moisture only the density knows.
FilmAir film_air(const AirState& state, const numerics::Sloped& film_temperature);

// Heat from a flat patch of the device's skin to the air of the room.

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

/// Heat flux [W/m2] by natural convection into still air, positive away from the surface, with its exact
/// slopes by the temperatures of surface and room. Temperatures in K, 200 .. 500.
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
numerics::Sloped film_flux(const FilmLaw& law, const AirState& state, double surface, double room);

/// The same into air that blows along a width x length [m] patch at a speed [m/s] >= 0, laminar:
/// `forced_plate` on the length, joined with conduction into still air as (h/k)^2 = forced^2 + still^2
/// (judgement), so that it neither vanishes nor gets an infinite slope at rest. Re < 5e5.
numerics::Sloped forced_flux(double width, double length, const AirState& state, double speed, double surface,
                             double room);

// The lower edge of a screen that stands in the air of an outlet.

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
LidEdge lid_edge(const SlotJet& jet, const AirState& state, double room);

}  // namespace tuft::physics
