// The standard normal distribution, and Student's t: how far a mean of few replicates may be off.
#pragma once

namespace tuft::uncertainty {

/// z below which 97.5 % of a standard normal variable lies: half the central 95 % interval.
constexpr double kHalfWidth95 = 1.959963984540054;

/// Probability of a value below z; full relative accuracy in the lower tail.
double normal_cumulative(double z);

/// Natural logarithm of normal_cumulative(z), finite for every finite z (D3).
double log_normal_cumulative(double z);

/// The z below which a standard normal variable lies with probability p (D3), to rounding (Boost.Math).
/// Throws std::invalid_argument unless 0 < p < 1.
double normal_quantile(double p);

/// The t below which a value lies with probability p, to rounding, for a whole number of degrees of freedom
/// (D4). Throws std::invalid_argument unless 0 < p < 1 and degrees >= 1.
double student_quantile(double p, int degrees);

}  // namespace tuft::uncertainty
