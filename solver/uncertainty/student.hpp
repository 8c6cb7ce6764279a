// Student's t distribution: how far a mean of few replicates may be off.
#pragma once

namespace tuft::doubt {

/// The t below which a value lies with probability p, to rounding, for a whole number of degrees of freedom
/// (D4). Throws std::invalid_argument unless 0 < p < 1 and degrees >= 1.
double student_quantile(double p, int degrees);

}  // namespace tuft::doubt
