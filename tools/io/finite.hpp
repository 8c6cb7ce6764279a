// Results that leave the program are finite, or do not leave it.
#pragma once

#include <stdexcept>

#include "tools/io/run.hpp"

namespace tuft::output {

/// A result is infinite or not a number. The message names it ("conditions.use.vents.grille.pressure").
class NotFinite : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Throws NotFinite for the first number of a run's results that is not finite. Writers call it before they
/// write the first byte.
void require_finite(const Run& run);

}  // namespace tuft::output
