#include "solver/uncertainty/distribution.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>
#include <string>

#include "solver/uncertainty/normal.hpp"

namespace tuft::doubt {

namespace {

[[noreturn]] void refuse(const char* what, const std::string& rule) {
  throw std::invalid_argument(std::string(what) + ": " + rule);
}

std::string with_numbers(const char* before, double a, double b, const char* after = "") {
  std::ostringstream text;
  text << before << a << " .. " << b << after;
  return text.str();
}

double deviation(const Distribution& d) { return (d.high - d.low) / (2.0 * kHalfWidth95); }

double triangular_cumulative(const Distribution& d, double x) {
  if (x <= d.low) return 0.0;
  if (x >= d.high) return 1.0;
  const double width = d.high - d.low;
  if (x < d.nominal) return (x - d.low) * (x - d.low) / (width * (d.nominal - d.low));
  return 1.0 - (d.high - x) * (d.high - x) / (width * (d.high - d.nominal));
}

double triangular_quantile(const Distribution& d, double p) {
  const double width = d.high - d.low;
  if (p * width < d.nominal - d.low) return d.low + std::sqrt(p * width * (d.nominal - d.low));
  return d.high - std::sqrt((1.0 - p) * width * (d.high - d.nominal));
}

/// Without the bounds.
double whole_cumulative(const Distribution& d, double x) {
  switch (d.shape) {
    case Shape::fixed:
      return x < d.nominal ? 0.0 : 1.0;
    case Shape::normal:
      return normal_cumulative((x - d.nominal) / deviation(d));
    case Shape::uniform:
      return std::clamp((x - d.low) / (d.high - d.low), 0.0, 1.0);
    case Shape::log_uniform:
      return x <= d.low ? 0.0 : std::min(std::log(x / d.low) / std::log(d.high / d.low), 1.0);
    case Shape::triangular:
      return triangular_cumulative(d, x);
  }
  return 0.0;
}

double whole_quantile(const Distribution& d, double p) {
  switch (d.shape) {
    case Shape::fixed:
      return d.nominal;
    case Shape::normal:
      return d.nominal + deviation(d) * normal_quantile(p);
    case Shape::uniform:
      return d.low + p * (d.high - d.low);
    case Shape::log_uniform:
      return d.low * std::exp(p * std::log(d.high / d.low));
    case Shape::triangular:
      return triangular_quantile(d, p);
  }
  return d.nominal;
}

/// Cumulative probability of the uncut shape at the two bounds.
struct Kept {
  double from = 0.0;
  double to = 1.0;
};

Kept kept(const Distribution& d) {
  if (d.shape == Shape::fixed) return {};
  return {std::isinf(d.floor) ? 0.0 : whole_cumulative(d, d.floor),
          std::isinf(d.ceiling) ? 1.0 : whole_cumulative(d, d.ceiling)};
}

void check_shape(const Distribution& d, const char* what) {
  if (d.shape == Shape::fixed) return;
  if (!(d.low < d.high)) refuse(what, with_numbers("the spread ", d.low, d.high, " has no width"));
  if (!(d.low <= d.nominal && d.nominal <= d.high)) {
    std::ostringstream text;
    text << "the nominal value " << d.nominal << " lies outside the spread " << d.low << " .. " << d.high;
    refuse(what, text.str());
  }
  if (d.shape == Shape::log_uniform && d.low <= 0.0) {
    refuse(what, with_numbers("a spread by a factor needs numbers above 0, found ", d.low, d.high));
  }
  const double off = std::abs(d.nominal - 0.5 * (d.low + d.high));
  if (d.shape == Shape::normal && off > 1e-6 * (d.high - d.low)) {
    refuse(what, with_numbers("the nominal value of a normal spread must be the middle of ", d.low, d.high));
  }
}

}  // namespace

void require_valid(const Distribution& d, const char* what) {
  const bool finite = std::isfinite(d.nominal) && std::isfinite(d.low) && std::isfinite(d.high);
  if (!finite || std::isnan(d.floor) || std::isnan(d.ceiling)) refuse(what, "every number must be finite");
  check_shape(d, what);
  if (!(d.floor <= d.nominal && d.nominal <= d.ceiling)) {
    std::ostringstream text;
    text << "the nominal value " << d.nominal << " lies outside the bounds " << d.floor << " .. "
         << d.ceiling;
    refuse(what, text.str());
  }
  if (cut_away(d) > 0.5) {
    refuse(what, with_numbers("the bounds ", d.floor, d.ceiling, " leave less than half of the spread"));
  }
}

double cut_away(const Distribution& d) {
  const Kept part = kept(d);
  return std::max(0.0, part.from + (1.0 - part.to));
}

double quantile(const Distribution& d, double u) {
  const Kept part = kept(d);
  // Rounding may bring a sum to an end of 0 .. 1 where the normal shape has no value.
  constexpr double kLeast = 1e-300;
  const double p = std::clamp(part.from + u * (part.to - part.from), kLeast, 1.0 - 0x1p-53);
  return std::clamp(whole_quantile(d, p), d.floor, d.ceiling);
}

}  // namespace tuft::doubt
