// A number with its slopes by two others: what is computed from it has exact slopes too (forward
// differentiation).
#pragma once

#include <cmath>

namespace tuft::numerics {

struct Sloped {
  double value = 0.0;
  double slope[2] = {0.0, 0.0};  ///< by the two variables

  Sloped() = default;
  Sloped(double constant) : value(constant) {}  // so that numbers mix
  Sloped(double number, double by_first, double by_second) : value(number), slope{by_first, by_second} {}

  /// A function of this number that has the value f and the slope f' there.
  Sloped through(double f, double f_slope) const { return {f, f_slope * slope[0], f_slope * slope[1]}; }
};

inline Sloped operator+(const Sloped& a, const Sloped& b) {
  return {a.value + b.value, a.slope[0] + b.slope[0], a.slope[1] + b.slope[1]};
}
inline Sloped operator-(const Sloped& a) { return {-a.value, -a.slope[0], -a.slope[1]}; }
inline Sloped operator-(const Sloped& a, const Sloped& b) { return a + -b; }
inline Sloped operator*(const Sloped& a, const Sloped& b) {
  return {a.value * b.value, a.slope[0] * b.value + a.value * b.slope[0],
          a.slope[1] * b.value + a.value * b.slope[1]};
}
inline Sloped operator*(const Sloped& a, double b) { return {a.value * b, a.slope[0] * b, a.slope[1] * b}; }
inline Sloped operator*(double a, const Sloped& b) { return b * a; }
inline Sloped operator/(const Sloped& a, const Sloped& b) {
  const double quotient = a.value / b.value;
  const double inverse = 1.0 / b.value;
  return {quotient, (a.slope[0] - quotient * b.slope[0]) * inverse,
          (a.slope[1] - quotient * b.slope[1]) * inverse};
}

inline Sloped sqrt(const Sloped& x) {
  const double root = std::sqrt(x.value);
  return x.through(root, 0.5 / root);
}
inline Sloped cbrt(const Sloped& x) {
  const double root = std::cbrt(x.value);
  return x.through(root, root / (3.0 * x.value));
}
inline Sloped exp(const Sloped& x) {
  const double power = std::exp(x.value);
  return x.through(power, power);
}
inline Sloped expm1(const Sloped& x) { return x.through(std::expm1(x.value), std::exp(x.value)); }
inline Sloped log(const Sloped& x) { return x.through(std::log(x.value), 1.0 / x.value); }
inline Sloped abs(const Sloped& x) { return x.value < 0.0 ? -x : x; }
inline Sloped tanh(const Sloped& x) {
  const double tangent = std::tanh(x.value);
  return x.through(tangent, 1.0 - tangent * tangent);
}
/// x^n, x >= 0. At 0 the infinite slope of n < 1 is left out: what it is multiplied by has to vanish there.
inline Sloped pow(const Sloped& x, double n) {
  const double power = std::pow(x.value, n);
  return x.through(power, x.value > 0.0 ? n * power / x.value : (n == 1.0 ? 1.0 : 0.0));
}
inline Sloped pow(double base, const Sloped& x) {
  const double power = std::pow(base, x.value);
  return x.through(power, std::log(base) * power);
}

}  // namespace tuft::numerics
