#include "solver/network/transient_words.hpp"

#include <cmath>
#include <cstdio>

#include "solver/numerics/constants.hpp"

namespace tuft::transient {
namespace {

std::string with_digits(double value, int digits, const char* unit) {
  char text[48];
  std::snprintf(text, sizeof text, "%.*f %s", digits, value, unit);
  return text;
}

}  // namespace

std::string celsius(double kelvin) { return with_digits(kelvin - base::kZeroCelsius, 1, "°C"); }
std::string watts(double power) { return with_digits(power, 1, "W"); }
std::string turns(double speed) { return with_digits(std::round(60.0 * speed), 0, "rpm"); }

}  // namespace tuft::transient
