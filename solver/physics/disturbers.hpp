// What else moves the air at a bench: the person who looks, and the room.
#pragma once

#include <string>

#include "solver/physics/reading.hpp"

namespace tuft::instruments {

/// Air that is none of the device's.
struct Disturbance {
  std::string name;
  Range speed;        ///< [m/s]
  Range temperature;  ///< [K]
  Known known = Known::Judgement;
  std::string source;
};

/// Breath at a distance from mouth or nose [m] > 0, in a room [K], while one breathes out towards it.
///
/// A jet of the mouth's opening, 120 mm2, at the peak of a quiet breath: pi times a minute volume of 8.8 l
/// (half the time out, as a sine). Opening, volume and 34 C: manikin data tabled in a review, Indoor Air 31
/// (2021) 7-25. V = K sqrt(A) U0/x = 0.24/x, K = 5.7. Not above 1.4 m/s, the fastest that was seen of nasal
/// breath (1.3 m/s of oral breath), which reached 0.6 to 0.8 m: Tang J.W. et al. (2013) PLoS ONE 8:e59970.
/// Range: half and one and a half times, 0 below beyond 0.8 m (docs/theory.md, I14).
Disturbance breath(double distance, double room);

/// Air that a standing or sitting body drives upwards, at a distance from it [m] >= 0, in a room [K].
///
/// Next to the body up to 0.25 m/s in a layer of up to 50 mm (a public safety encyclopedia); falling off
/// outside it within another layer's width to the slow draught towards the body (0.02 m/s), both judgement.
Disturbance body_plume(double distance, double room);

/// Air rising from a hand held below, at a height over it [m] > 0, in a room [K]: the plume (`patch_plume`)
/// of 1.8 W, a hand of 0.04 m2 at 33 C losing 4 W/(m2 K) to air of 22 C, scaled with the difference
/// (judgement); 0 in a room as warm as the hand.
Disturbance hand_plume(double height, double room);

/// Air of a room with nobody walking and no fan or open window: 0.08 m/s, 0.03 to 0.15. The upper end is what
/// an equipment maker's page quotes as ASHRAE's "still air"; the rest is judgement. Any direction.
Disturbance room_draught(double room);

/// How far a signal [m/s] >= 0 stands out: its speed over the disturber's. Below 1 the disturber is the
/// larger one. Judged on the upper end of the disturber's range, so that a "yes" is safe.
double signal_over(double signal, const Disturbance& disturbance);

}  // namespace tuft::instruments
