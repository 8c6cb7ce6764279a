// Chassis, zones, passages and vents of a random device.
#include <fmt/format.h>

#include <algorithm>

#include "tests/random/build_device.hpp"

namespace tuft::test {
namespace {

constexpr double kLeast = 6.0;  // of a vent or passage, and of a wall that one is cut into [mm]

double extent(const RandomBox& box, int axis) { return box.to[axis] - box.from[axis]; }

double round_to_hundredth(double value) { return std::round(value * 100.0) / 100.0; }

}  // namespace

void axes_of(const std::string& face, int& first, int& second) {
  first = face == "left" || face == "right" ? 1 : 0;
  second = face == "base" || face == "top" || face == "hinge" ? 1 : 2;
}

std::string DeviceBuilder::one_zone() {
  return device.zones[static_cast<std::size_t>(dice.whole(0, static_cast<int>(device.zones.size()) - 1))]
      .name;
}

const RandomBox& DeviceBuilder::zone_named(const std::string& name) const {
  return *std::find_if(device.zones.begin(), device.zones.end(),
                       [&](const RandomBox& zone) { return zone.name == name; });
}

Point DeviceBuilder::point_in(const RandomBox& box) {
  Point out;
  for (int a = 0; a < 3; ++a) out[a] = round_to_hundredth(box.from[a] + dice.real(0.2, 0.8) * extent(box, a));
  return out;
}

// Cuts the largest zone in two across its longest side.
void DeviceBuilder::cut_largest() {
  const auto volume = [](const RandomBox& box) { return extent(box, 0) * extent(box, 1) * extent(box, 2); };
  RandomBox& whole = *std::max_element(
      device.zones.begin(), device.zones.end(),
      [&](const RandomBox& one, const RandomBox& other) { return volume(one) < volume(other); });
  int axis = 0;
  for (int a = 1; a < 3; ++a)
    if (extent(whole, a) > extent(whole, axis)) axis = a;
  const double cut = round_to_hundredth(whole.from[axis] + dice.real(0.3, 0.7) * extent(whole, axis));
  RandomBox part = whole;
  part.name = "zone-" + std::to_string(device.zones.size() + 1);
  part.from[axis] = cut;
  whole.to[axis] = cut;
  device.zones.push_back(part);
}

// A passage in the wall that two zones share, where it is large enough.
void DeviceBuilder::join(const RandomBox& one, const RandomBox& other) {
  for (int axis = 0; axis < 3; ++axis) {
    const bool touches = one.to[axis] == other.from[axis] || other.to[axis] == one.from[axis];
    if (!touches) continue;
    RandomPassage passage{
        "way-" + std::to_string(device.passages.size() + 1), one.name, other.name, axis, {}, {}};
    passage.at[axis] = one.to[axis] == other.from[axis] ? one.to[axis] : one.from[axis];
    Words sides;
    for (int a = 0; a < 3; ++a) {
      if (a == axis) continue;
      const double low = std::max(one.from[a], other.from[a]), high = std::min(one.to[a], other.to[a]);
      if (high - low < kLeast) return;
      const double side = dice.hundredths(0.2, 0.9) * (high - low);
      passage.at[a] = round_to_hundredth(low + 0.5 * side + dice.real(0.0, 1.0) * (high - low - side));
      sides.push_back(number(round_to_hundredth(side)) + " mm");
    }
    passage.more = {{"size", "[" + sides[0] + ", " + sides[1] + "]"},
                    {"length", quantity(0.5, 30.0, "mm")},
                    {"bends", number(dice.whole(0, 2))}};
    device.passages.push_back(passage);
  }
}

void DeviceBuilder::build_spaces() {
  const bool flat = dice.chance(0.4);
  device.size = {dice.hundredths(80.0, 400.0), dice.hundredths(60.0, 300.0),
                 flat ? dice.hundredths(14.0, 30.0) : dice.hundredths(30.0, 250.0)};
  device.feet = quantity(0.5, 10.0, "mm");
  device.has_lid = flat && dice.chance(0.4);
  if (device.has_lid)
    device.lid = {{"angle", number(dice.whole(60, 140)) + " deg"}, {"clearance", quantity(0.3, 3.0, "mm")}};
  device.says_leaks = dice.chance(0.3);
  RandomBox whole;
  whole.name = "zone-1";
  whole.to = device.size;
  device.zones = {whole};
  for (int more = dice.whole(0, 3); more > 0; --more) cut_largest();
  for (RandomBox& zone : device.zones)
    if (dice.chance(0.4)) zone.more = {{"walls", quantity(0.01, 2.0, "W/K")}};
  for (std::size_t i = 0; i < device.zones.size(); ++i)
    for (std::size_t j = i + 1; j < device.zones.size(); ++j) join(device.zones[i], device.zones[j]);
}

// Whether no other vent or patch of skin lies there.
bool DeviceBuilder::is_free(const RandomPatch& patch) const {
  const auto reach = [](const RandomPatch& one, int side) {
    if (one.turned == 0.0) return 0.5 * one.size[static_cast<std::size_t>(side)];
    return 0.5 * std::hypot(one.size[0], one.size[1]);
  };
  const auto meets = [&](const RandomPatch& one) {
    if (one.face != patch.face) return false;
    for (int side = 0; side < (patch.face == "hinge" ? 1 : 2); ++side) {
      const auto s = static_cast<std::size_t>(side);
      if (std::abs(one.centre[s] - patch.centre[s]) >= reach(one, side) + reach(patch, side)) return false;
    }
    return true;
  };
  return std::none_of(device.vents.begin(), device.vents.end(), meets) &&
         std::none_of(device.skins.begin(), device.skins.end(), meets);
}

// Gives a patch a place on that face of a zone; false where there is none.
bool DeviceBuilder::place(RandomPatch& patch, const RandomBox& zone, const std::string& face) {
  int first = 0, second = 0;
  axes_of(face, first, second);
  const int across = 3 - first - second;
  if (face != "hinge") {
    const bool low = face == "left" || face == "front" || face == "base";
    if (low ? zone.from[across] != 0.0 : zone.to[across] != device.size[across]) return false;
  } else if (zone.to[1] != device.size[1] || zone.to[2] != device.size[2]) {
    return false;
  }
  patch.face = face;
  const Pair room{extent(zone, first) - 2.0, face == "hinge" ? 14.0 : extent(zone, second) - 2.0};
  if (std::min(room[0], room[1]) < kLeast) return false;
  for (int tries = 0; tries < 20; ++tries) {
    patch.turned = 0.0;
    for (std::size_t s = 0; s < 2; ++s)
      patch.size[s] = 0.02 * std::round(dice.scale(kLeast, std::min(room[s], 120.0)) * 50.0);
    double reach[2] = {0.5 * patch.size[0], 0.5 * patch.size[1]};
    const double corner = std::hypot(reach[0], reach[1]);
    if (face != "hinge" && 2.0 * corner < std::min(room[0], room[1]) && dice.chance(0.25)) {
      patch.turned = dice.whole(-179, 179);
      reach[0] = reach[1] = corner;
    }
    const Point& from = zone.from;
    patch.centre[0] = dice.hundredths(from[first] + 1.0 + reach[0], zone.to[first] - 1.0 - reach[0]);
    patch.centre[1] = face == "hinge"
                          ? 0.0
                          : dice.hundredths(from[second] + 1.0 + reach[1], zone.to[second] - 1.0 - reach[1]);
    if (is_free(patch)) return true;
  }
  return false;
}

std::string DeviceBuilder::cover(bool& has_loss) {
  const std::string kind = one_of({"open", "perforated", "mesh", "louvre", "slots", "foam"});
  has_loss = kind != "open";
  if (dice.chance(0.1)) return kind;
  Entries out{{"kind", kind}, {"thickness", quantity(0.3, 4.0, "mm")}};
  if (kind == "foam") {
    out.emplace_back("permeability", quantity(1e-9, 1e-8, "m2"));
    out.emplace_back("inertia", quantity(500.0, 5000.0, "1/m"));
  } else if (kind != "open") {
    out.emplace_back("open", share(8.0, 90.0));
    out.emplace_back("hole", quantity(0.4, 4.0, "mm"));
  }
  if (dice.chance(0.1)) out.emplace_back("loss", number(dice.scale(1.5, 80.0)));
  std::string text;
  for (const auto& [key, value] : out) text += (text.empty() ? "{" : ", ") + key + ": " + value;
  return text + "}";
}

// A vent somewhere on the outside of a zone; `behind` is empty where a fan sits in it.
bool DeviceBuilder::add_vent(const std::string& behind, const RandomBox& zone) {
  RandomPatch vent;
  vent.name = "vent-" + std::to_string(device.vents.size() + 1);
  vent.behind = behind;
  Words faces{"base", "top", "left", "right", "front", "rear"};
  if (device.has_lid && !behind.empty()) faces.push_back("hinge");
  for (int tries = 0; tries < 12; ++tries) {
    if (!place(vent, zone, one_of(faces))) continue;
    vent.more.emplace_back("cover", cover(vent.has_loss));
    if (dice.chance(0.15)) vent.more.emplace_back("blocked", share(0.0, 80.0));
    device.vents.push_back(vent);
    return true;
  }
  return false;
}

void DeviceBuilder::build_vents() {
  // Two at least: a device of one opening is possible, and left to the tests of a single opening.
  const std::size_t wanted = static_cast<std::size_t>(dice.whole(2, 6));
  for (int tries = 0; tries < 60 && device.vents.size() < wanted; ++tries) {
    const std::string zone = one_zone();
    add_vent(zone, zone_named(zone));
  }
}

}  // namespace tuft::test
