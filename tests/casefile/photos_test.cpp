// Section photos: what a photo shows and where the face lies in it.
#include <catch2/catch.hpp>

#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;

TEST_CASE("photos arrive as written, and nothing is assumed about them") {
  const ReadResult with =
      read(small_case("photos:\n"
                      "  underside:\n"
                      "    file: pictures/base.jpg\n"
                      "    face: base\n"
                      "    corners: [[110, 90.5], [1900, 95], [1880, 1010], [120, 1000]]\n"
                      "    bulge: 0.04\n"
                      "    size: [2000, 1100]\n"
                      "  open: {file: open.png, face: inside, corners: [[0, 9], [9, 9], [9, 0], [0, 0]]}\n"
                      "  side: {file: side.png, face: left, two-points: [[10, 50], [510, 52]]}\n"
                      "  part: {file: part.png, face: top, two-points: [[0, 0], [50, 0]], length: 30 mm, "
                      "start: [5 mm, 7 mm]}\n"));
  INFO(messages(with));
  REQUIRE(with.errors.empty());
  const std::vector<Photo>& photos = with.file.content.photos;
  REQUIRE(photos.size() == 4);
  CHECK(photos[0].name == "underside");
  CHECK(photos[0].file == "pictures/base.jpg");
  CHECK(photos[0].view == PhotoView::base);
  REQUIRE(photos[0].corners.size() == 4);
  CHECK(photos[0].corners[0].y == 90.5);
  CHECK(photos[0].corners[3].x == 120.0);
  CHECK(photos[0].bulge == 0.04);
  CHECK(photos[0].width == 2000.0);
  CHECK(photos[0].height == 1100.0);
  // The corners run counterclockwise: x to the right, y up, as an eye above sees them.
  CHECK(photos[1].view == PhotoView::inside);
  CHECK(photos[1].seen_from == OpenedAt::top);
  // Length left out: the left face's extent along y.
  CHECK(photos[2].length == Approx(0.1));
  CHECK(photos[3].length == Approx(0.03));
  CHECK(photos[3].start_first == Approx(0.005));
  CHECK(photos[3].start_second == Approx(0.007));
  CHECK(with.file.assumptions.size() == read(small_case()).file.assumptions.size());
}
