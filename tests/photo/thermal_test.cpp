// Thermal pictures: colours of a bar, places on a face, and what is not read.
#include "geometry/photo/thermal.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>

using namespace tuft::photo;
using tuft::geometry::PhotoView;

namespace {

constexpr double kZero = 273.15;

struct Canvas {
  int width, height;
  std::vector<std::uint8_t> rgba;

  Canvas(int w, int h)
      : width(w), height(h), rgba(4 * static_cast<std::size_t>(w) * static_cast<std::size_t>(h), 255) {}
  void put(int column, int row, const Colour& colour) {
    std::uint8_t* at = rgba.data() + 4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                                          static_cast<std::size_t>(column));
    for (std::size_t i = 0; i < 3; ++i) at[i] = static_cast<std::uint8_t>(std::lround(colour[i]));
  }
  Colour at(int column, int row) const {
    const std::uint8_t* p =
        rgba.data() + 4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                           static_cast<std::size_t>(column));
    return {static_cast<double>(p[0]), static_cast<double>(p[1]), static_cast<double>(p[2])};
  }
};

// Palettes, from cold (0) to hot (1).
Colour grey(double share) { return {255.0 * share, 255.0 * share, 255.0 * share}; }
Colour glowing(double share) {  // black, violet, orange, yellow-white
  const double s = 3.0 * share;
  if (s < 1.0) return {120.0 * s, 0.0, 140.0 * s};
  if (s < 2.0) return {120.0 + 120.0 * (s - 1.0), 100.0 * (s - 1.0), 140.0 * (2.0 - s)};
  return {240.0 + 15.0 * (s - 2.0), 100.0 + 155.0 * (s - 2.0), 180.0 * (s - 2.0)};
}
Colour wheel(double share) {  // begins and ends in red
  const double turn = 6.283185307179586 * share;
  return {127.5 + 127.5 * std::cos(turn), 127.5 + 127.5 * std::cos(turn - 2.094),
          127.5 + 127.5 * std::cos(turn + 2.094)};
}

// A bar on the right, 60 °C at row 10 and 20 °C at row 110, and a face left of it.
template <class Palette, class Field>
Canvas with_bar(const Palette& palette, const Field& celsius) {
  Canvas canvas(220, 120);
  for (int row = 10; row <= 110; ++row)
    for (int column = 200; column < 210; ++column) canvas.put(column, row, palette(1.0 - (row - 10) / 100.0));
  for (int row = 0; row < 120; ++row)
    for (int column = 0; column < 190; ++column)
      canvas.put(column, row, palette((celsius(column + 0.5, row + 0.5) - 20.0) / 40.0));
  return canvas;
}

ColourBar bar_of(const Canvas& canvas) {
  return {canvas.rgba.data(),
          canvas.width,
          canvas.height,
          {{205.5, 10.5}, 60.0 + kZero},
          {{205.5, 110.5}, 20.0 + kZero}};
}

ThermalPicture picture_of(const Canvas& canvas, const ColourBar& bar) {
  return {canvas.width, canvas.height,
          [&canvas, bar](int column, int row) { return bar.read(canvas.at(column, row)); }};
}

// The top of a device of 180 x 100 mm, a pixel a millimetre, its front below.
PhotoMap top_map() {
  tuft::geometry::Photo photo;
  photo.view = PhotoView::top;
  photo.corners = {{5, 110}, {185, 110}, {185, 10}, {5, 10}};
  return *map_of(photo, {0.18, 0.1, 0.02}, 220, 120);
}

}  // namespace

TEST_CASE("colours of a bar are read as its temperatures") {
  const auto check_palette = [](const auto& palette) {
    for (const double celsius : {23.0, 31.0, 40.0, 52.5, 58.0}) {
      const Canvas canvas = with_bar(palette, [&](double, double) { return celsius; });
      const ColourBar bar = bar_of(canvas);
      REQUIRE(bar.fault() == BarFault::none);
      const auto read =
          read_thermal(picture_of(canvas, bar), top_map(), {{0.09, 0.05}, 0.02, 0.02, 0.0}, true);
      REQUIRE(read);
      CHECK(read->mean - kZero == Approx(celsius).margin(0.4));  // a step of the bar is 0.4 K
      CHECK(read->sigma > 0.0);
      CHECK(read->sigma < 1.5);
      CHECK(read->unknown == 0.0);
      CHECK(read->at_end == 0.0);
      CHECK(read->across == Approx(20.0).epsilon(0.01));
    }
  };
  check_palette(grey);
  check_palette(glowing);
}

TEST_CASE(
    "a bar in a noisy picture is read as its temperatures, and the noise is in what it says of itself") {
  const auto check_palette = [](const auto& palette) {
    for (const double celsius : {25.0, 40.0, 52.5}) {
      Canvas canvas = with_bar(palette, [&](double, double) { return celsius; });
      // Grains of about 4 of 255 in every channel, over the bar too: sums of three even draws.
      std::uint32_t state = 7;
      const auto even = [&] { return ((state = state * 1664525U + 1013904223U) >> 8) / 16777216.0; };
      for (int row = 0; row < canvas.height; ++row)
        for (int column = 0; column < canvas.width; ++column) {
          Colour colour = canvas.at(column, row);
          for (double& part : colour)
            part = std::clamp(part + 8.0 * (even() + even() + even() - 1.5), 0.0, 255.0);
          canvas.put(column, row, colour);
        }
      const ColourBar bar = bar_of(canvas);
      INFO(celsius);
      REQUIRE(bar.fault() == BarFault::none);
      const auto read =
          read_thermal(picture_of(canvas, bar), top_map(), {{0.09, 0.05}, 0.02, 0.02, 0.0}, true);
      REQUIRE(read);
      CHECK(read->mean - kZero == Approx(celsius).margin(0.8));  // two steps of the bar
      CHECK(std::abs(read->mean - kZero - celsius) < 2.0 * read->sigma);
      CHECK(read->unknown < 0.05);
    }
  };
  check_palette(grey);
  check_palette(glowing);
}

TEST_CASE("a patch is read where it lies on its face, in perspective too") {
  // Temperatures by face coordinates: 20 °C and 2 K a centimetre along x, 1 K along y.
  const auto celsius_at = [](const Vec2& face) { return 20.0 + 200.0 * face.x() + 100.0 * face.y(); };
  for (const bool slant : {false, true}) {
    tuft::geometry::Photo photo;
    photo.view = PhotoView::base;  // seen from below with the front above: x still runs to the right
    photo.corners = {{30, 10}, {300, 20}, {280, 180}, {60, 200}};
    if (!slant) photo.corners = {{10, 10}, {310, 10}, {310, 210}, {10, 210}};
    photo.bulge = slant ? 0.05 : 0.0;
    const auto map = map_of(photo, {0.3, 0.2, 0.02}, 320, 220);
    REQUIRE(map);
    const ThermalPicture picture{320, 220, [&](int column, int row) {
                                   ThermalPixel pixel;
                                   const auto face = map->face({column + 0.5, row + 0.5});
                                   pixel.known = face.has_value();
                                   if (face) pixel.temperature = celsius_at(*face) + kZero;
                                   return pixel;
                                 }};
    for (const Vec2& centre : {Vec2(0.04, 0.03), Vec2(0.25, 0.15), Vec2(0.15, 0.1)}) {
      const auto read = read_thermal(picture, *map, {centre, 0.04, 0.03, 0.0}, false);
      REQUIRE(read);
      CHECK(read->mean - kZero == Approx(celsius_at(centre)).margin(0.3));
      CHECK(read->highest - read->lowest == Approx(11.0).margin(1.5));  // 8 K along x and 3 K along y
    }
    CHECK_FALSE(read_thermal(picture, *map, {{0.3, 0.2}, 0.2, 0.2, 0.0}, false));
  }
}

TEST_CASE("a bar that cannot be read says why") {
  const Canvas canvas = with_bar(grey, [](double, double) { return 40.0; });
  const auto fault = [](const Canvas& c, Vec2 a, double at_a, Vec2 b, double at_b) {
    return ColourBar(c.rgba.data(), c.width, c.height, {a, at_a}, {b, at_b}).fault();
  };
  CHECK(fault(canvas, {205, 10}, 330, {205, 300}, 290) == BarFault::outside);
  CHECK(fault(canvas, {205, 10}, 330, {205, 20}, 290) == BarFault::too_short);
  CHECK(fault(canvas, {205, 10}, 330, {205, 110}, 330) == BarFault::same);
  CHECK(fault(canvas, {20, 10}, 330, {20, 110}, 290) == BarFault::too_few_colours);
  CHECK(bar_of(with_bar(wheel, [](double, double) { return 40.0; })).fault() == BarFault::repeats);
}

TEST_CASE("words on the picture are passed over, and the ends of the bar are known") {
  Canvas canvas = with_bar(glowing, [](double, double) { return 40.0; });
  for (int row = 58; row < 62; ++row)
    for (int column = 85; column < 105; ++column) canvas.put(column, row, {0, 255, 0});
  const ColourBar bar = bar_of(canvas);
  const auto read = read_thermal(picture_of(canvas, bar), top_map(), {{0.09, 0.05}, 0.02, 0.02, 0.0}, false);
  REQUIRE(read);
  CHECK(read->unknown == Approx(0.2).margin(0.06));
  CHECK(read->mean - kZero == Approx(40.0).margin(0.4));
  const Canvas hot = with_bar(glowing, [](double, double) { return 60.0; });
  const auto beyond =
      read_thermal(picture_of(hot, bar_of(hot)), top_map(), {{0.09, 0.05}, 0.02, 0.02, 0.0}, false);
  REQUIRE(beyond);
  CHECK(beyond->at_end > 0.9);
}
