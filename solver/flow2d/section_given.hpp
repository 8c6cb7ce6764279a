// What a section is given by whoever solved the device as a network: what passes each vent, how warm it and
// the skin are.
#pragma once

#include <vector>

namespace tuft::section {

/// What is known of one vent.
struct VentGiven {
  double inflow = 0.0;       ///< gross, into the device, >= 0 [kg/s]
  double outflow = 0.0;      ///< gross, out of the device, >= 0 [kg/s]
  double temperature = 0.0;  ///< of the air that leaves, or would [K]; 0: that of the room
  /// Instead of the two flows: air passes by the vent's own law between `pressure` behind it and the field
  /// before it, either way.
  bool by_pressure = false;
  double pressure = 0.0;  ///< p' behind the vent at its centre [Pa], used with `by_pressure`
};

/// Lists are in the device's own order; an empty one says that nothing is known.
struct SectionGiven {
  std::vector<VentGiven> vents;  ///< one per Device::vents, or empty: nothing passes any
  std::vector<double> skins;     ///< temperature of each of Device::skins [K]; 0, or an empty list: adiabatic
  double chassis = 0.0;          ///< temperature of the rest of the chassis [K]; 0: adiabatic
};

}  // namespace tuft::section
