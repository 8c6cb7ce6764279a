// Field maps and PNG.
#include "tools/figure/field_map.hpp"

#include <cairo.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "tests/figure/xml.hpp"
#include "tools/figure/field_raster.hpp"
#include "tools/figure/line_chart.hpp"
#include "tools/figure/png.hpp"

using namespace tuft::figure;
using tuft::geometry::Role;
using tuft::test::all;
using tuft::test::having;
using tuft::test::parsed;

namespace {

// Whole numbers of a PNG file's header, by their place in it (ISO/IEC 15948, IHDR; from memory).
int header_number(const std::string& png, std::size_t at) {
  int value = 0;
  for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(png.at(at + i));
  return value;
}

struct Source {
  const std::string& bytes;
  std::size_t at = 0;
};

cairo_status_t read_bytes(void* closure, unsigned char* data, unsigned length) {
  auto* source = static_cast<Source*>(closure);
  if (source->at + length > source->bytes.size()) return CAIRO_STATUS_READ_ERROR;
  source->bytes.copy(reinterpret_cast<char*>(data), length, source->at);
  source->at += length;
  return CAIRO_STATUS_SUCCESS;
}

// The colour of one pixel of a PNG file.
std::uint32_t pixel_of(const std::string& png, int x, int y) {
  Source source{png};
  cairo_surface_t* surface = cairo_image_surface_create_from_png_stream(read_bytes, &source);
  REQUIRE(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS);
  const unsigned char* row =
      cairo_image_surface_get_data(surface) + y * cairo_image_surface_get_stride(surface);
  const std::uint32_t colour = reinterpret_cast<const std::uint32_t*>(row)[x] & 0xFFFFFFU;
  cairo_surface_destroy(surface);
  return colour;
}

std::uint32_t word_of(const Rgb& colour) {
  return static_cast<std::uint32_t>((colour.red << 16) | (colour.green << 8) | colour.blue);
}

FieldMap small() {
  FieldMap map;
  map.title = "Speed";
  map.quantity = "Speed";
  map.unit = "m/s";
  map.x = {0.0, 0.1, 0.3};  // the second column is twice as wide
  map.y = {0.0, 0.1, 0.2};
  map.values = {0.0, 1.0, 2.0, 3.0};
  map.smooth = false;
  return map;
}

void check_texts(const std::string& document) {
  for (const std::string& fault : tuft::test::text_faults(document)) FAIL_CHECK(fault);
}

}  // namespace

TEST_CASE("pixels: the first value is the lower left cell, columns as wide as the grid says") {
  const FieldMap map = small();
  const auto pixels = field_pixels(map, {0.0, 3.0}, 30, 20);
  REQUIRE(pixels.size() == 600);
  const auto at = [&](int x, int y) { return word_of(pixels[static_cast<std::size_t>(y) * 30 + x]); };
  const auto colour = [](double place) { return word_of(map_rgb(MapKind::cool, place)); };
  CHECK(at(0, 19) == colour(0.0));
  CHECK(at(9, 19) == colour(0.0));
  CHECK(at(10, 19) == colour(1.0 / 3.0));
  CHECK(at(29, 19) == colour(1.0 / 3.0));
  CHECK(at(0, 0) == colour(2.0 / 3.0));
  CHECK(at(29, 9) == colour(1.0));
}

TEST_CASE("pixels: solids and missing values are grey, and do not stain their neighbours") {
  FieldMap map = small();
  map.values = {0.0, 1e9, 0.0, std::numeric_limits<double>::quiet_NaN()};
  map.solid = {false, true, false, false};
  map.smooth = true;
  const auto pixels = field_pixels(map, {0.0, 1.0}, 30, 20);
  const std::uint32_t grey = 0xc9ced2;
  CHECK(std::string(pot(Paint::solid).light) == "#c9ced2");
  for (int y = 0; y < 20; ++y) {
    for (int x = 0; x < 30; ++x) {
      const std::uint32_t want = x < 10 ? word_of(map_rgb(MapKind::cool, 0.0)) : grey;
      CHECK(word_of(pixels[static_cast<std::size_t>(y) * 30 + x]) == want);
    }
  }
}

TEST_CASE("pixels: a field that rises evenly is blended evenly") {
  FieldMap map;
  map.x = {0.0, 1.0, 2.0, 4.0, 5.0};
  map.y = {0.0, 1.0};
  map.values = {0.5, 1.5, 3.0, 4.5};  // x at the cells' middles
  map.kind = MapKind::warm;
  const auto pixels = field_pixels(map, {0.0, 5.0}, 500, 1);
  for (int i = 50; i < 450; ++i) {  // between the outermost middles
    CHECK(word_of(pixels[static_cast<std::size_t>(i)]) == word_of(map_rgb(MapKind::warm, (i + 0.5) / 500.0)));
  }
}

TEST_CASE("a field map: well-formed, to scale, with bar, key and vents, no text on text") {
  FieldMap map = small();
  map.solid = {false, false, true, false};
  map.streamlines = {{{0.0, 0.05}, {0.1, 0.06}, {0.2, 0.1}, {0.35, 0.1}}};
  map.vents = {{"left <&>", {Role::intake, false}, {0.0, 0.02}, {0.0, 0.08}, false},
               {"grille", {Role::exhaust, false}, {0.15, 0.02}, {0.25, 0.08}, true},
               {std::string(500, 'w'), {Role::idle, true}, {0.3, 0.1}, {0.3, 0.15}, false}};
  map.gravity = Gravity{0.0, -1.0, 0.0};
  const std::string document = field_map(map);
  check_texts(document);
  const auto root = parsed(document);
  const auto image = having(all(root, "image"), "data-part", "field");
  REQUIRE(image.size() == 1);
  const Box box = tuft::test::box_of(image[0]);
  CHECK(box.width() / box.height() == Approx(1.5).epsilon(1e-3));
  const double scale = box.width() / 0.3;
  const auto grille = having(all(root, "rect"), "data-vent", "grille");
  REQUIRE(grille.size() == 1);
  CHECK(tuft::test::box_of(grille[0]).left == Approx(box.left + 0.15 * scale).margin(0.02));
  CHECK(tuft::test::box_of(grille[0]).bottom == Approx(box.bottom - 0.02 * scale).margin(0.02));
  const auto line = having(all(root, "line"), "data-vent", "left <&>");
  REQUIRE(line.size() == 1);
  CHECK(line[0].number("y1") == Approx(box.bottom - 0.02 * scale).margin(0.02));
  for (const char* mark : {"intake", "exhaust", "shut"})
    CHECK(having(all(root, "g"), "data-mark", mark).size() == 2);
  // Streamlines end at the frame.
  const auto group = having(all(root, "g"), "data-part", "streamlines");
  REQUIRE(group.size() == 1);
  for (const auto& stream : all(group[0], "polyline")) {
    for (const Point& point : tuft::test::points_of(stream)) CHECK(point.x <= box.right + 0.01);
  }
  // The head points along the line, to the right.
  const auto head = tuft::test::points_of(all(group[0], "polygon").at(0));
  CHECK(head[0].x > head[1].x);
  CHECK(head[0].x > head[2].x);
  CHECK(field_map(map) == document);
}

TEST_CASE("a diverging map has its middle at zero") {
  FieldMap map = small();
  map.kind = MapKind::diverging;
  map.values = {-0.5, 0.0, 1.0, 2.0};
  const auto root = parsed(field_map(map));
  std::vector<std::string> labels;
  for (const auto& text : all(root, "text")) labels.push_back(text.text);
  CHECK(std::find(labels.begin(), labels.end(), "−2") != labels.end());
  CHECK(std::find(labels.begin(), labels.end(), "2") != labels.end());
}

TEST_CASE("odd and senseless fields") {
  FieldMap map = small();
  map.values.assign(4, std::numeric_limits<double>::quiet_NaN());
  check_texts(field_map(map));
  map.values.assign(4, 7.0);
  check_texts(field_map(map));
  map.y = {0.0, 0.5, 6.0};  // tall
  check_texts(field_map(map));
  map.y = {0.0, 0.001, 0.005};  // flat
  check_texts(field_map(map));
  const auto refused = [](auto change) {
    FieldMap odd = small();
    change(odd);
    CHECK_THROWS_AS(field_map(odd), std::invalid_argument);
  };
  refused([](FieldMap& m) { m.values.pop_back(); });
  refused([](FieldMap& m) { m.x[1] = 0.0; });
  refused([](FieldMap& m) { m.x = {0.0}; });
  refused([](FieldMap& m) { m.solid = {true}; });
  refused([](FieldMap& m) { m.low = 1.0, m.high = 1.0; });
  refused([](FieldMap& m) { m.streamlines = {{{std::nan(""), 0.0}}}; });
}

TEST_CASE("a PNG has the size asked for, and shows the picture") {
  Svg svg(200.0, 100.0, "t", "d");
  svg.rect({0.0, 0.0, 100.0, 100.0}, {Paint::intake});
  for (const int width : {200, 1920, 3840}) {
    const std::string png = png_of_svg(svg.document(), width);
    CHECK(png.substr(0, 8) == "\x89PNG\r\n\x1a\n");
    CHECK(header_number(png, 16) == width);
    CHECK(header_number(png, 20) == width / 2);
    CHECK(pixel_of(png, width / 4, width / 4) == 0x1f6fb8);
    CHECK(std::string(pot(Paint::intake).light) == "#1f6fb8");
    CHECK(pixel_of(png, 3 * width / 4, width / 4) == 0xfdfdfb);
  }
  CHECK(png_of_svg(svg.document(), 300) == png_of_svg(svg.document(), 300));
}

TEST_CASE("text reaches the PNG, and takes no more room than was estimated") {
  const std::string words = "Wide words: WMQ 0123 °C";
  Svg svg(600.0, 40.0, "t", "d", Surroundings::light);
  svg.text({10.0, 25.0}, words, {20.0, true});
  const std::string png = png_of_svg(svg.document(), 600);
  const Box box = text_box({10.0, 25.0}, words, {20.0, true, Anchor::start, Paint::text, false});
  REQUIRE(box.right < 600.0);
  Source source{png};
  cairo_surface_t* surface = cairo_image_surface_create_from_png_stream(read_bytes, &source);
  int last = 0;
  for (int y = 0; y < 40; ++y) {
    const auto* row = reinterpret_cast<const std::uint32_t*>(cairo_image_surface_get_data(surface) +
                                                             y * cairo_image_surface_get_stride(surface));
    for (int x = 0; x < 600; ++x) {
      if ((row[x] & 0xFFFFFFU) != 0xfdfdfb) last = std::max(last, x);
    }
  }
  cairo_surface_destroy(surface);
  CHECK(last > 0.8 * box.right);
  CHECK(last <= box.right + 1.0);
}

TEST_CASE("pictures that cannot be made are refused") {
  CHECK_THROWS_AS(png_of_svg("<svg", 100), PngError);
  CHECK_THROWS_AS(png_of_svg("", 100), PngError);
  Svg svg(10.0, 10.0, "", "");
  CHECK_THROWS_AS(png_of_svg(svg.document(), 0), std::invalid_argument);
  CHECK_THROWS_AS(png_of_svg(svg.document(), 100000), std::invalid_argument);
  CHECK_THROWS_AS(png_of_pixels({{0, 0, 0}}, 2, 2), std::invalid_argument);
  Svg tall(1.0, 1e6, "", "");
  CHECK_THROWS_AS(png_of_svg(tall.document(), 100), PngError);
}
