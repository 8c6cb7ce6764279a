#include "solver/numerics/curves.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

#include "solver/numerics/checks.hpp"

namespace tuft::numerics {
namespace {

void check_points(const std::vector<double>& x, const std::vector<double>& y) {
  if (x.size() != y.size()) throw std::invalid_argument("curve: as many x as y are needed");
  if (x.size() < 2) throw std::invalid_argument("curve: at least two points are needed");
  if (!all_finite(x.data(), x.size()) || !all_finite(y.data(), y.size()))
    throw std::invalid_argument("curve: every coordinate must be finite");
  for (std::size_t i = 1; i < x.size(); ++i)
    if (x[i] <= x[i - 1]) throw std::invalid_argument("curve: x must rise strictly");
}

/// Slope of the chord of every interval.
std::vector<double> chords(const std::vector<double>& x, const std::vector<double>& y) {
  std::vector<double> chord(x.size() - 1);
  for (std::size_t i = 0; i < chord.size(); ++i) chord[i] = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
  return chord;
}

/// First guess: the chord at the ends, the mean of the two chords inside, 0 where they differ in sign.
std::vector<double> first_slopes(const std::vector<double>& chord) {
  std::vector<double> slope(chord.size() + 1);
  slope.front() = chord.front();
  slope.back() = chord.back();
  for (std::size_t i = 1; i < chord.size(); ++i)
    slope[i] = chord[i - 1] * chord[i] > 0.0 ? 0.5 * (chord[i - 1] + chord[i]) : 0.0;
  return slope;
}

/// Brings the slopes at the ends of each interval, over the chord, into the circle of radius 3: the largest
/// region of that shape in which the cubic is monotone (Fritsch & Carlson's second choice).
void limit_slopes(const std::vector<double>& chord, std::vector<double>& slope) {
  for (std::size_t i = 0; i < chord.size(); ++i) {
    if (chord[i] == 0.0) {
      slope[i] = slope[i + 1] = 0.0;
      continue;
    }
    const double radius = std::hypot(slope[i] / chord[i], slope[i + 1] / chord[i]);
    if (radius > 3.0) {
      slope[i] *= 3.0 / radius;
      slope[i + 1] *= 3.0 / radius;
    }
  }
}

}  // namespace

MonotoneCubic::MonotoneCubic(std::vector<double> x, std::vector<double> y)
    : x_(std::move(x)), y_(std::move(y)) {
  check_points(x_, y_);
  const std::vector<double> chord = chords(x_, y_);
  slope_ = first_slopes(chord);
  limit_slopes(chord, slope_);
}

CurveValue MonotoneCubic::operator()(double x) const {
  if (x_.empty()) return {};
  if (x <= x_.front()) return {y_.front() + slope_.front() * (x - x_.front()), slope_.front()};
  if (x >= x_.back()) return {y_.back() + slope_.back() * (x - x_.back()), slope_.back()};
  const int i = interval_of(x_, x);

  // Cubic in the distance s from the interval's left end: y + s (m + s (c + s d)).
  const double h = x_[i + 1] - x_[i];
  const double s = x - x_[i];
  const double chord = (y_[i + 1] - y_[i]) / h;
  const double c = (3.0 * chord - 2.0 * slope_[i] - slope_[i + 1]) / h;
  const double d = (slope_[i] + slope_[i + 1] - 2.0 * chord) / (h * h);
  return {y_[i] + s * (slope_[i] + s * (c + s * d)), slope_[i] + s * (2.0 * c + 3.0 * s * d)};
}

int interval_of(const std::vector<double>& places, double x) {
  const auto above = std::upper_bound(places.begin(), places.end(), x) - places.begin();
  return std::clamp(static_cast<int>(above) - 1, 0, static_cast<int>(places.size()) - 2);
}

Ramp::Ramp(std::vector<double> x, std::vector<double> y) : x_(std::move(x)), y_(std::move(y)) {
  if (x_.empty() || x_.size() != y_.size())
    throw std::invalid_argument("a ramp needs as many values as places, and at least one");
  for (std::size_t i = 1; i < x_.size(); ++i)
    if (!(x_[i] > x_[i - 1])) throw std::invalid_argument("the places of a ramp must rise");
}

CurveValue Ramp::at(double x) const {
  if (x < x_.front()) return {y_.front(), 0.0};
  if (x >= x_.back()) return {y_.back(), 0.0};
  const int i = interval_of(x_, x);
  const double slope = (y_[i + 1] - y_[i]) / (x_[i + 1] - x_[i]);
  return {y_[i] + slope * (x - x_[i]), slope};
}

}  // namespace tuft::numerics
