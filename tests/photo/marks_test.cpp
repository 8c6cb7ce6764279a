// Corner cards in rendered photos: slanted, bulged, blurred, noisy, unevenly lit, on light and on black
// devices.
#include <catch2/catch.hpp>
#include <cmath>

#include "geometry/photo/marks.hpp"
#include "geometry/photo/photo_map.hpp"
#include "tests/photo/rendered.hpp"

using namespace tuft;
using namespace tuft::test;
using namespace tuft::photo;

namespace {

const Vec2 kFaceSize(0.312, 0.221);  // of the face [m]

// The card of a corner in its own coordinates [m], from the flush corner: 0 black, 1 white; none beyond the
// card.
std::optional<double> card(int mark, const Vec2& at) {
  const int column = static_cast<int>(std::floor(at.x() / kModuleSize)) - 1,
            row = static_cast<int>(std::floor(at.y() / kModuleSize)) - 1;
  if (column < -1 || row < -1 || column > kMarkModules || row > kMarkModules) return std::nullopt;
  const bool border = column < 0 || row < 0 || column == kMarkModules || row == kMarkModules;
  if (border) return 1.0;
  const bool rim = column == 0 || row == 0 || column == kMarkModules - 1 || row == kMarkModules - 1;
  return rim || is_black(mark, row - 1, column - 1) ? 0.0 : 1.0;
}

// A face with its four cards. The eye sees the face's first axis turn clockwise into the second, or not:
// cards are printed for the eye, so that on a face that turns the other way their own axes change places.
double reflectance(const Vec2& at, bool clockwise, double shell) {
  if (at.x() < 0.0 || at.y() < 0.0 || at.x() > kFaceSize.x() || at.y() > kFaceSize.y())
    return 0.35;  // the table
  const Vec2 corners[] = {Vec2(0, 0), Vec2(kFaceSize.x(), 0), kFaceSize, Vec2(0, kFaceSize.y())};
  for (int i = 0; i < kMarks; ++i) {
    const Vec2 next = (corners[(i + 1) % 4] - corners[i]).normalized(),
               last = (corners[(i + 3) % 4] - corners[i]).normalized();
    const double u = next.dot(at - corners[i]), v = last.dot(at - corners[i]);
    const auto seen = card(i, clockwise ? Vec2(u, v) : Vec2(v, u));
    if (seen) return 0.04 + 0.8 * *seen;
  }
  return shell;
}

struct Found {
  std::size_t count = 0;
  double worst = 0.0;  ///< [m] on the face
};

Found corners_found(const Camera& camera, bool clockwise, double shell, const Conditions& conditions) {
  const Picture picture = rendered(
      camera, [&](const Vec2& at) { return reflectance(at, clockwise, shell); }, conditions);
  const std::vector<FoundMark> marks = find_marks(picture);
  Found out;
  out.count = marks.size();
  const Vec2 corners[] = {Vec2(0, 0), Vec2(kFaceSize.x(), 0), kFaceSize, Vec2(0, kFaceSize.y())};
  for (const FoundMark& mark : marks)
    out.worst = std::max(out.worst, (camera.face(mark.corner) - corners[mark.mark]).norm());
  if (marks.size() == kMarks) CHECK(corners_of_marks(marks));
  return out;
}

}  // namespace

TEST_CASE("any two marks in any turn differ in at least four modules") {
  const auto turned = [](int mark, int turns, int row, int column) {
    for (int i = 0; i < turns; ++i) {
      const int was = row;
      row = 2 - column;
      column = was;
    }
    return is_black(mark, row, column);
  };
  for (int a = 0; a < kMarks; ++a) {
    for (int b = 0; b < kMarks; ++b) {
      for (int turns = 0; turns < 4; ++turns) {
        int differ = 0;
        for (int i = 0; i < 9; ++i)
          differ += is_black(a, i / 3, i % 3) != turned(b, turns, i / 3, i % 3) ? 1 : 0;
        INFO(a << ", " << b << " turned " << turns << " times");
        CHECK((differ >= 4 || (a == b && turns == 0)));
      }
    }
  }
}

TEST_CASE("the marks of a slanted, bulged photo give the corners to a fraction of a millimetre") {
  struct Row {
    const char* name;
    double shell;
    Conditions conditions;
  };
  const Row rows[] = {{"light shell, clear", 0.6, {}},
                      {"black shell, noisy", 0.02, {0.8, 0.02, Vec2::Zero()}},
                      {"grey shell, blurred and unevenly lit", 0.25, {1.0, 0.01, Vec2(0.9, -0.5)}}};
  for (const bool clockwise : {true, false}) {
    for (const Row& row : rows) {
      INFO(row.name << (clockwise ? ", base" : ", top"));
      Camera camera = camera_over(kFaceSize, 0.40, 0.30, -0.22, 0.5, clockwise);
      camera.width = 1500, camera.height = 1200, camera.focal = 1250.0, camera.bulge = 0.06;
      const Found found = corners_found(camera, clockwise, row.shell, row.conditions);
      CHECK(found.count == kMarks);
      // A pixel is about 0.3 mm here. The bulge bends the lines of a mark by less than a tenth of one.
      CHECK(found.worst < 0.25e-3);
    }
  }
}

TEST_CASE("four marks show the bulge of the lens") {
  for (const double bulge : {0.0, 0.05, 0.12, -0.04}) {
    INFO("bulge " << bulge);
    Camera camera = camera_over(kFaceSize, 0.40, 0.2, -0.15, 0.1, true);
    camera.width = 1500, camera.height = 1100, camera.focal = 1500.0, camera.bulge = bulge;
    const auto marks = find_marks(rendered(camera, [&](const Vec2& at) { return reflectance(at, true, 0.3); },
                                           {0.7, 0.01, Vec2(0.3, 0.2)}));
    const auto found = bulge_of_marks(marks, true, kFaceSize, camera.width, camera.height);
    REQUIRE(found);
    // A tenth of a pixel on a square of 75; a bulge of 0.01 changes its sides by about a hundredth.
    CHECK(*found == Approx(bulge).margin(0.002));
  }
  CHECK_FALSE(bulge_of_marks({}, true, kFaceSize, 100.0, 100.0));
}

TEST_CASE("a photo without marks has none, and three of them give no corners") {
  const Camera camera = camera_over(kFaceSize, 0.40, 0.2, 0.1, 0.0, true);
  const Picture plain = rendered(camera, [](const Vec2& at) {
    return std::fmod(std::abs(at.x()), 0.01) < 0.005 && std::fmod(std::abs(at.y()), 0.01) < 0.005 ? 0.03
                                                                                                  : 0.6;
  });
  CHECK(find_marks(plain).empty());
  CHECK(find_marks({}).empty());
  CHECK_FALSE(corners_of_marks({FoundMark{}, FoundMark{}, FoundMark{}}));
  CHECK_FALSE(corners_of_marks({FoundMark{}, FoundMark{}, FoundMark{}, FoundMark{}}));
}
