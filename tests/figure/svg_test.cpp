// The writer of SVG documents.
#include "tools/figure/svg.hpp"

#include <catch2/catch.hpp>
#include <limits>

#include "tests/figure/xml.hpp"
#include "tools/figure/png.hpp"

using namespace tuft::figure;
using tuft::test::all;
using tuft::test::parsed;

TEST_CASE("numbers are written as short as they can be") {
  CHECK(number(0.0) == "0");
  CHECK(number(-0.001) == "0");
  CHECK(number(1.0) == "1");
  CHECK(number(-12.5) == "-12.5");
  CHECK(number(100.0) == "100");
  CHECK(number(1.0 / 3.0) == "0.33");
  CHECK_THROWS_AS(number(std::numeric_limits<double>::quiet_NaN()), std::invalid_argument);
  CHECK_THROWS_AS(number(std::numeric_limits<double>::infinity()), std::invalid_argument);
}

TEST_CASE("a document names itself, has no ids, no links and no outside resources") {
  Svg svg(200.0, 100.0, "Title", "Words for those who cannot see it");
  svg.open({{"data-part", "a"}});
  svg.line({0.0, 0.0}, {10.0, 10.0}, {Paint::none, Paint::axis, 1.0, {2.0, 1.5}});
  svg.polygon({{0.0, 0.0}, {5.0, 0.0}, {0.0, 5.0}}, {Paint::intake});
  svg.segments({{0.0, 0.0}, {1.0, 1.0}, {2.0, 2.0}, {3.0, 3.0}}, {Paint::none, Paint::grid});
  svg.circle({50.0, 50.0}, 5.0, {Paint::none, Paint::exhaust});
  svg.text({10.0, 10.0}, "words", {});
  svg.close();
  const std::string document = svg.document();
  const auto root = parsed(document);
  CHECK(root.name == "svg");
  CHECK(root.at("role") == "img");
  CHECK(root.children[0].name == "title");
  CHECK(root.children[0].text == "Title");
  CHECK(root.children[1].name == "desc");
  CHECK(root.at("viewBox") == "0 0 200 100");
  CHECK(document.find(" id=") == std::string::npos);
  CHECK(document.find("url(") == std::string::npos);
  CHECK(document.find("@import") == std::string::npos);
  CHECK(all(root, "a").empty());
  CHECK(all(root, "line")[0].at("stroke-dasharray") == "2 1.5");
  CHECK(all(root, "path")[0].at("d") == "M0,0L1,1M2,2L3,3");
}

TEST_CASE("dark screens get other colours, by one rule that others may ignore") {
  Svg adaptive(10.0, 10.0, "", "");
  adaptive.circle({5.0, 5.0}, 2.0, {Paint::intake});
  const auto root = parsed(adaptive.document());
  const auto circle = all(root, "circle")[0];
  CHECK(circle.at("fill") == paint_colours(Paint::intake).light);
  const auto styles = all(root, "style");
  REQUIRE(styles.size() == 1);
  CHECK(styles[0].text.find("@media screen and (prefers-color-scheme:dark){") == 0);
  CHECK(styles[0].text.find("." + circle.at("class") + "{fill:" + paint_colours(Paint::intake).dark) !=
        std::string::npos);
  CHECK(styles[0].text.find("exhaust") == std::string::npos);  // nothing that is not used

  Svg light(10.0, 10.0, "", "", Surroundings::light);
  light.circle({5.0, 5.0}, 2.0, {Paint::intake});
  CHECK(all(parsed(light.document()), "style").empty());
}

TEST_CASE("what cannot be a document is refused") {
  CHECK_THROWS_AS(Svg(0.0, 10.0, "", ""), std::invalid_argument);
  CHECK_THROWS_AS(Svg(10.0, std::numeric_limits<double>::quiet_NaN(), "", ""), std::invalid_argument);
  Svg svg(10.0, 10.0, "", "");
  CHECK_THROWS_AS(svg.close(), std::logic_error);
  svg.open({});
  CHECK_THROWS_AS(svg.document(), std::logic_error);
}

TEST_CASE("the same calls give the same bytes") {
  const auto make = [] {
    Svg svg(30.0, 30.0, "t", "d");
    svg.rect({1.0, 2.0, 3.0, 4.0}, {Paint::body, Paint::chassis}, 2.0);
    svg.image({0.0, 0.0, 9.0, 9.0}, base64(png_of_indices({0, 1}, 2, 1, {{1, 2, 3}, {4, 5, 6}})));
    return svg.document();
  };
  CHECK(make() == make());
}

// RFC 4648 (2006), section 10, test vectors, from memory.
TEST_CASE("base 64 keeps to its standard's test vectors") {
  CHECK(base64("") == "");
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foob") == "Zm9vYg==");
  CHECK(base64("fooba") == "Zm9vYmE=");
  CHECK(base64("foobar") == "Zm9vYmFy");
}
