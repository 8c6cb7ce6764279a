// A numbered place that an infrared thermometer is pointed at.
#pragma once

#include <string>

#include "geometry/device/device.hpp"

namespace tuft::geometry {

/// It changes nothing of the device: it says what is looked at, and what that is made of.
struct Spot {
  std::string name;        ///< as written, mostly a number
  Place on;                ///< skin, part, fins or source
  std::string surface;     ///< a word of the program's list of surfaces; empty: skin, with its own emissivity
  double size = 0.01;      ///< smaller side of what is in sight of it [m]
  double distance = 0.15;  ///< of the thermometer [m]
  bool through_glass = false;
};

}  // namespace tuft::geometry
