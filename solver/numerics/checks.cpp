#include "solver/numerics/checks.hpp"

#include <cmath>
#include <stdexcept>

namespace tuft::numerics {
namespace {

[[noreturn]] void refuse(double value, const char* what, const std::string& relation) {
  throw std::invalid_argument(std::string(what) + " = " + short_text(value) + ": must be " + relation);
}

}  // namespace

bool all_finite(const double* values, std::size_t count) {
  for (std::size_t i = 0; i < count; ++i)
    if (!std::isfinite(values[i])) return false;
  return true;
}

double require_finite(double value, const char* what) {
  if (!std::isfinite(value)) refuse(value, what, "finite");
  return value;
}

double require_positive(double value, const char* what) {
  if (!std::isfinite(value) || value <= 0.0) refuse(value, what, "finite and > 0");
  return value;
}

double require_not_negative(double value, const char* what) {
  if (!std::isfinite(value) || value < 0.0) refuse(value, what, "finite and >= 0");
  return value;
}

double require_within(double value, double low, double high, const char* what) {
  if (!(value > low && value <= high))
    refuse(value, what, "> " + short_text(low) + " and <= " + short_text(high));
  return value;
}

}  // namespace tuft::numerics
