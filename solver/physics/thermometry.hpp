// Thermocouple and infrared spot: what they show of a surface.
#pragma once

#include <string>

#include "solver/physics/air.hpp"
#include "solver/physics/materials.hpp"
#include "solver/physics/radiation.hpp"

namespace tuft::physics {

/// An infrared thermometer or one spot of a camera.
struct InfraredSpot {
  Band band = Band::long_wave;
  double set_emissivity = 0.95;   ///< what it is told, (0, 1]
  double set_reflected = 293.15;  ///< what it takes the surroundings for [K]; most take their own warmth
  double distance_ratio = 12.0;   ///< distance to spot, > 0
  double smallest_spot = 0.005;   ///< diameter close up [m], > 0
  double absolute_error = 2.0;    ///< 95 % [K]; 2 K or 2 % is typical of makers' data, from memory
  double relative_error = 0.02;   ///< 95 % of the shown degrees Celsius
};

/// What it looks at.
struct SpotTarget {
  double temperature = 293.15;            ///< of the surface [K]
  Range emissivity = {0.95, 0.93, 0.97};  ///< of the surface, (0, 1]
  double reflected = 293.15;              ///< of what the surface mirrors [K]
  double air = 293.15;                    ///< of the air between [K]
  double transmittance = 1.0;             ///< of the air between, (0, 1]; 1 over a bench's distances
  double distance = 0.3;                  ///< [m], > 0
  double diameter = 0.02;                 ///< of the target [m], > 0
  bool glass_between = false;
};

/// Diameter of the spot [m]: distance over ratio, not below the smallest. Ratio by definition of it.
double spot_diameter(const InfraredSpot& spot, double distance);

/// Radiant flux [W/m2] that reaches the instrument, eps tau W(obj) + (1 - eps) tau W(refl) + (1 - tau) W(air)
/// (docs/theory.md, I17; infrared-camera manuals, confirmed), surroundings of emissivity 1.
double radiance_seen(Band band, const SpotTarget& target, double emissivity);

/// Temperature [K] the instrument displays for that flux: it solves the same equation with what it is told,
/// tau = 1 (I18). Throws std::invalid_argument where no temperature belongs to it.
double displayed_temperature(const InfraredSpot& spot, double flux);

/// What a reading of a surface is worth.
struct SpotReading {
  bool refused = false;
  std::string reason;  ///< why refused; empty otherwise
  Reading reading;    ///< of the display [K]; uncertainty from emissivity and instrument; only if not refused
  double spot = 0.0;  ///< diameter [m]
};

/// Refused: through glass, which is opaque in the long-wave band; off a surface below `least_emissivity`, as
/// bare metal shows the room; a spot larger than its target; a flux no temperature belongs to.
SpotReading read_spot(const InfraredSpot& spot, const SpotTarget& target);

/// What is to be said beside every infrared reading.
extern const char* const infrared_caution;

/// A bare thermocouple of thin wires, its junction and some of the wires taped to the surface.
struct Thermocouple {
  double wire = 0.2e-3;                     ///< diameter of a wire [m], > 0
  double conductivity = 25.0;               ///< of the wires, mean of a type K pair [W/(m K)], from memory
  double taped = 0.010;                     ///< length of wire under the tape [m], > 0
  Range contact = {2000.0, 500.0, 8000.0};  ///< conductance wire to surface [W/(m2 K)], judgement
  Range film = {0.45, 0.3, 1.0};            ///< Nusselt number of the wire in the air, judgement
  double absolute_error = 1.5;              ///< 95 % [K]; type K, IEC 60584 class 1, from memory
};

/// Share of the difference between surface and air by which it reads too low on a surface of a conductivity
/// [W/(m K)] (metal 150, plastic 0.2): the wires lead heat into the air, which has to come in through the
/// contact (docs/theory.md, I19; exact for fins, derived):
///
///     phi = G_a/(G_a + G_t tanh(m l))/cosh(m l),   G = (g k pi d^2/4)^(1/2),   m = (4 g_t/(pi k d^2))^(1/2)
///     g_a = pi Nu k_air in the air,   1/g_t = 1/(h_c d) + 1/k_s under the tape    [W/(m K)]
///
/// The share of the surface itself in g_t, one k_s a length, is a judgement. `low` and `high` take contact
/// and film at their ends.
Range contact_error(const Thermocouple& couple, double surface_conductivity, double air_temperature);

/// Reading on a surface [K] in air [K].
Reading read_contact(const Thermocouple& couple, double surface, double surface_conductivity,
                     double air_temperature);

/// Reading in free air [K] of a speed [m/s] >= 0 among surfaces at `surroundings` [K]: a bare wire of
/// emissivity 0.5 (judgement) between them, with Nu = 0.42 Pr^0.2 + 0.57 Pr^(1/3) Re^(1/2) (Kramers, from
/// memory).
Reading read_air(const Thermocouple& couple, const AirState& state, double air_temperature,
                 double surroundings, double speed);

}  // namespace tuft::physics
