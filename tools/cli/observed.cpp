#include "tools/cli/observed.hpp"

#include <cmath>

#include "geometry/casefile/quantity.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::program {
namespace {

using bench::Instrument;
using casefile::Observed;

Instrument instrument_of(Observed what) {
  switch (what) {
    case Observed::strip:
      return Instrument::tell_tale;
    case Observed::anemometer:
      return Instrument::anemometer;
    case Observed::fan:
      return Instrument::fan_speed;
    case Observed::chip:
      return Instrument::chip_sensor;
    case Observed::skin:
    case Observed::air:
      return Instrument::thermocouple;
    case Observed::spot:
      return Instrument::infrared;
    case Observed::ruler:
      break;
  }
  return Instrument::ruler;
}

}  // namespace

belief::Observation observation_of(const casefile::ObservationLine& line,
                                   const std::vector<geometry::Spot>& spots) {
  belief::Observation out;
  out.reading = line.reading;
  // A lean "out" is along the vent's outward normal, as the observables have it.
  out.what.condition = line.condition;
  out.what.error = line.error;
  bench::Probe& probe = out.what.probe;
  probe.instrument = instrument_of(line.what);
  probe.tool = line.tool;
  probe.distance = line.distance;
  probe.hand_held = line.hand_held;
  switch (line.what) {
    case Observed::strip:
    case Observed::anemometer:
    case Observed::air:
      probe.vent = line.index;
      break;
    case Observed::spot:
      probe.spot = spots[static_cast<std::size_t>(line.index)];
      probe.place = probe.spot->on;
      break;
    case Observed::fan:
      probe.place = {geometry::PlaceKind::fan_inlet, line.index};
      break;
    case Observed::chip:
      probe.place = line.place;
      break;
    case Observed::skin:
      probe.place = {geometry::PlaceKind::skin, line.index};
      break;
    case Observed::ruler:
      out.what.input = line.index;
      if (out.what.error <= 0.0)
        out.what.error =
            line.words.find(".open") != std::string::npos || line.words.find(".blocked") != std::string::npos
                ? bench::kCountSigma
                : bench::kRulerSigma;
      break;
  }
  return out;
}

std::string reading_words(const casefile::ObservationLine& line, double shown,
                          const std::vector<std::string>& units) {
  switch (line.what) {
    case Observed::strip:
      return "air " + std::string(shown < 0.0 ? "in" : "out") + " at " +
             output::significant(100.0 * std::abs(shown), 3, 2) + " cm/s";
    case Observed::anemometer:
      return output::significant(shown, 3, 3) + " m/s";
    case Observed::fan:
      return output::significant(60.0 * shown, 4, 0) + " rpm";
    case Observed::ruler: {
      const geometry::Value value{shown, geometry::SpreadKind::none, shown, shown};
      return casefile::write_quantity(value, units[static_cast<std::size_t>(line.index)]);
    }
    case Observed::chip:
    case Observed::skin:
    case Observed::air:
    case Observed::spot:
      break;
  }
  return output::temperature_text(shown);
}

}  // namespace tuft::program
