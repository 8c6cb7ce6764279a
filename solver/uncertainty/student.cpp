#include "solver/uncertainty/student.hpp"

#include <cmath>
#include <sstream>
#include <stdexcept>

#include "solver/numerics/constants.hpp"

namespace tuft::doubt {

namespace {

using base::kPi;

void check_degrees(int degrees) {
  if (degrees >= 1) return;
  std::ostringstream text;
  text << "degrees of freedom = " << degrees << ": must be 1 or more";
  throw std::invalid_argument(text.str());
}

/// Probability of a value within -t .. t.
double within(double t, int degrees) {
  const double angle = std::atan(t / std::sqrt(static_cast<double>(degrees)));
  const double c2 = std::cos(angle) * std::cos(angle);
  const bool odd = degrees % 2 == 1;
  double term = odd ? std::cos(angle) : 1.0;
  double sum = degrees == 1 ? 0.0 : term;
  for (int k = odd ? 3 : 2; k + 2 <= degrees; k += 2) {
    term *= c2 * static_cast<double>(k - 1) / static_cast<double>(k);
    sum += term;
  }
  return odd ? 2.0 / kPi * (angle + std::sin(angle) * sum) : std::sin(angle) * sum;
}

}  // namespace

double student_quantile(double p, int degrees) {
  check_degrees(degrees);
  if (!(p > 0.0 && p < 1.0)) {
    std::ostringstream text;
    text << "probability = " << p << ": must be > 0 and < 1";
    throw std::invalid_argument(text.str());
  }
  if (p == 0.5) return 0.0;
  const double wanted = std::abs(2.0 * p - 1.0);
  double low = 0.0;
  double high = 1.0;
  while (high < 1e12 && within(high, degrees) < wanted) high *= 2.0;
  // Halving is slow and can't go wrong; asked for once a probability.
  for (int i = 0; i < 200 && high - low > 1e-16 * high; ++i) {
    const double middle = 0.5 * (low + high);
    (within(middle, degrees) < wanted ? low : high) = middle;
  }
  return p < 0.5 ? -high : high;
}

}  // namespace tuft::doubt
