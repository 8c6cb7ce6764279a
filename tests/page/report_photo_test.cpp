// Photos of a case within its page: straightened, to scale, with what the vents do over them.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "geometry/photo/photo_map.hpp"
#include "tests/io/sample.hpp"
#include "tools/io/run.hpp"
#include "tools/page/page.hpp"

using namespace tuft;
using namespace tuft::page;
using nlohmann::ordered_json;

namespace {

// A grey picture of 400 x 300 pixels with a light face from (100, 60) to (300, 210), and a dark spot on it
// near its upper left corner as it is looked at.
figure::ColourPicture picture() {
  figure::ColourPicture out{400, 300, 400, 300, {}};
  for (int y = 0; y < 300; ++y)
    for (int x = 0; x < 400; ++x) {
      const bool face = x >= 100 && x < 300 && y >= 60 && y < 210;
      const bool spot = x >= 120 && x < 140 && y >= 75 && y < 90;
      for (int c = 0; c < 3; ++c) out.rgb.push_back(spot ? 20 : face ? 220 : 110);
    }
  return out;
}

// The face lies upright in the picture, as an eye sees it from outside.
geometry::Photo laid(geometry::PhotoView view) {
  geometry::Photo photo;
  photo.name = "shot";
  photo.view = view;
  // Face coordinates (0, 0), (a, 0), (a, b), (0, b); a runs to the left where the turn is clockwise.
  const bool clockwise = geometry::turns_clockwise(photo);
  const double near = clockwise ? 300.0 : 100.0, far = clockwise ? 100.0 : 300.0;
  photo.corners = {{near, 210.0}, {far, 210.0}, {far, 60.0}, {near, 60.0}};
  return photo;
}

}  // namespace

TEST_CASE("a photo is laid on its face with its surroundings, the way up it is looked at") {
  const geometry::Vec3 size(0.2, 0.15, 0.15);
  for (const auto view : {geometry::PhotoView::base, geometry::PhotoView::top, geometry::PhotoView::front,
                          geometry::PhotoView::rear}) {
    const auto photo = report_photo(laid(view), size, picture());
    REQUIRE(photo);
    CHECK(std::max(photo->width, photo->height) == 1000);
    CHECK(photo->jpeg.size() > 1000);
    CHECK(photo->jpeg.size() < 200000);
    // An eighth of the face's longer side is shown around it, nearly: 0.12.
    const double scale = 1000.0 / (0.2 * 1.24);
    CHECK(photo->height == Approx(scale * (0.15 + 0.24 * 0.2)).margin(1.0));
    const auto map = photo::map_of(photo->shown, size, photo->width, photo->height);
    REQUIRE(map);
    // The spot's middle is 30 of 200 pixels from the left and 22.5 of 150 from the top.
    const bool clockwise = geometry::turns_clockwise(photo->shown);
    const auto at = map->pixel({clockwise ? 0.2 - 0.03 : 0.03, 0.15 - 0.0225});
    REQUIRE(at);
    CHECK(at->x() == Approx(scale * (0.024 + 0.03)).margin(1.0));
    CHECK(at->y() == Approx(scale * (0.024 + 0.0225)).margin(1.0));
  }
}

TEST_CASE("the page shows each photo in every solved condition, and holds its pixels alone") {
  const std::string results = io::results_json(test::sample_run(), {{}, {"results.json"}, {}});
  const geometry::Vec3 size = test::sample_run().content.device.size;
  const auto photo = report_photo(laid(geometry::PhotoView::base), size, picture());
  REQUIRE(photo);
  const std::string page = report_page(results, "", {*photo});
  const std::size_t start = page.find("id=\"data\">") + 10;
  const ordered_json data = ordered_json::parse(page.substr(start, page.find("</script>", start) - start));
  REQUIRE(data["photos"].size() == 1);
  CHECK(data["photos"][0]["name"] == "shot");
  CHECK(data["photos"][0]["jpeg"] == photo->jpeg);
  std::size_t solved = 0;
  for (std::size_t i = 0; i < data["results"]["conditions"].size(); ++i) {
    const bool is_solved = data["results"]["conditions"][i]["solved"];
    CHECK(data["drawings"].contains("photo 0 " + std::to_string(i)) == is_solved);
    solved += is_solved ? 1 : 0;
  }
  CHECK(solved > 0);
  CHECK(report_page(results, "", {*photo}) == page);
  const std::string without = report_page(results, "");
  CHECK(without.find(photo->jpeg) == std::string::npos);
  CHECK(without.size() + photo->jpeg.size() < page.size());
}
