// A number that isn't known exactly, as a distribution that can be sampled.
#pragma once

#include <limits>

namespace tuft::doubt {

enum class Shape {
  fixed,        ///< always `nominal`
  normal,       ///< low..high is the central 95 % interval, nominal its middle
  uniform,      ///< anywhere in low..high, equally likely
  log_uniform,  ///< the logarithm is uniform; low > 0
  triangular    ///< low..high with the mode at nominal
};

/// A distribution (D5) cut off at the physical bounds `floor` and `ceiling`: what lies beyond them is left
/// out and the rest scaled up to 1, so that no probability heaps up at a bound. low <= nominal <= high.
struct Distribution {
  Shape shape = Shape::fixed;
  double nominal = 0.0;
  double low = 0.0;
  double high = 0.0;
  double floor = -std::numeric_limits<double>::infinity();
  double ceiling = std::numeric_limits<double>::infinity();
};

/// Throws std::invalid_argument "<what>: ..." if a number is not finite, low <= nominal <= high is broken, a
/// shape's own condition is broken, the nominal value lies outside the bounds, or the bounds leave less than
/// half of the probability: a spread that has little to do with what is physical is a mistake.
void require_valid(const Distribution& distribution, const char* what);

/// Probability of the uncut shape that lies beyond the bounds; the caller may want to tell the person.
double cut_away(const Distribution& distribution);

/// The value below which a part `u` of the cut distribution lies, within the bounds. 0 < u < 1.
/// @pre require_valid passes.
double quantile(const Distribution& distribution, double u);

}  // namespace tuft::doubt
