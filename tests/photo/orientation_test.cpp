// The eight ways a camera can be held.
#include <catch2/catch.hpp>

#include "geometry/photo/orientation.hpp"

using namespace tuft::photo;

namespace {

// Upright it is an F, 3 wide and 4 high: no turn and no mirror leaves it as it is.
const std::vector<std::uint8_t> kUpright = {1, 1, 1, 1, 0, 0, 1, 1, 0, 1, 0, 0};

// The stored rows of each tag, from the tag's definition: where its first row and first column lie.
struct Stored {
  int tag, width, height;
  std::vector<std::uint8_t> pixels;
};
const std::vector<Stored> kStored = {
    {1, 3, 4, {1, 1, 1, 1, 0, 0, 1, 1, 0, 1, 0, 0}},  // rows from the top, columns from the left
    {2, 3, 4, {1, 1, 1, 0, 0, 1, 0, 1, 1, 0, 0, 1}},  // rows from the top, columns from the right
    {3, 3, 4, {0, 0, 1, 0, 1, 1, 0, 0, 1, 1, 1, 1}},  // rows from the bottom, columns from the right
    {4, 3, 4, {1, 0, 0, 1, 1, 0, 1, 0, 0, 1, 1, 1}},  // rows from the bottom, columns from the left
    {5, 4, 3, {1, 1, 1, 1, 1, 0, 1, 0, 1, 0, 0, 0}},  // rows from the left, columns from the top
    {6, 4, 3, {1, 0, 0, 0, 1, 0, 1, 0, 1, 1, 1, 1}},  // rows from the right, columns from the top
    {7, 4, 3, {0, 0, 0, 1, 0, 1, 0, 1, 1, 1, 1, 1}},  // rows from the right, columns from the bottom
    {8, 4, 3, {1, 1, 1, 1, 0, 1, 0, 1, 0, 0, 0, 1}},  // rows from the left, columns from the bottom
};

}  // namespace

TEST_CASE("every orientation turns the stored pixels upright") {
  for (const Stored& stored : kStored) {
    INFO("tag " << stored.tag);
    const Picture out = upright({stored.width, stored.height, stored.pixels}, {stored.tag});
    CHECK(out.width == 3);
    CHECK(out.height == 4);
    CHECK(out.luminance == kUpright);
  }
}

TEST_CASE("places turn with the pixels") {
  for (int tag = 1; tag <= 8; ++tag) {
    const PixelSize size{30, 40};
    const PixelIndex to = upright_pixel({tag}, size, {7, 11});
    const Vec2 place = upright_place({tag}, size, Vec2(7.5, 11.5));
    CHECK(place == Vec2(to.column + 0.5, to.row + 0.5));
    const PixelSize turned = upright_size({tag}, size);
    CHECK(turned.width == (tag >= 5 ? 40 : 30));
    CHECK(turned.height == (tag >= 5 ? 30 : 40));
  }
  for (const int tag : {0, 9, -1, 1000}) CHECK(upright_place({tag}, {30, 40}, Vec2(1, 2)) == Vec2(1, 2));
}
