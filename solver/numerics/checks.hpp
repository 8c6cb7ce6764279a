// Checks of numbers handed to the solver: a wrong one is named at once instead of travelling on as a NaN.
#pragma once

#include <cstddef>

namespace tuft::base {

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

}  // namespace tuft::base
