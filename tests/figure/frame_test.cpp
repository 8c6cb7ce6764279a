// Figures set into a page of a given size.
#include "tools/figure/svg.hpp"

#include <catch2/catch.hpp>

#include "tests/figure/xml.hpp"
#include "tools/figure/png.hpp"

using namespace tuft::figure;

namespace {

std::string document(double width, double height) {
  Svg svg(width, height, "a figure", "something");
  svg.rect({10.0, 10.0, 50.0, 30.0}, {Paint::intake});
  return svg.document();
}

// Width and height in the head of a PNG file.
std::pair<int, int> png_size(const std::string& png) {
  const auto word = [&](std::size_t at) {
    int value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = 256 * value + static_cast<unsigned char>(png[at + i]);
    return value;
  };
  return {word(16), word(20)};
}

}  // namespace

TEST_CASE("a framed figure has the page's size and lies in its middle, undistorted") {
  for (const auto& [width, height] : {std::pair{400.0, 100.0}, {100.0, 400.0}, {192.0, 108.0}}) {
    const std::string framed_document = framed(document(width, height), 1920, 1080);
    const Point page = document_size(framed_document);
    CHECK(page.x == 1920.0);
    CHECK(page.y == 1080.0);
    const auto inner = tuft::test::all(tuft::test::parsed(framed_document), "svg").back();
    const double w = inner.number("width"), h = inner.number("height");
    CHECK(w / h == Approx(width / height).epsilon(1e-4));
    CHECK(inner.number("x") == Approx(0.5 * (1920.0 - w)).margin(0.01));
    CHECK(inner.number("y") == Approx(0.5 * (1080.0 - h)).margin(0.01));
    CHECK((w > 0.9 * 1920.0 || h > 0.9 * 1080.0));
    CHECK(png_size(png_of_svg(framed_document, 1920)) == std::pair{1920, 1080});
  }
}

TEST_CASE("what is no figure of ours, or no page, is refused") {
  CHECK_THROWS_AS(framed("<html></html>", 1920, 1080), std::invalid_argument);
  CHECK_THROWS_AS(framed(document(10.0, 10.0), 0, 1080), std::invalid_argument);
  CHECK_THROWS_AS(framed(document(10.0, 10.0), 1920, 20001), std::invalid_argument);
}
