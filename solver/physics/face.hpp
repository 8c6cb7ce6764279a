// A vent as an instrument before it sees it: a rectangle in a plane, with its own frame.
#pragma once

#include <Eigen/Core>

#include "solver/numerics/checks.hpp"

namespace tuft::instruments {

/// A vent's rectangle. Its frame: origin at the centre, x along the width, y along the height, z along the
/// normal out of the device, so z > 0 is the room. Lengths in m.
struct Face {
  double width = 0.0;       ///< > 0
  double height = 0.0;      ///< > 0
  double open_ratio = 1.0;  ///< free area of the cover over the face, 0 < it <= 1

  double area() const { return width * height; }
  double short_side() const { return width < height ? width : height; }
  double long_side() const { return width < height ? height : width; }
};

/// Throws std::invalid_argument unless the sides are > 0 and the open ratio within (0, 1].
inline void require_face(const Face& face) {
  base::require_positive(face.width, "width of the face");
  base::require_positive(face.height, "height of the face");
  base::require_within(face.open_ratio, 0.0, 1.0, "open ratio of the face");
}

/// Throws std::invalid_argument unless all three components are finite.
inline void require_finite_vector(const Eigen::Vector3d& vector, const char* what) {
  for (int i = 0; i < 3; ++i) base::require_finite(vector[i], what);
}

}  // namespace tuft::instruments
