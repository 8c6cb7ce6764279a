// Fans, fins, sources, parts and skin of a random device.
#include <algorithm>

#include "tests/random/build_device.hpp"

namespace tuft::test {

Entries DeviceBuilder::curve() {
  const double most = dice.scale(0.5, 15.0), pressure = dice.scale(8.0, 250.0);
  const int points = dice.whole(3, 6);
  std::string out;
  for (int i = 0; i < points; ++i) {
    const double at = static_cast<double>(i) / (points - 1);
    const double left = (1.0 - at) * (1.0 + 0.5 * at) * pressure;
    out += (i > 0 ? ", [" : "[") + number(std::round(at * most * 1000.0) / 1000.0) + " L/s, " +
           number(std::round(left * 100.0) / 100.0) + " Pa]";
  }
  return {{"curve", "{points: [" + out + "]}"}};
}

// Kind, size and speed of a fan that fits into `room` [mm].
Entries DeviceBuilder::fan_kind(double room) {
  const bool blower = dice.chance(0.5);
  const double diameter = 0.01 * std::round(100.0 * dice.real(0.5, 1.0) * std::min(room, 120.0));
  // Tips of 3 to 20 m/s.
  const double speed = std::min(20000.0, dice.real(3.0, 20.0) / (3.14159 * diameter * 1e-3) * 60.0);
  Entries out{{"kind", blower ? "blower" : "axial"},
              {"diameter", number(diameter) + " mm"},
              {"thickness", quantity(3.0, 25.0, "mm")},
              {"speed", number(std::round(speed)) + " rpm"}};
  if (dice.chance(0.3)) {
    const Entries more = curve();
    out.insert(out.end(), more.begin(), more.end());
  }
  return out;
}

// A stack in a zone, its air leaving by a vent of its own or into the zone; its name is the last one's then.
bool DeviceBuilder::add_fins(const RandomBox& zone, bool to_zone) {
  RandomThing fins;
  fins.name = "fins-" + std::to_string(device.fins.size() + 1);
  fins.at = point_in(zone);
  if (to_zone)
    fins.to = zone.name;
  else if (!add_vent(fins.name, zone))
    return false;
  fins.more = {{"channels", number(dice.whole(4, 70))},
               {"gap", quantity(0.8, 4.0, "mm")},
               {"height", quantity(4.0, std::max(5.0, 0.6 * device.size[2]), "mm")},
               {"length", quantity(8.0, 60.0, "mm")},
               {"walls", quantity(0.02, 1.0, "W/K")}};
  device.fins.push_back(fins);
  return true;
}

void DeviceBuilder::add_fan() {
  RandomThing fan;
  fan.name = "fan-" + std::to_string(device.fans.size() + 1);
  const std::string zone = one_zone();
  const RandomBox& box = zone_named(zone);
  fan.at = point_in(box);
  double room = 0.6 * std::min(device.size[0], device.size[1]);
  const int way = dice.whole(0, 4);
  if (way <= 1) {
    if (!add_vent("", box)) return;
    const RandomPatch& vent = device.vents.back();
    fan.from = way == 0 ? vent.name : zone;
    fan.to = way == 0 ? zone : vent.name;
    room = std::max(8.0, std::min(vent.size[0], vent.size[1]));
  } else if (way == 2 || (way == 3 && device.zones.size() > 1)) {
    const std::string other = way == 3 ? one_zone() : zone;
    if (way == 3 && other == zone) return;
    if (!add_fins(zone_named(other), way == 3)) return;
    fan.from = zone;
    fan.to = device.fins.back().name;
  } else {
    const std::string other = one_zone();
    if (other == zone) return;
    fan.from = zone;
    fan.to = other;
  }
  fan.more = fan_kind(room);
  device.fans.push_back(fan);
}

void DeviceBuilder::build_fans() {
  for (int more = dice.whole(0, 3); more > 0; --more) add_fan();
}

void DeviceBuilder::add_skin() {
  RandomPatch skin;
  skin.name = "skin-" + std::to_string(device.skins.size() + 1);
  skin.behind = one_zone();
  if (!place(skin, zone_named(skin.behind), one_of({"base", "top", "left", "right", "front", "rear"})))
    return;
  skin.turned = 0.0;
  skin.more = {{"material", one_of({"metal", "glass", "plastic", "wood"})},
               {"emissivity", share(10.0, 95.0)},
               {"inside-film", quantity(3.0, 30.0, "W/(m2 K)")}};
  device.skins.push_back(skin);
}

void DeviceBuilder::add_part() {
  RandomHeat part;
  part.name = "part-" + std::to_string(device.parts.size() + 1);
  part.joins = {{one_zone(), quantity(0.3, 15.0, "K/W")}};
  if (!device.skins.empty()) part.joins.emplace_back(device.skins.front().name, quantity(0.5, 30.0, "K/W"));
  if (!device.fins.empty() && dice.chance(0.6))
    part.joins.emplace_back(device.fins.back().name, quantity(0.05, 3.0, "K/W"));
  part.more = {{"capacity", quantity(5.0, 300.0, "J/K")}};
  device.parts.push_back(part);
}

void DeviceBuilder::add_source() {
  RandomHeat source;
  source.name = "source-" + std::to_string(device.sources.size() + 1);
  const std::string zone = one_zone();
  const int way = dice.whole(0, 3);
  if (way == 0) {
    source.joins = {{zone, quantity(0.5, 12.0, "K/W")}};
    if (!device.parts.empty()) source.joins.emplace_back(device.parts.back().name, quantity(0.1, 3.0, "K/W"));
    if (dice.chance(0.3)) source.more = {{"throttles-at", "95 degC"}, {"least-power", "0.5 W"}};
  } else if (way == 1) {
    source.heats = {{zone, "100 %"}};
    source.has_box = true;
    source.from = point_in(zone_named(zone));
    source.to = point_in(zone_named(zone));
  } else {
    const std::string other = way == 2 && !device.fins.empty() ? device.fins.front().name : one_zone();
    source.heats = {{zone, "100 %"}};
    if (other != zone) source.heats = {{zone, "35 %"}, {other, "65 %"}};
  }
  device.sources.push_back(source);
}

void DeviceBuilder::build_heat() {
  for (int more = dice.whole(0, 3); more > 0; --more) add_skin();
  for (int more = dice.whole(0, 2); more > 0; --more) add_part();
  for (int more = dice.whole(1, 3); more > 0; --more) add_source();
  // A fan that follows a chip.
  const auto has_temperature = [](const RandomHeat& source) { return !source.joins.empty(); };
  const auto sensor = std::find_if(device.sources.begin(), device.sources.end(), has_temperature);
  if (sensor != device.sources.end() && !device.fans.empty() && dice.chance(0.4))
    device.fans.front().more.emplace_back(
        "speed-control", "{sensor: " + sensor->name +
                             ", speeds: [[45 degC, 0 rpm], [60 degC, 1000 rpm], [90 degC, 2800 rpm]]}");
}

}  // namespace tuft::test
