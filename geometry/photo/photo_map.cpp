#include "geometry/photo/photo_map.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::photo {
namespace {

Vec2 at(const geometry::PixelPlace& place) { return {place.x, place.y}; }

Quadrilateral corners_of(const geometry::Photo& photo) {
  return {at(photo.corners[0]), at(photo.corners[1]), at(photo.corners[2]), at(photo.corners[3])};
}

// From face coordinates to the pixels of a picture without bulge.
std::optional<Homography> plane_of(const geometry::Photo& photo, const geometry::Vec3& device_size,
                                   const Bulge& bulge, const Vec2& scale) {
  const auto mended = [&](const geometry::PixelPlace& place) {
    return bulge.mended(at(place).cwiseProduct(scale));
  };
  if (photo.corners.size() == 4) {
    const Vec2 size = geometry::photo_extent(photo, device_size);
    const Quadrilateral face = {Vec2(0.0, 0.0), Vec2(size.x(), 0.0), size, Vec2(0.0, size.y())};
    return Homography::between(face, {mended(photo.corners[0]), mended(photo.corners[1]),
                                      mended(photo.corners[2]), mended(photo.corners[3])});
  }
  const Vec2 start(photo.start_first, photo.start_second);
  // In a picture y runs down: a face that turns counterclockwise is mirrored in these coordinates.
  return Homography::from_two_points(start, start + Vec2(photo.length, 0.0), mended(photo.two_points[0]),
                                     mended(photo.two_points[1]), !geometry::turns_clockwise(photo));
}

}  // namespace

Bulge::Bulge(double bulge, double width, double height)
    : bulge_(bulge), centre_(0.5 * width, 0.5 * height), half_diagonal_(centre_.norm()) {}

Vec2 Bulge::mended(const Vec2& pixel) const {
  if (bulge_ == 0.0 || !(half_diagonal_ > 0.0)) return pixel;
  const Vec2 out = (pixel - centre_) / half_diagonal_;
  // Outside the picture the model has a pole; a place there stays at a finite distance.
  constexpr double kLeast = 1e-3;
  return centre_ + half_diagonal_ / std::max(kLeast, 1.0 - bulge_ * out.squaredNorm()) * out;
}

Vec2 Bulge::bulged(const Vec2& pixel) const {
  if (bulge_ == 0.0 || !(half_diagonal_ > 0.0)) return pixel;
  const Vec2 out = (pixel - centre_) / half_diagonal_;
  const double root = std::sqrt(std::max(0.0, 1.0 + 4.0 * bulge_ * out.squaredNorm()));
  return centre_ + half_diagonal_ * 2.0 / (1.0 + root) * out;
}

std::optional<Vec2> PhotoMap::face(const Vec2& pixel) const { return to_face_(bulge_.mended(pixel)); }

std::optional<Vec2> PhotoMap::pixel(const Vec2& face) const {
  const auto plain = to_pixel_(face);
  return plain ? std::optional(bulge_.bulged(*plain)) : std::nullopt;
}

std::optional<Vec2> PhotoMap::pixel_size(const Vec2& face) const {
  const auto middle = pixel(face);
  if (!middle) return std::nullopt;
  Vec2 sizes(0.0, 0.0);
  for (int i = 0; i < 2; ++i) {
    const Vec2 step = 0.5 * Vec2::Unit(i);
    const auto before = this->face(*middle - step), after = this->face(*middle + step);
    if (!before || !after) return std::nullopt;
    sizes[i] = (*after - *before).norm();
  }
  return Vec2(sizes.minCoeff(), sizes.maxCoeff());
}

geometry::OpenedAt seen_from(const geometry::Photo& photo) {
  return photo.corners.size() == 4 && signed_area(corners_of(photo)) < 0.0 ? geometry::OpenedAt::top
                                                                           : geometry::OpenedAt::base;
}

PlaceFault fault_of(const geometry::Photo& photo) {
  if (photo.corners.size() == 4) {
    const Quadrilateral corners = corners_of(photo);
    if (!is_convex(corners)) return PlaceFault::not_convex;
    const bool clockwise = signed_area(corners) > 0.0;
    return clockwise == geometry::turns_clockwise(photo) ? PlaceFault::none : PlaceFault::wrong_way;
  }
  if (photo.two_points.size() != 2) return PlaceFault::no_places;
  const bool apart = (at(photo.two_points[1]) - at(photo.two_points[0])).norm() >= 1.0;
  return apart && photo.length > 0.0 ? PlaceFault::none : PlaceFault::points_coincide;
}

std::optional<PhotoMap> map_of(const geometry::Photo& photo, const geometry::Vec3& device_size, double width,
                               double height) {
  if (fault_of(photo) != PlaceFault::none || !(width > 0.0) || !(height > 0.0)) return std::nullopt;
  const bool sized = photo.width > 0.0 && photo.height > 0.0;
  const Vec2 scale = sized ? Vec2(width / photo.width, height / photo.height) : Vec2(1.0, 1.0);
  const Bulge bulge(photo.bulge, width, height);
  const auto plane = plane_of(photo, device_size, bulge, scale);
  return plane ? std::optional(PhotoMap(bulge, *plane)) : std::nullopt;
}

}  // namespace tuft::photo
