// A number of a case that is not known exactly: what is sampled, under one name, wherever it is used.
#pragma once

#include <limits>
#include <string>

#include "geometry/device/spread.hpp"

namespace tuft::geometry {

/// One uncertain input. Every Value that stands for the same physical thing carries its number.
struct Input {
  std::string key;  ///< path in the case file: "vents.base-grille.cover.open"
  Value prior;      ///< nominal value and spread as given or assumed [SI]
  double floor = -std::numeric_limits<double>::infinity();   ///< what is physical: least value [SI]
  double ceiling = std::numeric_limits<double>::infinity();  ///< and largest
};

/// Two inputs that hang together: two fans of one batch.
struct Together {
  int first = 0, second = 0;  ///< numbers of inputs
  double correlation = 0.0;   ///< of their normal scores, -1 < correlation < 1
};

}  // namespace tuft::geometry
