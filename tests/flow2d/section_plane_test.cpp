// Where a device is cut, the lines of the grid, and what is refused.
#include "solver/flow2d/section_model.hpp"
#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

SectionBoundaryData flows(const std::vector<double>& out) {
  SectionBoundaryData given;
  for (double f : out) given.vents.push_back({f < 0.0 ? -f : 0.0, f > 0.0 ? f : 0.0, 310.0});
  return given;
}

std::string refusal(const geometry::Case& c, const SectionBoundaryData& given,
                    const SectionOptions& options = {}) {
  try {
    solve_section(c, c.conditions[0], given, options);
  } catch (const std::invalid_argument& e) {
    return e.what();
  }
  return "nothing was refused";
}

}  // namespace

TEST_CASE("a plane is led through the largest outlet and the nearest intake", "[plane]") {
  geometry::Case c = slotted_box();
  PlaneChoice choice = choose_plane(c, c.conditions[0], flows({1e-3, -1e-3}));
  CHECK(choice.plane.normal == 0);
  CHECK(choice.plane.at == Approx(0.1));
  CHECK(choice.outlet == 0);
  CHECK(choice.intake == 1);
  CHECK(choice.why ==
        "x = 100.0 mm, through outlet, the largest outlet across x, and intake, the nearest intake it can "
        "cut as well");

  // The middle of what both have in common.
  c.device.vents[1].centre.x() = 0.16;
  choice = choose_plane(c, c.conditions[0], flows({1e-3, -1e-3}));
  CHECK(choice.plane.at == Approx(0.5 * (0.12 + 0.15)));

  // Vents that no plane across x can show: across y.
  c = box({0.2, 0.15, 0.02});
  c.device.vents = {vent("left", Face::left, {0.0, 0.07, 0.01}, 0.04, 0.01),
                    vent("right", Face::right, {0.2, 0.08, 0.01}, 0.04, 0.01)};
  choice = choose_plane(c, c.conditions[0], flows({1e-3, -1e-3}));
  CHECK(choice.plane.normal == 1);
  CHECK(choice.plane.at == Approx(0.075));
}

TEST_CASE("a plane has gravity in it in every pose", "[plane]") {
  geometry::Case c = slotted_box();
  for (const std::string& word : geometry::pose_words()) {
    c.poses[0] = geometry::named_pose(word);
    const PlaneChoice choice = choose_plane(c, c.conditions[0], flows({1e-3, -1e-3}));
    INFO(word);
    CHECK(std::abs(c.poses[0].down()[choice.plane.normal]) < 0.71);
  }
  c.poses[0] = geometry::named_pose("on-right-edge");
  CHECK(choose_plane(c, c.conditions[0], flows({1e-3, -1e-3})).plane.normal != 0);
}

TEST_CASE("without flow a plane goes through the largest vent, or the middle", "[plane]") {
  geometry::Case c = slotted_box();
  const PlaneChoice choice = choose_plane(c, c.conditions[0], {});
  CHECK(choice.plane.normal == 0);
  CHECK(choice.outlet == -1);
  CHECK(choice.plane.at == Approx(0.1));
  c.device.vents.clear();
  CHECK(choose_plane(c, c.conditions[0], {}).plane.at == Approx(0.1));
}

TEST_CASE("grid lines pass through their places and crowd there", "[plane]") {
  const std::vector<Line> lines{{0.0, 0.02}, {1.0, 0.02}, {0.4, 1e-3}, {0.4001, 1e-3}, {0.5, 5e-3}};
  const flow2d::Axis axis = axis_through(lines, 0.2, 0.03);
  for (const double at : {0.0, 0.4, 0.5, 1.0}) {
    double nearest = 1.0;
    for (double f : axis.faces()) nearest = std::min(nearest, std::abs(f - at));
    CHECK(nearest < 1e-12);
  }
  for (int k = 0; k < axis.n(); ++k) {
    const double x = axis.centres()[static_cast<std::size_t>(k)],
                 w = axis.widths()[static_cast<std::size_t>(k)];
    CHECK(w > 5e-4);
    CHECK(w < 1.3 * std::min(0.03, 1e-3 + 0.2 * std::abs(x - 0.4)));
    if (k > 0) CHECK(w / axis.widths()[static_cast<std::size_t>(k) - 1] < 2.0);
    if (k > 0) CHECK(w / axis.widths()[static_cast<std::size_t>(k) - 1] > 0.5);
  }
}

TEST_CASE("input that cannot be is refused in words", "[plane][messages]") {
  const geometry::Case c = slotted_box();
  CHECK(refusal(c, flows({1e-3})) == "SectionGiven::vents has 1 entries; the device has 2 vents");
  SectionBoundaryData given = flows({1e-3, -1e-3});
  given.vents[0].outflow = -1.0;
  CHECK(refusal(c, given) == "a vent's outflow is -1; it must be finite and at least 0");
  given = {};
  given.skins = {300.0};
  CHECK(refusal(c, given) == "SectionGiven::skins has 1 entries; the device has 0 patches of skin");
  SectionOptions options;
  options.finest = 0.0;
  CHECK(refusal(c, {}, options) == "SectionOptions::finest is 0; it must be finite and at least 1e-05");
  options = {};
  options.plane = Plane{0, 0.3};
  CHECK(refusal(c, {}, options) == "a plane at x = 0.3 m misses the device, which reaches from 0 to 0.2 m");
  options.plane = Plane{3, 0.1};
  CHECK(refusal(c, {}, options) == "Plane::normal must be 0 (x), 1 (y) or 2 (z)");
  options = {};
  options.margin = std::nan("");
  CHECK(refusal(c, {}, options).find("SectionOptions::margin is nan") == 0);
}
