#include "tests/photo/rendered.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstdint>

namespace tuft::test {
namespace {

/// Sum of twelve even numbers less six: nearly normal, and the same everywhere.
class Noise {
 public:
  double next() {
    double sum = -6.0;
    for (int i = 0; i < 12; ++i) sum += even();
    return sum;
  }

 private:
  double even() {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(state_ >> 11) / 9007199254740992.0;
  }
  std::uint64_t state_ = 42;
};

void blur(std::vector<double>& light, int width, int height, double sigma) {
  if (sigma <= 0.0) return;
  const int reach = static_cast<int>(std::ceil(3.0 * sigma));
  std::vector<double> weights;
  double sum = 0.0;
  for (int i = -reach; i <= reach; ++i) {
    weights.push_back(std::exp(-0.5 * i * i / (sigma * sigma)));
    sum += weights.back();
  }
  for (double& weight : weights) weight /= sum;
  std::vector<double> across(light.size());
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      for (int i = -reach; i <= reach; ++i)
        across[y * width + x] += weights[i + reach] * light[y * width + std::clamp(x + i, 0, width - 1)];
  std::fill(light.begin(), light.end(), 0.0);
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      for (int i = -reach; i <= reach; ++i)
        light[y * width + x] += weights[i + reach] * across[std::clamp(y + i, 0, height - 1) * width + x];
}

}  // namespace

Vec2 Camera::pixel(const Vec2& face) const {
  const Vec3 at = origin + face.x() * first + face.y() * second;
  const Vec2 centre(0.5 * width, 0.5 * height);
  const Vec2 out = focal * Vec2(at.x(), at.y()) / at.z();
  const double half = centre.norm(), r = out.norm() / half;
  if (bulge == 0.0 || r == 0.0) return centre + out;
  double low = 0.0, high = bulge > 0.0 ? std::min(2.0 * r + 1.0, 0.999999 / std::sqrt(bulge)) : 3.0 * r;
  for (int i = 0; i < 200; ++i) {
    const double s = 0.5 * (low + high);
    (s / (1.0 - bulge * s * s) < r ? low : high) = s;
  }
  return centre + out * (0.5 * (low + high) / r);
}

Vec2 Camera::face(const Vec2& pixel) const {
  const Vec2 centre(0.5 * width, 0.5 * height);
  const double half = centre.norm();
  Vec2 out = pixel - centre;
  out /= 1.0 - bulge * out.squaredNorm() / (half * half);
  // The ray meets the plane where both have the same height along its normal.
  const Vec3 ray(out.x() / focal, out.y() / focal, 1.0), normal = first.cross(second);
  const Vec3 met = normal.dot(origin) / normal.dot(ray) * ray - origin;
  return {met.dot(first), met.dot(second)};
}

Camera camera_over(const Vec2& face_size, double distance, double slant_x, double slant_y, double roll,
                   bool clockwise) {
  const Eigen::Matrix3d turn =
      (Eigen::AngleAxisd(roll, Vec3::UnitZ()) * Eigen::AngleAxisd(slant_x, Vec3::UnitX()) *
       Eigen::AngleAxisd(slant_y, Vec3::UnitY()))
          .toRotationMatrix();
  Camera out;
  out.first = turn * Vec3::UnitX();
  out.second = turn * Vec3(0.0, clockwise ? 1.0 : -1.0, 0.0);
  out.origin = Vec3(0.0, 0.0, distance) - 0.5 * face_size.x() * out.first - 0.5 * face_size.y() * out.second;
  return out;
}

photo::Picture rendered(const Camera& camera, const std::function<double(const Vec2&)>& reflectance,
                        const Conditions& conditions) {
  constexpr int kSamples = 3;
  photo::Picture out{camera.width, camera.height, {}};
  std::vector<double> light(static_cast<std::size_t>(camera.width) * camera.height);
  for (int y = 0; y < camera.height; ++y) {
    for (int x = 0; x < camera.width; ++x) {
      double sum = 0.0;
      for (int k = 0; k < kSamples * kSamples; ++k)
        sum += reflectance(
            camera.face(Vec2(x + (k % kSamples + 0.5) / kSamples, y + (k / kSamples + 0.5) / kSamples)));
      const Vec2 from_centre((x + 0.5) / camera.width - 0.5, (y + 0.5) / camera.height - 0.5);
      light[y * camera.width + x] = sum / (kSamples * kSamples) * (1.0 + conditions.slope.dot(from_centre));
    }
  }
  blur(light, camera.width, camera.height, conditions.blur);
  Noise noise;
  for (const double each : light)
    out.luminance.push_back(static_cast<std::uint8_t>(std::lround(
        photo::value_of(each + (conditions.noise > 0.0 ? conditions.noise * noise.next() : 0.0)))));
  return out;
}

geometry::Photo photo_by_corners(const Camera& camera, geometry::PhotoView view, const Vec2& face_size) {
  geometry::Photo out;
  out.view = view;
  out.bulge = camera.bulge;
  const Vec2 corners[] = {Vec2(0, 0), Vec2(face_size.x(), 0), face_size, Vec2(0, face_size.y())};
  for (const Vec2& corner : corners) {
    const Vec2 at = camera.pixel(corner);
    out.corners.push_back({at.x(), at.y()});
  }
  return out;
}

}  // namespace tuft::test
