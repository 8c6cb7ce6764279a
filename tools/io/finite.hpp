// Results that leave the program are finite, or do not leave it.
#pragma once

#include <cmath>
#include <stdexcept>
#include <string>

#include "tools/io/utf8.hpp"

namespace tuft::io {

/// A result is infinite or not a number. The message names it ("conditions.use.vents.grille.pressure_Pa").
class NotFinite : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The value, never "-0", where it is finite; else throws NotFinite with its name. Every number of a result
/// passes here on its way into a file: by json_text(), csv_number() or the arrays of a VTK file.
inline double finite(double value, const std::string& name) {
  if (!std::isfinite(value)) throw NotFinite("the result " + printable(name) + " is not a finite number");
  return value + 0.0;
}

}  // namespace tuft::io
