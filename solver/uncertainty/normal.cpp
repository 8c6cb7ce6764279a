#include "solver/uncertainty/normal.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {
namespace {

// In double precision throughout: as exact as is needed, and the same on every machine.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

}  // namespace

double normal_cumulative(double z) { return 0.5 * std::erfc(-z * std::sqrt(0.5)); }

double log_normal_cumulative(double z) {
  // Below this the probability itself nears the smallest double; five terms of the asymptotic series are
  // exact to rounding here.
  if (z > -30.0) return std::log(normal_cumulative(z));
  const double q = 1.0 / (z * z);
  const double series = 1.0 - q * (1.0 - 3.0 * q * (1.0 - 5.0 * q * (1.0 - 7.0 * q)));
  return -0.5 * z * z - 0.5 * std::log(2.0 * numerics::kPi) - std::log(-z) + std::log(series);
}

double normal_quantile(double p) {
  require_inside(p, "probability");
  return -std::sqrt(2.0) * boost::math::erfc_inv(2.0 * p, InDouble());
}

double student_quantile(double p, int degrees) {
  if (degrees < 1) refuse("degrees of freedom = ", degrees, ": must be 1 or more");
  require_inside(p, "probability");
  return boost::math::quantile(boost::math::students_t_distribution<double, InDouble>(degrees), p);
}

}  // namespace tuft::uncertainty
