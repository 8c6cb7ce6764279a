// Field maps and PNG.
#include "tools/figure/field_map.hpp"

#include <cairo.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <utility>

#include "tests/figure/xml.hpp"
#include "tools/figure/curve.hpp"
#include "tools/figure/field_parts.hpp"
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

// The places a path goes to, bends included: commands M and L with places, l and q with steps.
std::vector<Point> path_points(const std::string& way) {
  std::vector<Point> points;
  Point from;  // where the step that is being read begins
  char command = 'M';
  bool bend = false;  // the place before was the bend of a q, its end is next
  for (const char* at = way.c_str(); *at != '\0';) {
    if (std::isalpha(static_cast<unsigned char>(*at)) != 0) {
      command = *at++;
      continue;
    }
    char* end = nullptr;
    const double x = std::strtod(at, &end), y = std::strtod(*end == ',' ? end + 1 : end, &end);
    at = end;
    if (!bend) from = command == 'M' || command == 'L' || points.empty() ? Point{} : points.back();
    points.push_back({from.x + x, from.y + y});
    bend = command == 'q' && !bend;
  }
  return points;
}

void check_map_texts(const std::string& document) {
  for (const std::string& fault : tuft::test::text_faults(document)) FAIL_CHECK(fault);
}

}  // namespace

TEST_CASE("pixels: the first value is the lower left cell, columns as wide as the grid says") {
  const FieldMap map = small();
  const auto pixels = field_pixels(map, {0.0, 3.0}, 30, 20);
  REQUIRE(pixels.size() == 600);
  const auto at = [&](int x, int y) { return int{pixels[static_cast<std::size_t>(y) * 30 + x]}; };
  CHECK(at(0, 19) == 0);
  CHECK(at(9, 19) == 0);
  CHECK(at(10, 19) == 85);
  CHECK(at(29, 19) == 85);
  CHECK(at(0, 0) == 170);
  CHECK(at(29, 9) == 255);
}

TEST_CASE("pixels: solids and missing values do not stain their neighbours, and are covered") {
  FieldMap map = small();
  map.values = {0.5, 1e9, 0.5, std::numeric_limits<double>::quiet_NaN()};
  map.solid = {false, true, false, false};
  map.smooth = true;
  // Every pixel that blending may reach from a cell with a value has that cell's colour.
  const auto pixels = field_pixels(map, {0.0, 1.0}, 30, 20);
  for (int y = 0; y < 20; ++y)
    for (int x = 0; x < 12; ++x) CHECK(int{pixels[static_cast<std::size_t>(y) * 30 + x]} == 128);
  const auto root = parsed(field_map(map));
  const auto shapes = having(all(root, "path"), "data-part", "solid");
  REQUIRE(shapes.size() == 1);
  CHECK(shapes[0].at("class") == "tuft-f-solid");  // grey by the paper it lies on
  // The second column, from its left edge to the map's right one.
  const Box box = tuft::test::box_of(having(all(root, "image"), "data-part", "field").at(0));
  const std::string way = shapes[0].at("d");
  CHECK_THAT(way, Catch::Matchers::StartsWith("M" + number(box.left + box.width() / 3.0)));
  CHECK(std::count(way.begin(), way.end(), 'L') == 3);
}

TEST_CASE("pixels: a field that rises evenly is blended evenly") {
  FieldMap map;
  map.x = {0.0, 1.0, 2.0, 4.0, 5.0};
  map.y = {0.0, 1.0};
  map.values = {0.5, 1.5, 3.0, 4.5};  // x at the cells' middles
  map.kind = MapKind::warm;
  const auto pixels = field_pixels(map, {0.0, 5.0}, 500, 1);
  for (int i = 50; i < 450; ++i)  // between the outermost middles
    CHECK(int{pixels[static_cast<std::size_t>(i)]} == std::lround(255.0 * (i + 0.5) / 500.0));
}

TEST_CASE("a picture of indices has its palette's colours, and is small") {
  const std::vector<Rgb> palette = map_palette(MapKind::warm);
  REQUIRE(palette.size() == 256);
  std::vector<std::uint8_t> pixels;
  for (int y = 0; y < 300; ++y)
    for (int x = 0; x < 400; ++x)
      pixels.push_back(
          static_cast<std::uint8_t>(std::lround(127.0 + 120.0 * std::sin(0.01 * x) * std::cos(0.02 * y))));
  const std::string png = png_of_indices(pixels, 400, 300, palette);
  CHECK(header_number(png, 16) == 400);
  CHECK(header_number(png, 20) == 300);
  for (const auto& [x, y] : {std::pair{0, 0}, std::pair{399, 0}, std::pair{17, 299}, std::pair{200, 150}})
    CHECK(pixel_of(png, x, y) == word_of(palette[pixels[static_cast<std::size_t>(y) * 400 + x]]));
  CHECK(png.size() < pixels.size() / 6);
  CHECK(png_of_indices(pixels, 400, 300, palette) == png);
  CHECK_THROWS_AS(png_of_indices({0, 0}, 1, 1, palette), std::invalid_argument);
  CHECK_THROWS_AS(png_of_indices({7}, 1, 1, {{0, 0, 0}}), std::invalid_argument);
  CHECK_THROWS_AS(png_of_indices({0}, 1, 1, {}), std::invalid_argument);
}

TEST_CASE("the edge of cells: a hole, and cells that touch at a corner") {
  // # # #
  // # . #    and one more cell that touches the upper right one at its corner
  // # # #
  std::vector<bool> marked(16, false);
  for (const int cell : {0, 1, 2, 4, 6, 8, 9, 10, 15}) marked[static_cast<std::size_t>(cell)] = true;
  const auto rings = cell_outlines(4, 4, marked);
  REQUIRE(rings.size() == 3);
  double area = 0.0;
  for (const auto& ring : rings) {
    CHECK(ring.size() == 4);
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const Corner& a = ring[k];
      const Corner& b = ring[(k + 1) % ring.size()];
      area += 0.5 * (a.first * b.second - b.first * a.second);
    }
  }
  CHECK(area == 9.0);  // outer edges go round one way, the hole's the other
  CHECK(cell_outlines(2, 2, std::vector<bool>(4, false)).empty());
}

TEST_CASE("a simplified line keeps within its tolerance, and a curve through it too") {
  std::vector<Point> line;
  for (int k = 0; k <= 2000; ++k) line.push_back({0.4 * k, 100.0 + 60.0 * std::sin(0.02 * 0.4 * k)});
  const std::vector<Point> simple = simplified(line, 0.2);
  CHECK(simple.size() < 110);  // of 2001
  CHECK(simple.front().x == line.front().x);
  CHECK(simple.back().x == line.back().x);
  std::size_t k = 0;
  double off = 0.0;
  for (const Point& p : line) {
    while (k + 2 < simple.size() && simple[k + 1].x < p.x) ++k;
    const double share = (p.x - simple[k].x) / (simple[k + 1].x - simple[k].x);
    const double dx = simple[k + 1].x - simple[k].x, dy = simple[k + 1].y - simple[k].y;
    off = std::max(off, std::abs(simple[k].y + share * dy - p.y) * dx / std::hypot(dx, dy));
  }
  CHECK(off < 0.2 + 1e-9);
  CHECK(simplified({{0, 0}, {1, 0}, {2, 0}, {3, 0}}, 0.1).size() == 2);
  // Written as steps: the last one ends where the line does, to a tenth of a pixel.
  CHECK(curve_text({{1.0, 2.0}, {4.04, 2.0}}) == "M1 2l3 0");
  CHECK(curve_text({{0.0, 0.0}, {1.0, 0.0}, {1.0, -1.25}}) == "M0 0l.5 0q.5 0 .5-.6l0-.7");
  CHECK(curve_text({{3.0, 3.0}}).empty());
  CHECK_THROWS_AS(curve_text({{0.0, 0.0}, {std::nan(""), 0.0}}), std::invalid_argument);
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
  check_map_texts(document);
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
  const auto curves = all(group[0], "path");
  REQUIRE(curves.size() == 3);  // rim, line, heads
  for (const Point& point : path_points(curves[1].at("d"))) {
    CHECK(point.x <= box.right + 0.06);
    CHECK(point.x >= box.left - 0.06);
  }
  CHECK(path_points(curves[1].at("d")).back().x == Approx(box.right).margin(0.06));
  // The head points along the line, to the right.
  const auto head = path_points(having(curves, "data-part", "heads").at(0).at("d"));
  REQUIRE(head.size() >= 3);
  CHECK(head[0].x > head[1].x);
  CHECK(head[0].x > head[2].x);
  CHECK(field_map(map) == document);
}

TEST_CASE("odd and senseless fields") {
  FieldMap map = small();
  map.values.assign(4, std::numeric_limits<double>::quiet_NaN());
  check_map_texts(field_map(map));
  map.values.assign(4, 7.0);
  check_map_texts(field_map(map));
  map.y = {0.0, 0.5, 6.0};  // tall
  check_map_texts(field_map(map));
  map.y = {0.0, 0.001, 0.005};  // flat
  check_map_texts(field_map(map));
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
    CHECK(std::string(paint_colours(Paint::intake).light) == "#1f6fb8");
    CHECK(pixel_of(png, 3 * width / 4, width / 4) == 0xfdfdfb);
  }
  CHECK(png_of_svg(svg.document(), 300) == png_of_svg(svg.document(), 300));
}

TEST_CASE("text reaches the PNG, and takes no more room than was estimated") {
  const std::string words = "Wide words: WMQ 0123 °C";
  Svg svg(600.0, 40.0, "t", "d", Surroundings::light);
  svg.text({10.0, 25.0}, words, {20.0, true});
  const std::string png = png_of_svg(svg.document(), 600);
  const Box box = test::text_box({10.0, 25.0}, words, {20.0, true, Anchor::start, Paint::text, false});
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
  Svg tall(1.0, 1e6, "", "");
  CHECK_THROWS_AS(png_of_svg(tall.document(), 100), PngError);
}
