// Functions of uniform inputs whose mean, variance and Sobol' indices are known in closed form.
#pragma once

#include <cmath>
#include <vector>

namespace tuft::test {

constexpr double kPi = 3.14159265358979323846;

struct KnownIndices {
  double mean = 0.0;
  double variance = 0.0;
  std::vector<double> first, total;
};

/// T. Ishigami, T. Homma, "An importance quantification technique in uncertainty analysis for computer
/// models", Proc. First Int. Symp. on Uncertainty Modeling and Analysis (1990) 398-403: sin x1 + a sin^2 x2 +
/// b x3^4 sin x1 with x uniform in -pi .. pi, as transcribed in the documentation of several libraries; a =
/// 7, b = 0.1 as is customary.
inline double ishigami(const double* u) {
  const double x1 = kPi * (2.0 * u[0] - 1.0), x2 = kPi * (2.0 * u[1] - 1.0), x3 = kPi * (2.0 * u[2] - 1.0);
  return std::sin(x1) + 7.0 * std::sin(x2) * std::sin(x2) + 0.1 * std::pow(x3, 4) * std::sin(x1);
}

/// Derived by integration: E x^4 = pi^4/5, E x^8 = pi^8/9, E sin^2 = 1/2, Var sin^2 = 1/8.
inline KnownIndices ishigami_indices() {
  const double a = 7.0, b = 0.1, p4 = std::pow(kPi, 4);
  const double v1 = 0.5 * std::pow(1.0 + b * p4 / 5.0, 2);
  const double v2 = a * a / 8.0;
  const double v13 = 0.5 * b * b * p4 * p4 * (1.0 / 9.0 - 1.0 / 25.0);
  const double v = v1 + v2 + v13;
  return {0.5 * a, v, {v1 / v, v2 / v, 0.0}, {(v1 + v13) / v, v2 / v, v13 / v}};
}

/// Sobol's G function, product of (|4 u - 2| + a)/(1 + a): A. Saltelli, I. M. Sobol', "About the use of rank
/// transformation in sensitivity analysis of model output", Reliability Engineering and System Safety 50
/// (1995) 225-239 (reference from memory; the function as transcribed in the documentation of several
/// libraries, with these a).
inline const std::vector<double>& g_coefficients() {
  static const std::vector<double> a = {0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0};
  return a;
}

inline double g_function(const double* u) {
  double product = 1.0;
  const std::vector<double>& a = g_coefficients();
  for (std::size_t i = 0; i < a.size(); ++i) product *= (std::abs(4.0 * u[i] - 2.0) + a[i]) / (1.0 + a[i]);
  return product;
}

/// Derived: every factor has mean 1 and variance 1/(3 (1 + a)^2); V + 1 is the product of 1 + V_i.
inline KnownIndices g_indices() {
  double product = 1.0;
  std::vector<double> part;
  for (const double a : g_coefficients()) {
    part.push_back(1.0 / (3.0 * (1.0 + a) * (1.0 + a)));
    product *= 1.0 + part.back();
  }
  KnownIndices out;
  out.mean = 1.0;
  out.variance = product - 1.0;
  for (const double each : part) {
    out.first.push_back(each / out.variance);
    out.total.push_back(each * product / (1.0 + each) / out.variance);
  }
  return out;
}

}  // namespace tuft::test
