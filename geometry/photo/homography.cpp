#include "geometry/photo/homography.hpp"

#include <cmath>

namespace tuft::photo {
namespace {

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

std::array<double, 9> adjugate(const std::array<double, 9>& m) {
  return {m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8], m[1] * m[5] - m[2] * m[4],
          m[5] * m[6] - m[3] * m[8], m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
          m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7], m[0] * m[4] - m[1] * m[3]};
}

double determinant(const std::array<double, 9>& m) {
  return m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) +
         m[2] * (m[3] * m[7] - m[4] * m[6]);
}

}  // namespace

double signed_area(const Quadrilateral& corners) {
  return cross(corners[2] - corners[0], corners[3] - corners[1]);
}

bool is_convex(const Quadrilateral& corners) {
  // A corner flatter than this is a mistake of who marked it, not perspective.
  constexpr double kFlattest = 1e-3;  // of the sine of its turn
  const double sense = signed_area(corners);
  for (int i = 0; i < 4; ++i) {
    const Vec2 before = corners[(i + 1) % 4] - corners[i];
    const Vec2 after = corners[(i + 2) % 4] - corners[(i + 1) % 4];
    const double turn = cross(before, after);
    if (!std::isfinite(turn) || std::abs(turn) <= kFlattest * before.norm() * after.norm()) return false;
    if ((turn > 0.0) != (sense > 0.0)) return false;
  }
  return true;
}

// Derived: with w = 1 + g x + h y, the corners (1, 0) and (0, 1) give the linear coefficients from g and h,
// and (1, 1) then two linear equations for g and h.
std::optional<Homography> Homography::from_unit_square(const Quadrilateral& to) {
  if (!is_convex(to)) return std::nullopt;
  const Vec2 u = to[1] - to[2], v = to[3] - to[2], s = to[0] - to[1] + to[2] - to[3];
  const double det = cross(u, v);
  const double g = cross(s, v) / det, h = cross(u, s) / det;
  const Vec2 first = to[1] - to[0] + g * to[1], second = to[3] - to[0] + h * to[3];
  return Homography({first.x(), second.x(), to[0].x(), first.y(), second.y(), to[0].y(), g, h, 1.0});
}

std::optional<Homography> Homography::between(const Quadrilateral& from, const Quadrilateral& to) {
  const auto a = from_unit_square(from), b = from_unit_square(to);
  if (!a || !b) return std::nullopt;
  return b->after(a->inverse());
}

std::optional<Homography> Homography::from_two_points(const Vec2& from_a, const Vec2& from_b,
                                                      const Vec2& to_a, const Vec2& to_b, bool mirrored) {
  const double flip = mirrored ? -1.0 : 1.0;
  const Vec2 from(from_b.x() - from_a.x(), flip * (from_b.y() - from_a.y())), to = to_b - to_a;
  const double square = from.squaredNorm();
  if (!(square > 0.0) || !(to.squaredNorm() > 0.0)) return std::nullopt;
  // As complex numbers: to = q from.
  const double re = from.dot(to) / square, im = cross(from, to) / square;
  const std::array<double, 4> turn = {re, -im * flip, im, re * flip};
  const double x = to_a.x() - turn[0] * from_a.x() - turn[1] * from_a.y();
  const double y = to_a.y() - turn[2] * from_a.x() - turn[3] * from_a.y();
  return Homography({turn[0], turn[1], x, turn[2], turn[3], y, 0.0, 0.0, 1.0});
}

std::optional<Vec2> Homography::operator()(const Vec2& point) const {
  constexpr double kHorizon = 1e-9;
  const double gx = m_[6] * point.x(), hy = m_[7] * point.y(), w = gx + hy + m_[8];
  if (!(w > kHorizon * (std::abs(gx) + std::abs(hy) + std::abs(m_[8])))) return std::nullopt;
  return Vec2((m_[0] * point.x() + m_[1] * point.y() + m_[2]) / w,
              (m_[3] * point.x() + m_[4] * point.y() + m_[5]) / w);
}

Homography Homography::inverse() const {
  // Divided by the determinant w' is 1 / w there, so that it keeps its sign.
  std::array<double, 9> back = adjugate(m_);
  const double det = determinant(m_);
  for (double& each : back) each /= det;
  return Homography(back);
}

Homography Homography::after(const Homography& before) const {
  std::array<double, 9> out{};
  for (int row = 0; row < 3; ++row) {
    for (int column = 0; column < 3; ++column) {
      for (int k = 0; k < 3; ++k) out[3 * row + column] += m_[3 * row + k] * before.m_[3 * k + column];
    }
  }
  return Homography(out);
}

}  // namespace tuft::photo
