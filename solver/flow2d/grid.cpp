#include "solver/flow2d/grid.hpp"

#include <cstddef>
#include <stdexcept>
#include <string>

namespace tuft::field {

Axis::Axis(std::vector<double> faces) : faces_(std::move(faces)) {
  if (faces_.size() < 2) throw std::invalid_argument("grid axis: at least two faces are needed");
  for (std::size_t i = 0; i + 1 < faces_.size(); ++i) {
    const double width = faces_[i + 1] - faces_[i];
    if (!(width > 0.0))
      throw std::invalid_argument("grid axis: face " + std::to_string(i + 1) +
                                  " does not lie beyond the face before it");
    widths_.push_back(width);
    centres_.push_back(0.5 * (faces_[i] + faces_[i + 1]));
  }
}

Axis uniform_axis(int n, double from, double to) {
  std::vector<double> faces;
  for (int i = 0; i <= n; ++i) faces.push_back(from + (to - from) * i / n);
  return Axis(std::move(faces));
}

Axis coarsened(const Axis& axis) {
  std::vector<double> faces;
  for (int i = 0; i < axis.n(); i += 2) faces.push_back(axis.faces()[static_cast<std::size_t>(i)]);
  faces.push_back(axis.faces().back());
  return Axis(std::move(faces));
}

}  // namespace tuft::field
