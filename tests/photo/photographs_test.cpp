// The open area of photographs: what is no grille is refused, and black squares on white, half and half by
// the way the board is made, are read as a half. tests/photo/photographs/README.md says where they come from.
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "geometry/photo/open_area.hpp"
#include "tools/figure/picture_file.hpp"

using namespace tuft;
using namespace tuft::photo;

namespace {

Picture photograph(const std::string& name) {
  std::ifstream file(std::string(TUFT_SOURCE_DIR) + "/tests/photo/photographs/" + name, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return figure::luminance_of(figure::read_picture(bytes.str(), 4000));
}

PhotoMap map_of_corners(const Picture& picture, double bulge, const Quadrilateral& corners,
                        const Vec2& size) {
  const Bulge lens(bulge, picture.width, picture.height);
  Quadrilateral mended = corners;
  for (Vec2& each : mended) each = lens.mended(each);
  const auto plane = Homography::between({Vec2(0, 0), Vec2(size.x(), 0), size, Vec2(0, size.y())}, mended);
  REQUIRE(plane);
  return PhotoMap(lens, *plane);
}

/// A board seen askew: corners of eight by five of its squares [pixels], found at the saddles of its light,
/// and the lens's bulge that makes its 54 saddles a regular grid, within 0.13 pixels (derived, from the
/// picture).
struct Board {
  const char* file;
  double bulge;
  Quadrilateral corners;
};
const Board kBoards[] = {
    {"board01.jpg",
     0.1635,
     {Vec2(244.85, 94.52), Vec2(514.32, 87.05), Vec2(510.77, 266.85), Vec2(249.12, 254.02)}},
    {"board04.jpg",
     0.1701,
     {Vec2(188.84, 131.25), Vec2(514.99, 109.47), Vec2(522.33, 338.79), Vec2(179.72, 328.77)}}};
constexpr int kColumns = 8, kRows = 5;
constexpr double kSquare = 0.01;  // [m]; any would do

void check_half(const OpenArea& out) {
  INFO(sentence(out.cannot) << sentence(out.doubt) << "; read " << out.open.low << ".." << out.open.value
                            << ".." << out.open.high);
  REQUIRE(out.tells());
  CHECK(out.doubt == Doubt::none);
  CHECK(out.open.value == Approx(0.5).margin(0.04));
  CHECK(out.open.low < 0.5);
  CHECK(out.open.high > 0.5);
}

}  // namespace

TEST_CASE("photographs of bricks, gravel and grass have no open area") {
  for (const char* name : {"brick.jpg", "gravel.jpg", "grass.jpg"}) {
    const Picture picture = photograph(name);
    const double side = picture.width;
    const PhotoMap map = map_of_corners(
        picture, 0.0, {Vec2(0, 0), Vec2(side, 0), Vec2(side, side), Vec2(0, side)}, Vec2(0.1, 0.1));
    for (const double size : {0.02, 0.04, 0.07, 0.085}) {
      for (const double shift : {-0.004, 0.0, 0.004}) {
        for (const double angle : {0.0, 0.03}) {
          const OpenArea out =
              open_area(picture, map, {Vec2(0.05 + shift, 0.05 - shift), size, 0.8 * size, angle});
          INFO(name << ", " << size << " by " << shift << ": open " << out.open.value << ", dark "
                    << out.dark);
          CHECK_FALSE(out.tells());
          CHECK(out.cannot != CannotTell::not_in_picture);
        }
      }
    }
  }
}

TEST_CASE("photographed rows and columns of black and white squares are half black") {
  for (const Board& board : kBoards) {
    const Picture picture = photograph(board.file);
    const PhotoMap map =
        map_of_corners(picture, board.bulge, board.corners, Vec2(kColumns * kSquare, kRows * kSquare));
    for (int row = 0; row < kRows; ++row) {
      INFO(board.file << ", row " << row);
      check_half(open_area(
          picture, map, {Vec2(0.5 * kColumns, row + 0.5) * kSquare, kColumns * kSquare, 0.7 * kSquare, 0.0}));
    }
    for (int column = 0; column < kColumns; ++column) {  // four of five: as many black as white
      INFO(board.file << ", column " << column);
      check_half(
          open_area(picture, map, {Vec2(column + 0.5, 2.0) * kSquare, 0.7 * kSquare, 4 * kSquare, 0.0}));
    }
  }
}

TEST_CASE("a photographed field of squares that meet at their corners is none of single holes") {
  for (const Board& board : kBoards) {
    const Picture picture = photograph(board.file);
    const Vec2 size(kColumns * kSquare, kRows * kSquare);
    const OpenArea out = open_area(picture, map_of_corners(picture, board.bulge, board.corners, size),
                                   {0.5 * size, size.x(), size.y(), 0.0});
    INFO(board.file << ": " << sentence(out.cannot));
    CHECK(out.cannot == CannotTell::joined);
    CHECK(out.open.value == Approx(0.5).margin(0.04));
  }
}
