#include "solver/network/lid_edge.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/physics/film.hpp"
#include "solver/physics/radiation.hpp"

namespace tuft::heat {
namespace {

constexpr double kSlotJet = 5.0;     // K of zone 2
constexpr double kStrip = 0.02;      // [m]
constexpr double kEmissivity = 0.9;  // [-]
constexpr double kHalfPi = 1.5707963267948966;

}  // namespace

LidEdge lid_edge(const SlotJet& jet, const air::AirState& state, double room) {
  if (!(jet.width > 0.0 && jet.height > 0.0 && jet.distance > 0.0 && jet.speed >= 0.0))
    throw std::invalid_argument("a slot jet needs a size, a distance and a speed that is not negative");
  const double kept = std::min(1.0, std::sqrt(kSlotJet * jet.height / jet.distance));
  LidEdge edge;
  edge.air_temperature = room + kept * (jet.temperature - room);
  const elements::FilmLaw back = elements::film_law({jet.width, kStrip, kHalfPi});
  // The heat gained falls as the strip gets warmer, so bisection between room and jet finds the balance.
  double low = std::min(room, edge.air_temperature);
  double high = std::max(room, edge.air_temperature);
  for (int i = 0; i < 60; ++i) {
    const double strip = 0.5 * (low + high);
    const double lost =
        elements::forced_flux(jet.width, kStrip, state, kept * jet.speed, strip, edge.air_temperature).value +
        elements::film_flux(back, state, strip, room).value +
        2.0 * elements::grey_flux(kEmissivity, strip, room).value;
    (lost > 0.0 ? high : low) = strip;
  }
  edge.temperature = 0.5 * (low + high);
  return edge;
}

}  // namespace tuft::heat
