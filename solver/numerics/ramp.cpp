#include "solver/numerics/ramp.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace tuft::base {

Ramp::Ramp(std::vector<double> x, std::vector<double> y) : x_(std::move(x)), y_(std::move(y)) {
  if (x_.empty() || x_.size() != y_.size())
    throw std::invalid_argument("a ramp needs as many values as places, and at least one");
  for (std::size_t i = 1; i < x_.size(); ++i)
    if (!(x_[i] > x_[i - 1])) throw std::invalid_argument("the places of a ramp must rise");
}

RampValue Ramp::at(double x) const {
  if (x < x_.front()) return {y_.front(), 0.0};
  if (x >= x_.back()) return {y_.back(), 0.0};
  const auto i = static_cast<std::size_t>(std::upper_bound(x_.begin(), x_.end(), x) - x_.begin());
  const double slope = (y_[i] - y_[i - 1]) / (x_[i] - x_[i - 1]);
  return {y_[i - 1] + slope * (x - x_[i - 1]), slope};
}

}  // namespace tuft::base
