#include "solver/uncertainty/normal.hpp"

#include <array>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {
namespace {

using Coefficients = std::array<double, 8>;

double polynomial(const Coefficients& c, double x) {
  double sum = 0.0;
  for (std::size_t i = c.size(); i-- > 0;) sum = sum * x + c[i];
  return sum;
}

// One ratio of polynomials each for the middle, the flanks and the far tails; lowest power first.
constexpr Coefficients kMiddleUp = {3.3871328727963666080,   1.3314166789178437745e2, 1.9715909503065514427e3,
                                    1.3731693765509461125e4, 4.5921953931549871457e4, 6.7265770927008700853e4,
                                    3.3430575583588128105e4, 2.5090809287301226727e3};
constexpr Coefficients kMiddleDown = {1.0,
                                      4.2313330701600911252e1,
                                      6.8718700749205790830e2,
                                      5.3941960214247511077e3,
                                      2.1213794301586595867e4,
                                      3.9307895800092710610e4,
                                      2.8729085735721942674e4,
                                      5.2264952788528545610e3};
constexpr Coefficients kFlankUp = {
    1.42343711074968357734, 4.63033784615654529590,    5.76949722146069140550,    3.64784832476320460504,
    1.27045825245236838258, 2.41780725177450611770e-1, 2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr Coefficients kFlankDown = {1.0,
                                     2.05319162663775882187,
                                     1.67638483018380384940,
                                     6.89767334985100004550e-1,
                                     1.48103976427480074590e-1,
                                     1.51986665636164571966e-2,
                                     5.47593808499534494600e-4,
                                     1.05075007164441684324e-9};
constexpr Coefficients kTailUp = {6.65790464350110377720,    5.46378491116411436990,
                                  1.78482653991729133580,    2.96560571828504891230e-1,
                                  2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                  2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr Coefficients kTailDown = {1.0,
                                    5.99832206555887937690e-1,
                                    1.36929880922735805310e-1,
                                    1.48753612908506148525e-2,
                                    7.86869131145613259100e-4,
                                    1.84631831751005468180e-5,
                                    1.42151175831644588870e-7,
                                    2.04426310338993978564e-15};

void check_degrees(int degrees) {
  if (degrees >= 1) return;
  refuse("degrees of freedom = ", degrees, ": must be 1 or more");
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
  return odd ? 2.0 / numerics::kPi * (angle + std::sin(angle) * sum) : std::sin(angle) * sum;
}

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
  const double q = p - 0.5;
  if (std::abs(q) <= 0.425) {
    const double r = 0.180625 - q * q;
    return q * polynomial(kMiddleUp, r) / polynomial(kMiddleDown, r);
  }
  const double r = std::sqrt(-std::log(q < 0.0 ? p : 1.0 - p));
  const double z = r <= 5.0 ? polynomial(kFlankUp, r - 1.6) / polynomial(kFlankDown, r - 1.6)
                            : polynomial(kTailUp, r - 5.0) / polynomial(kTailDown, r - 5.0);
  return q < 0.0 ? -z : z;
}

double student_quantile(double p, int degrees) {
  check_degrees(degrees);
  require_inside(p, "probability");
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

}  // namespace tuft::uncertainty
