// Colours: the space, the maps, the paints.
#include "tools/figure/colour.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/figure/sight.hpp"

using namespace tuft::figure;

namespace {

using tuft::test::contrast;
using tuft::test::distance;
using tuft::test::linear_of;
using tuft::test::linear_of_hex;
using tuft::test::linear_of_rgb;
using tuft::test::oklab_of;
using tuft::test::seen;
using tuft::test::Vision;

constexpr int kSteps = 256;
constexpr Vision kVisions[] = {Vision::full, Vision::no_long_cones, Vision::no_medium_cones,
                               Vision::no_short_cones};

Linear paint(Paint which, bool dark) {
  return linear_of_hex(dark ? paint_colours(which).dark : paint_colours(which).light);
}

}  // namespace

TEST_CASE("OKLab knows white, black and the way back") {
  // Derived: the rows of both matrices are made so that white has lightness 1 and no hue.
  const Oklab white = oklab_of({1.0, 1.0, 1.0});
  CHECK(white.light == Approx(1.0).margin(1e-6));
  CHECK(std::abs(white.a) < 1e-6);
  CHECK(std::abs(white.b) < 1e-6);
  CHECK(oklab_of({0.0, 0.0, 0.0}).light == Approx(0.0).margin(1e-9));
  for (const double red : {0.0, 0.3, 1.0}) {
    for (const double blue : {0.0, 0.5, 1.0}) {
      const Linear back = linear_of_oklab(oklab_of({red, 0.4, blue}));
      CHECK(back.red == Approx(red).margin(1e-6));
      CHECK(back.green == Approx(0.4).margin(1e-6));
      CHECK(back.blue == Approx(blue).margin(1e-6));
    }
  }
  for (const double value : {0.0, 0.01, 0.04045, 0.5, 1.0})
    CHECK(encoded_of(linear_of(value)) == Approx(value).margin(1e-6));
}

TEST_CASE("colour blindness leaves grey grey, and takes what it takes") {
  for (const Vision vision : kVisions) {
    const Linear grey = seen({0.4, 0.4, 0.4}, vision);
    CHECK(grey.red == Approx(0.4).margin(1e-4));
    CHECK(grey.green == Approx(0.4).margin(1e-4));
    CHECK(grey.blue == Approx(0.4).margin(1e-4));
  }
  // A red and a green of one lightness come close without medium cones.
  const Linear red = linear_of_oklab({0.6, 0.12, 0.07}), green = linear_of_oklab({0.6, -0.08, 0.09});
  const double full = distance(oklab_of(red), oklab_of(green));
  CHECK(distance(oklab_of(seen(red, Vision::no_medium_cones)),
                 oklab_of(seen(green, Vision::no_medium_cones))) < 0.4 * full);
}

TEST_CASE("sequential maps: lightness falls evenly, steps look alike, all colours can be shown") {
  for (const MapKind kind : {MapKind::cool, MapKind::warm}) {
    std::vector<double> steps;
    for (int i = 0; i <= kSteps; ++i) {
      const Oklab colour = map_colour(kind, static_cast<double>(i) / kSteps);
      const Linear linear = linear_of_oklab(colour);
      for (const double part : {linear.red, linear.green, linear.blue}) CHECK((part >= 0.0 && part <= 1.0));
      if (i == 0) continue;
      const Oklab before = map_colour(kind, (i - 1.0) / kSteps);
      CHECK(before.light - colour.light == Approx((0.965 - 0.30) / kSteps).epsilon(1e-9));
      steps.push_back(distance(before, colour));
    }
    for (const double step : steps) CHECK(step == Approx(steps.front()).epsilon(1e-6));
  }
}

TEST_CASE("in bytes the maps stay monotone and even") {
  for (const MapKind kind : {MapKind::cool, MapKind::warm}) {
    Oklab before = oklab_of(linear_of_rgb(map_rgb(kind, 0.0)));
    const double mean = distance(before, oklab_of(linear_of_rgb(map_rgb(kind, 1.0)))) / 32.0;
    for (int i = 1; i <= 32; ++i) {
      const Oklab colour = oklab_of(linear_of_rgb(map_rgb(kind, i / 32.0)));
      CHECK(colour.light < before.light);
      // The way is an arc, longer than the chord between its ends; rounding to bytes moves a step by less
      // than a tenth.
      CHECK(distance(before, colour) > 0.9 * mean);
      CHECK(distance(before, colour) < 1.4 * mean);
      before = colour;
    }
  }
  CHECK(map_rgb(MapKind::cool, -3.0).red == map_rgb(MapKind::cool, 0.0).red);
  CHECK(map_rgb(MapKind::cool, 3.0).red == map_rgb(MapKind::cool, 1.0).red);
  CHECK(map_rgb(MapKind::cool, std::nan("")).red == map_rgb(MapKind::cool, 0.0).red);
}

TEST_CASE("whatever is written can be read, on light and on dark paper") {
  const Paint words[] = {Paint::text,     Paint::muted,     Paint::mark,     Paint::intake,
                         Paint::exhaust,  Paint::both_ways, Paint::idle,     Paint::shut,
                         Paint::series_1, Paint::series_2,  Paint::series_3, Paint::series_4,
                         Paint::series_5, Paint::series_6,  Paint::series_7, Paint::series_8};
  for (const bool dark : {false, true}) {
    for (const Paint word : words) {
      INFO(paint_colours(word).name << (dark ? " on dark" : " on light"));
      CHECK(contrast(paint(word, dark), paint(Paint::paper, dark)) >= 4.5);
      CHECK(contrast(paint(word, dark), paint(Paint::body, dark)) >= 4.0);
    }
  }
  CHECK(contrast({0.0, 0.0, 0.0}, {1.0, 1.0, 1.0}) == Approx(21.0));
}

TEST_CASE("roles differ in colour for everybody") {
  // 0.02 is just seen side by side; four times that is told apart at a distance (judgement). Roles differ in
  // shape as well.
  const Paint roles[] = {Paint::intake, Paint::exhaust, Paint::both_ways, Paint::idle, Paint::shut};
  for (const bool dark : {false, true}) {
    for (const Vision vision : kVisions) {
      for (int i = 0; i < 5; ++i) {
        for (int k = 0; k < i; ++k) {
          INFO(paint_colours(roles[i]).name << " and " << paint_colours(roles[k]).name << ", vision "
                                            << static_cast<int>(vision));
          const Oklab a = oklab_of(seen(paint(roles[i], dark), vision)),
                      b = oklab_of(seen(paint(roles[k], dark), vision));
          CHECK(distance(a, b) >= 0.08);
        }
      }
    }
  }
}
