// Places in a photo and on a face, against a camera in three dimensions.
#include <catch2/catch.hpp>

#include "geometry/photo/photo_map.hpp"
#include "tests/photo/rendered.hpp"

using namespace tuft;
using namespace tuft::test;
using geometry::Photo;
using geometry::PhotoView;
using photo::PlaceFault;

namespace {

const geometry::Vec3 kDevice(0.30, 0.20, 0.02);

Vec2 extent(PhotoView view) {
  Photo photo;
  photo.view = view;
  return geometry::photo_extent(photo, kDevice);
}

bool clockwise(PhotoView view) {
  Photo photo;
  photo.view = view;
  return geometry::turns_clockwise(photo);
}

}  // namespace

TEST_CASE("each face turns as an eye outside sees it") {
  // By the definition of the axes (geometry/device/device.hpp): x to the right, y to the rear, z up. From
  // below, front up, x runs to the left (derived by turning a sheet over).
  CHECK(clockwise(PhotoView::base));
  CHECK_FALSE(clockwise(PhotoView::top));
  CHECK(clockwise(PhotoView::left));
  CHECK_FALSE(clockwise(PhotoView::right));
  CHECK_FALSE(clockwise(PhotoView::front));
  CHECK(clockwise(PhotoView::rear));
  CHECK(extent(PhotoView::inside) == Vec2(0.30, 0.20));
  CHECK(extent(PhotoView::left) == Vec2(0.20, 0.02));
  CHECK(extent(PhotoView::front) == Vec2(0.30, 0.02));
}

TEST_CASE("slanted, rolled and bulged photos of every face lead back to the face") {
  for (const PhotoView view : {PhotoView::base, PhotoView::top, PhotoView::left, PhotoView::right,
                               PhotoView::front, PhotoView::rear}) {
    for (const double bulge : {0.0, 0.08, -0.05}) {
      INFO(geometry::word_of(view) << ", bulge " << bulge);
      const Vec2 size = extent(view);
      Camera camera = camera_over(size, 1.4 * size.x(), 0.35, -0.25, 0.6, clockwise(view));
      camera.bulge = bulge;
      const Photo photo = photo_by_corners(camera, view, size);
      REQUIRE(photo::fault_of(photo) == PlaceFault::none);
      const auto map = photo::map_of(photo, kDevice, camera.width, camera.height);
      REQUIRE(map);
      for (const Vec2& share : {Vec2(0.5, 0.5), Vec2(0.1, 0.9), Vec2(0.83, 0.21)}) {
        const Vec2 at = share.cwiseProduct(size), pixel = camera.pixel(at);
        CHECK((map->face(pixel).value() - at).norm() < 1e-9);
        CHECK((map->pixel(at).value() - pixel).norm() < 1e-6);
      }
    }
  }
}

TEST_CASE("a copy of another size leads to the same places") {
  const Vec2 size = extent(PhotoView::base);
  Camera camera = camera_over(size, 0.4, 0.2, 0.1, 0.3, true);
  camera.bulge = 0.05;
  Photo photo = photo_by_corners(camera, PhotoView::base, size);
  photo.width = camera.width, photo.height = camera.height;
  const auto whole = photo::map_of(photo, kDevice, camera.width, camera.height);
  const auto half = photo::map_of(photo, kDevice, 0.5 * camera.width, 0.5 * camera.height);
  REQUIRE(whole);
  REQUIRE(half);
  const Vec2 at(0.07, 0.12);
  CHECK((2.0 * half->pixel(at).value() - whole->pixel(at).value()).norm() < 1e-9);
}

TEST_CASE("two points are enough for a photo taken square on") {
  for (const PhotoView view : {PhotoView::base, PhotoView::top}) {
    const Vec2 size = extent(view);
    const Camera camera = camera_over(size, 0.5, 0.0, 0.0, 0.4, clockwise(view));
    Photo photo;
    photo.view = view;
    photo.start_first = 0.02, photo.start_second = 0.03, photo.length = 0.25;
    const Vec2 a = camera.pixel({0.02, 0.03}), b = camera.pixel({0.27, 0.03});
    photo.two_points = {{a.x(), a.y()}, {b.x(), b.y()}};
    const auto map = photo::map_of(photo, kDevice, camera.width, camera.height);
    REQUIRE(map);
    const Vec2 at(0.21, 0.17);
    CHECK((map->face(camera.pixel(at)).value() - at).norm() < 1e-9);
  }
}

TEST_CASE(
    "the sense of the corners tells from where the inside is seen, and mirrored photos of faces are found") {
  const Vec2 size = extent(PhotoView::inside);
  const Camera below = camera_over(size, 0.5, 0.2, 0.0, 0.0, true),
               above = camera_over(size, 0.5, 0.2, 0.0, 0.0, false);
  CHECK(photo::seen_from(photo_by_corners(below, PhotoView::inside, size)) == geometry::OpenedAt::base);
  CHECK(photo::seen_from(photo_by_corners(above, PhotoView::inside, size)) == geometry::OpenedAt::top);
  CHECK(photo::fault_of(photo_by_corners(above, PhotoView::base, size)) == PlaceFault::wrong_way);
  CHECK(photo::fault_of(photo_by_corners(below, PhotoView::base, size)) == PlaceFault::none);
  CHECK_FALSE(photo::map_of(photo_by_corners(above, PhotoView::base, size), kDevice, 1200, 900));
  CHECK(photo::fault_of(Photo{}) == PlaceFault::no_places);
}

TEST_CASE("the mended bulge makes straight what is straight") {
  const Vec2 size = extent(PhotoView::top);
  Camera camera = camera_over(size, 0.35, 0.0, 0.0, 0.0, false);
  camera.bulge = 0.15;
  const photo::Bulge lens(0.15, camera.width, camera.height);
  const Vec2 a = lens.mended(camera.pixel({0.0, 0.0})), b = lens.mended(camera.pixel({0.15, 0.0})),
             c = lens.mended(camera.pixel({0.30, 0.0}));
  CHECK(std::abs(b.y() - 0.5 * (a.y() + c.y())) < 1e-6);
  CHECK(std::abs(camera.pixel({0.15, 0.0}).y() - camera.pixel({0.0, 0.0}).y()) > 10.0);
  for (const Vec2& at : {Vec2(3, 4), Vec2(600, 450), Vec2(1199, 2)})
    CHECK((lens.bulged(lens.mended(at)) - at).norm() < 1e-9);
}
