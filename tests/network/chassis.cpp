#include "tests/network/chassis.hpp"

#include <algorithm>

namespace tuft::testing {

using namespace geometry;

namespace {

Cover perforated(double open) {
  Cover cover;
  cover.kind = CoverKind::perforated;
  cover.open_ratio = open;
  cover.hole = 2e-3;
  cover.thickness = 1e-3;
  return cover;
}

Vent vent(const std::string& name, Face face, const Vec3& centre, double width, double height,
          const Cover& cover, const Place& behind) {
  Vent v;
  v.name = name;
  v.face = face;
  v.centre = centre;
  v.width = width;
  v.height = height;
  v.cover = cover;
  v.behind = behind;
  return v;
}

Vent seam(const std::string& name, Face face, const Vec3& centre) {
  Vent v = vent(name, face, centre, 0.22, 0.018, Cover{}, {PlaceKind::zone, 1});
  v.is_leak = true;
  v.leak_area = 1.1e-5;
  return v;
}

Load load(const std::string& name, double power, double speed) {
  Load l;
  l.name = name;
  if (power > 0.0) l.powers.push_back({0, power});
  FanSetting setting;
  setting.fan = 0;
  setting.state = speed > 0.0 ? FanState::running : FanState::stopped;
  setting.speed = speed;
  l.fans.push_back(setting);
  return l;
}

Device chassis() {
  Device device;
  device.name = "Test chassis (invented)";
  device.size = {0.32, 0.22, 0.018};
  device.feet = 4e-3;
  device.zones.push_back({"fan-bay", {0.09, 0.16, 0.009}, {0.10, 0.08, 0.018}, 0.05});
  device.zones.push_back({"board", {0.21, 0.10, 0.009}, {0.20, 0.18, 0.018}, 0.25});
  Passage passage;
  passage.name = "bay-to-board";
  passage.zone_a = 0;
  passage.zone_b = 1;
  passage.centre = {0.14, 0.16, 0.009};
  passage.normal = 0;
  passage.width = 0.05;
  passage.height = 2.2e-3;
  passage.length = 5e-3;
  device.passages.push_back(passage);

  device.vents.push_back(
      vent("grille", Face::base, {0.09, 0.16, 0.0}, 0.09, 0.06, perforated(0.55), {PlaceKind::zone, 0}));
  device.vents.push_back(
      vent("spare", Face::base, {0.21, 0.09, 0.0}, 0.10, 0.06, perforated(0.50), {PlaceKind::zone, 1}));
  Cover comb;
  comb.kind = CoverKind::slots;
  comb.open_ratio = 0.75;
  comb.hole = 3e-3;
  device.vents.push_back(
      vent("outlet", Face::rear, {0.09, 0.22, 0.009}, 0.09, 0.009, comb, {PlaceKind::fins, 0}));
  device.vents.push_back(seam("seam-left", Face::left, {0.0, 0.11, 0.009}));
  device.vents.push_back(seam("seam-right", Face::right, {0.32, 0.11, 0.009}));

  Fan fan;
  fan.name = "blower";
  fan.speed = 75.0;
  fan.curve = {{0.0, 130.0}, {1.2e-3, 115.0}, {2.2e-3, 80.0}, {3.2e-3, 0.0}};
  fan.curve_speed = 75.0;
  fan.draws_from = {PlaceKind::zone, 0};
  fan.blows_into = {PlaceKind::fins, 0};
  fan.centre = {0.09, 0.16, 0.009};
  device.fans.push_back(fan);
  FinStack fins;
  fins.name = "fins";
  fins.count = 55.0;
  fins.gap = 1.1e-3;
  fins.height = 8e-3;
  fins.length = 25e-3;
  fins.centre = {0.09, 0.205, 0.009};
  device.fin_stacks.push_back(fins);
  Source chip;
  chip.name = "chip";
  chip.shares.push_back({{PlaceKind::fins, 0}, 0.8});
  chip.shares.push_back({{PlaceKind::zone, 1}, 0.2});
  device.sources.push_back(chip);
  return device;
}

}  // namespace

Case test_chassis() {
  Case content;
  content.device = chassis();
  for (const std::string& word : pose_words()) content.poses.push_back(named_pose(word));
  Support air;
  Support table;
  table.name = "table";
  table.kind = SupportKind::hard;
  Support cushion;
  cushion.name = "cushion";
  cushion.kind = SupportKind::soft;
  cushion.sink = 8e-3;
  cushion.covered = 0.9;
  cushion.permeability = 0.02;
  cushion.thickness = 0.02;
  cushion.touches_given = true;
  cushion.touches = {kGrille};
  content.supports = {air, table, cushion};
  content.loads = {load("busy", 40.0, 75.0), load("slow", 20.0, 18.75), load("stopped", 12.0, 0.0),
                   load("cold", 0.0, 75.0)};
  return content;
}

int add_condition(Case& content, const std::string& pose, int support, int load) {
  Condition condition;
  const auto& words = pose_words();
  condition.pose = static_cast<int>(std::find(words.begin(), words.end(), pose) - words.begin());
  condition.support = support;
  condition.load = load;
  condition.name = pose + "-" + content.supports[static_cast<std::size_t>(support)].name + "-" +
                   content.loads[static_cast<std::size_t>(load)].name;
  content.conditions.push_back(condition);
  return static_cast<int>(content.conditions.size()) - 1;
}

}  // namespace tuft::testing
