// Checks of numbers handed to the solver: a wrong one is named at once instead of travelling on as a NaN.
#pragma once

#include <cstddef>
#include <cstdio>
#include <string>

namespace tuft::numerics {

/// True if none of the `count` numbers is infinite or NaN. A null pointer with count 0 is fine.
bool all_finite(const double* values, std::size_t count);

/// Returns `value`; throws std::invalid_argument "<what> = <value>: must be finite" otherwise.
double require_finite(double value, const char* what);

/// Returns `value`; throws std::invalid_argument unless finite and > 0.
double require_positive(double value, const char* what);

/// Returns `value`; throws std::invalid_argument unless finite and >= 0.
double require_not_negative(double value, const char* what);

/// Returns `value`; throws std::invalid_argument unless low < value <= high.
double require_within(double value, double low, double high, const char* what);

// A number in a message.

/// Six digits at most, as "%g". No stream: streams would bring all the world's ways of writing dates and
/// money into the solver of a page.
inline std::string short_text(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%g", value);
  return text;
}

}  // namespace tuft::numerics
