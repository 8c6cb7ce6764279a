#include "solver/physics/reading.hpp"

#include <cmath>

namespace tuft::instruments {

double normal_below(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

}  // namespace tuft::instruments
