// A plane seen in perspective: from places on it to places in a picture and back.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>

namespace tuft::photo {

using Vec2 = Eigen::Vector2d;

/// Four corners, in the order of the unit square's (0, 0), (1, 0), (1, 1), (0, 1).
using Quadrilateral = std::array<Vec2, 4>;

/// Whether the corners, in their order, form a convex quadrilateral: each turn has the same sense and is more
/// than rounding. A face seen from where a camera can stand always does.
bool is_convex(const Quadrilateral& corners);

/// Twice the area the corners enclose, > 0 where they run clockwise in a picture (y down) [pixels^2].
double signed_area(const Quadrilateral& corners);

/// A projective map between two planes: (x, y) -> ((a x + b y + c) / w, (d x + e y + f) / w) with
/// w = g x + h y + i. Derived: the central projection of one plane onto another.
class Homography {
 public:
  /// The identity.
  Homography() = default;

  /// That takes the unit square's corners to these. None where they are not convex.
  static std::optional<Homography> from_unit_square(const Quadrilateral& to);
  /// That takes four corners to four others. None where either four are not convex.
  static std::optional<Homography> between(const Quadrilateral& from, const Quadrilateral& to);
  /// That takes two points to two others by turning, scaling and moving alone, after `mirrored` has reversed
  /// the second axis. None where two points coincide.
  static std::optional<Homography> from_two_points(const Vec2& from_a, const Vec2& from_b, const Vec2& to_a,
                                                   const Vec2& to_b, bool mirrored);

  /// Where a point goes; none where it goes to infinity or comes from behind the camera (w <= 0 while w > 0
  /// at the corners).
  std::optional<Vec2> operator()(const Vec2& point) const;

  /// The map back.
  Homography inverse() const;
  /// First `before`, then this.
  Homography after(const Homography& before) const;

  /// a, b, c, d, e, f, g, h, i.
  const std::array<double, 9>& coefficients() const { return m_; }

 private:
  explicit Homography(const std::array<double, 9>& m) : m_(m) {}

  std::array<double, 9> m_ = {1, 0, 0, 0, 1, 0, 0, 0, 1};
};

}  // namespace tuft::photo
