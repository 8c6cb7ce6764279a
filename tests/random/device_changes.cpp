// Changes of a random device that its physics does not see, or sees in a known way.
#include <algorithm>

#include "tests/random/random_device.hpp"

namespace tuft::test {
namespace {

// Left and right, front and rear, base and top: the axis across a face, and along its two own.
int across(const std::string& face) {
  if (face == "left" || face == "right") return 0;
  if (face == "front" || face == "rear") return 1;
  return 2;
}

// Place of an axis of the device among the two of a face; -1: across it.
int along(const std::string& face, int axis) {
  if (face == "hinge") return axis == 0 ? 0 : -1;
  int place = 0;
  for (int a = 0; a < 3; ++a) {
    if (a == across(face)) continue;
    if (a == axis) return place;
    ++place;
  }
  return -1;
}

void mirror(RandomPatch& one, double length) {
  if (one.face == "left" || one.face == "right")
    one.face = one.face == "left" ? "right" : "left";
  else
    one.centre[0] = length - one.centre[0];
  one.turned = -one.turned;
}

void mirror(RandomHeat& one, double length) {
  one.from[0] = length - one.from[0];
  one.to[0] = length - one.to[0];
}

struct Copy {
  const RandomDevice& device;
  int axis;
  double by;

  std::string name(const std::string& old) const { return old.empty() ? old : old + kSecond; }
  Point point(Point old) const { return old[axis] += by, old; }
  Entries renamed(Entries old) const {
    for (auto& entry : old) entry.first = name(entry.first);
    return old;
  }

  RandomPatch patch(RandomPatch one) const {
    one.name = name(one.name);
    one.behind = name(one.behind);
    one.centre[along(one.face, axis)] += by;
    return one;
  }
  RandomThing thing(RandomThing one) const {
    one.name = name(one.name);
    one.from = name(one.from);
    one.to = name(one.to);
    one.at = point(one.at);
    for (auto& entry : one.more)
      if (entry.first == "speed-control") {
        const std::size_t end = entry.second.find(',');  // {sensor: NAME, ...
        entry.second.insert(end, kSecond);
      }
    return one;
  }
  RandomHeat heat(RandomHeat one) const {
    one.name = name(one.name);
    one.joins = renamed(one.joins);
    one.heats = renamed(one.heats);
    one.from = point(one.from);
    one.to = point(one.to);
    return one;
  }
};

template <class Thing, class Change>
void append(std::vector<Thing>& to, const std::vector<Thing>& from, const Change& change) {
  for (const Thing& one : from) to.push_back(change(one));
}

}  // namespace

RandomDevice mirrored(RandomDevice device) {
  const double length = device.size[0];
  for (RandomBox& zone : device.zones) {
    zone.from[0] = length - zone.from[0];
    zone.to[0] = length - zone.to[0];
  }
  for (RandomPassage& passage : device.passages) passage.at[0] = length - passage.at[0];
  for (RandomPatch& vent : device.vents) mirror(vent, length);
  for (RandomPatch& skin : device.skins) mirror(skin, length);
  for (RandomThing& fan : device.fans) fan.at[0] = length - fan.at[0];
  for (RandomThing& stack : device.fins) stack.at[0] = length - stack.at[0];
  for (RandomHeat& source : device.sources) mirror(source, length);
  for (RandomPose& pose : device.poses) {
    if (pose.word == "on-left-edge")
      pose.word = "on-right-edge";
    else if (pose.word == "on-right-edge")
      pose.word = "on-left-edge";
    // The picture of a turn about an axis is a turn by the same angle about (x, -y, -z).
    pose.axis[1] = -pose.axis[1];
    pose.axis[2] = -pose.axis[2];
  }
  for (RandomSupport& support : device.supports) support.tilt_y = -support.tilt_y;
  device.draught_from = -device.draught_from;
  return device;
}

int free_axis(const RandomDevice& device) {
  if (device.has_lid) return -1;
  for (int axis = 0; axis < 3; ++axis) {
    const auto lies_across = [&](const RandomPatch& one) { return across(one.face) == axis; };
    if (std::none_of(device.vents.begin(), device.vents.end(), lies_across) &&
        std::none_of(device.skins.begin(), device.skins.end(), lies_across))
      return axis;
  }
  return -1;
}

RandomDevice doubled(const RandomDevice& device, int axis) {
  const Copy copy{device, axis, device.size[axis] + 10.0};
  RandomDevice out = device;
  out.size[axis] += copy.by;
  append(out.zones, device.zones, [&](RandomBox zone) {
    return zone.name = copy.name(zone.name), zone.from = copy.point(zone.from), zone.to = copy.point(zone.to),
           zone;
  });
  append(out.passages, device.passages, [&](RandomPassage one) {
    return one.name = copy.name(one.name), one.one = copy.name(one.one), one.other = copy.name(one.other),
           one.at = copy.point(one.at), one;
  });
  append(out.vents, device.vents, [&](const RandomPatch& one) { return copy.patch(one); });
  append(out.skins, device.skins, [&](const RandomPatch& one) { return copy.patch(one); });
  append(out.fans, device.fans, [&](const RandomThing& one) { return copy.thing(one); });
  append(out.fins, device.fins, [&](const RandomThing& one) { return copy.thing(one); });
  append(out.sources, device.sources, [&](const RandomHeat& one) { return copy.heat(one); });
  append(out.parts, device.parts, [&](const RandomHeat& one) { return copy.heat(one); });
  for (RandomLoad& load : out.loads) {
    for (Entries* entries : {&load.power, &load.fans}) {
      const Entries second = copy.renamed(*entries);
      entries->insert(entries->end(), second.begin(), second.end());
    }
  }
  return out;
}

RandomDevice with_halves(RandomDevice device, std::size_t vent) {
  RandomPatch second = device.vents[vent];
  RandomPatch& first = device.vents[vent];
  first.size[0] /= 2.0;
  second.size[0] /= 2.0;
  first.centre[0] -= first.size[0] / 2.0;
  second.centre[0] += second.size[0] / 2.0;
  second.name += kSecond;
  device.vents.push_back(second);
  return device;
}

RandomDevice in_free_air(RandomDevice device, bool cold) {
  device.supports = {{"free", 0.0, 0.0, {}, {}, false, {{"kind", "air"}}}};
  device.draught = 0.0;
  for (RandomDevice::Condition& condition : device.conditions) condition.support = "free";
  if (cold)
    for (RandomLoad& load : device.loads) load.power.clear();
  return device;
}

RandomDevice alone(RandomDevice device) {
  device = in_free_air(device, false);
  device.says_leaks = true;
  for (RandomBox& zone : device.zones) zone.more = {{"walls", "0.2 W/K"}};
  const auto is_skin = [&](const auto& join) {
    return std::any_of(device.skins.begin(), device.skins.end(),
                       [&](const RandomPatch& skin) { return skin.name == join.first; });
  };
  for (RandomHeat& part : device.parts)
    part.joins.erase(std::remove_if(part.joins.begin(), part.joins.end(), is_skin), part.joins.end());
  device.skins.clear();
  return device;
}

}  // namespace tuft::test
