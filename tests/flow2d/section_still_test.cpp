// Nothing warm, nothing blown: nothing moves, whatever the pose, on whatever the device lies.
#include "tests/flow2d/section_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

TEST_CASE("a device without flow and heat keeps the air still in any pose", "[exact]") {
  geometry::Case c = slotted_box();
  c.device.lid.present = true;
  c.device.lid.angle = 1.9;
  geometry::Skin skin;
  skin.name = "top";
  skin.centre = {0.1, 0.07, 0.02};
  skin.width = skin.height = 0.05;
  c.device.skins = {skin};
  SectionBoundaryData given;
  given.skins = {*c.room.temperature};
  c.poses.clear();
  for (const std::string& word : geometry::pose_words()) c.poses.push_back(geometry::named_pose(word));
  c.poses.push_back(geometry::tilted("wedge", Vec3::UnitX(), 0.3));
  c.poses.push_back(geometry::tilted("tilt_error", Vec3(0.6, 0.8, 0.0), 0.7));
  SectionOptions options;
  options.finest = 2e-3;
  for (std::size_t k = 0; k < c.poses.size(); ++k) {
    c.conditions[0].pose = static_cast<int>(k);
    const SectionResult r = solve_section(c, c.conditions[0], given, options);
    INFO(c.poses[k].name << ": " << r.message);
    CHECK(r.end == SectionEnd::steady);
    CHECK(largest(r.u_face) < 1e-14);
    CHECK(largest(r.v_face) < 1e-14);
    CHECK(largest(r.pressure) < 1e-14);
    CHECK(r.recirculation.empty());
  }
}

TEST_CASE("the scene holds table, screen and chassis where they are", "[scene]") {
  geometry::Case c = slotted_box();
  c.device.lid.present = true;
  c.device.lid.angle = 1.5707963267948966;  // upright
  SectionOptions options;
  options.plane = Plane{0, 0.1};
  const SectionResult r = solve_section(c, c.conditions[0], {}, options);
  const auto part = [&](double y, double z) {
    int i = 0, j = 0;
    while (r.x[static_cast<std::size_t>(i) + 1] < y) ++i;
    while (r.y[static_cast<std::size_t>(j) + 1] < z) ++j;
    return static_cast<Part>(r.part(i, j));
  };
  CHECK(part(0.07, 0.01) == Part::chassis);
  CHECK(part(0.07, -0.003) == Part::air);
  CHECK(part(0.07, -0.0065) == Part::support);
  CHECK(part(-0.1, -0.0065) == Part::support);
  CHECK(part(0.07, 0.021) == Part::air);
  // Upright from its lower edge, 20 mm from the hinge at 45 degrees, 0.15 m high.
  const double edge = 0.02 * std::sqrt(0.5);
  CHECK(part(0.15 + edge + 0.002, 0.02 + edge + 0.05) == Part::screen);
  CHECK(part(0.15 + edge + 0.002, 0.02 + edge - 0.006) == Part::air);
  CHECK(part(0.15 + edge + 0.002, 0.02 + edge + 0.17) == Part::air);
  CHECK(part(0.15 + edge - 0.02, 0.02 + edge + 0.05) == Part::air);
}
