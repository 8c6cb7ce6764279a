// Room, poses, supports, loads and conditions of a random device.
#include "tests/random/build_device.hpp"

namespace tuft::test {

RandomPose DeviceBuilder::pose() {
  RandomPose out;
  out.name = "pose-" + std::to_string(device.poses.size() + 1);
  if (dice.chance(0.6)) {
    out.word = one_of(
        {"flat", "flat", "upside-down", "on-left-edge", "on-right-edge", "on-front-edge", "on-rear-edge"});
    return out;
  }
  out.tilt = dice.whole(-180, 180);
  do {
    for (double& part : out.axis) part = dice.hundredths(-1.0, 1.0);
  } while (std::abs(out.axis[0]) + std::abs(out.axis[1]) + std::abs(out.axis[2]) < 0.1);
  return out;
}

RandomSupport DeviceBuilder::support(const std::string& kind) {
  RandomSupport out;
  out.name = "support-" + std::to_string(device.supports.size() + 1);
  out.more = {{"kind", kind}};
  out.tilt_x = dice.hundredths(-3.0, 3.0);
  out.tilt_y = dice.hundredths(-3.0, 3.0);
  if (kind == "soft" || kind == "lap") {
    out.more.emplace_back("sink", quantity(0.5, 15.0, "mm"));
    out.more.emplace_back("covers", share(0.0, 100.0));
    out.more.emplace_back("permeability", quantity(10.0, 500.0, "mm/s"));
    out.more.emplace_back("thickness", quantity(1.0, 60.0, "mm"));
    out.more.emplace_back("shelter", share(0.0, 90.0));
  } else if (kind == "hard") {
    out.more.emplace_back("edge-gap", quantity(0.1, 10.0, "mm"));
  } else if (kind != "air") {
    out.more.emplace_back("gap", quantity(2.0, 60.0, "mm"));
  }
  if (kind == "air") return out;
  if (dice.chance(0.2)) {
    out.says_touches = true;
    out.touches = {device.vents.front().name};
  }
  if (dice.chance(0.1)) out.over = {device.vents.back().name};
  return out;
}

void DeviceBuilder::build_use() {
  device.room = {{"temperature", number(dice.whole(-5, 40)) + " degC"},
                 {"altitude", number(dice.whole(0, 3000)) + " m"},
                 {"humidity", share(5.0, 95.0)}};
  if (dice.chance(0.3)) {
    device.draught = dice.hundredths(0.02, 1.5);
    device.draught_from = dice.whole(-180, 180);
  }
  for (int i = 0; i < 2; ++i) {
    device.poses.push_back(pose());
    device.supports.push_back(support(one_of({"air", "hard", "hard", "soft", "lap", "wall", "stand"})));
    RandomLoad load;
    load.name = "load-" + std::to_string(i + 1);
    // What the surface carries off without being too hot for anything: 200 W/m2.
    const double area = 2e-6 * (device.size[0] * device.size[1] + device.size[1] * device.size[2] +
                                device.size[0] * device.size[2]);
    for (const RandomHeat& source : device.sources)
      if (dice.chance(0.85)) load.power.emplace_back(source.name, quantity(0.05, 200.0 * area, "W"));
    for (const RandomThing& fan : device.fans) {
      if (dice.chance(0.15))
        load.fans.emplace_back(fan.name, "stopped");
      else if (dice.chance(0.2))
        load.fans.emplace_back(fan.name, share(20.0, 100.0));
    }
    device.loads.push_back(load);
    const std::string n = std::to_string(i + 1);
    device.conditions.push_back({"use-" + n, "pose-" + n, "support-" + n, "load-" + n,
                                 device.has_lid && dice.chance(0.3) ? double(dice.whole(0, 140)) : -1.0});
  }
}

}  // namespace tuft::test
