// What stands behind each vent, and where fans and fins are: settled once everything has been read.
#include <fmt/core.h>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Device;
using geometry::Fan;
using geometry::FinStack;
using geometry::Place;
using geometry::PlaceKind;
using geometry::Vec3;
using geometry::Vent;

// Which end of which fan sits right behind a vent.
struct Taken {
  Place place;
  Item by;  // the fan's key that names the vent
};
using TakenVents = std::map<int, Taken>;

void take(Reader& reader, TakenVents& taken, const Item& fan, const char* key, Place vent, Place by) {
  const Item item = reader.child(fan, key);
  if (!item || vent.kind != PlaceKind::vent) return;
  const auto [it, is_new] = taken.insert({vent.index, Taken{by, item}});
  if (is_new) return;
  reader.report.conflict(item.node->spot, item.path,
                         fmt::format("another fan sits behind the vent {}; split it into one vent a fan",
                                     in_quotes(item.node->text)),
                         it->second.by.node->spot, "the other fan");
}

TakenVents vents_of_fans(Reader& reader) {
  TakenVents taken;
  const Device& device = reader.device();
  for (std::size_t i = 0; i < device.fans.size(); ++i) {
    const Fan& fan = device.fans[i];
    const Item& item = reader.names["fans"].items[i];
    const int index = static_cast<int>(i);
    take(reader, taken, item, "draws-from", fan.draws_from, {PlaceKind::fan_inlet, index});
    take(reader, taken, item, "blows-into", fan.blows_into, {PlaceKind::fan_outlet, index});
  }
  return taken;
}

// --- behind --------------------------------------------------------------------------------------

void settle_vent(Reader& reader, const Item& item, const Taken* fan, Vent& vent) {
  const Item behind = reader.child(item, "behind");
  if (fan != nullptr) {
    vent.behind = fan->place;
    if (!behind) return;
    reader.report.conflict(behind.key_spot, behind.path,
                           "a fan sits right behind this vent; take `behind` out", fan->by.node->spot,
                           "the fan says so here");
    return;
  }
  if (!behind) {
    const auto zone = zone_just_inside(reader, item, rectangle_of(vent), "vent", "a zone or fins");
    if (zone) vent.behind = {PlaceKind::zone, *zone};
    return;
  }
  const Reader::Found found = reader.reference(behind);
  if (found.index >= 0)
    vent.behind = {found.section == "fins" ? PlaceKind::fins : PlaceKind::zone, found.index};
}

void settle_leak(Reader& reader, const Item& item, Vent& leak) {
  if (const Item behind = reader.child(item, "behind")) {
    leak.behind = {PlaceKind::zone, std::max(0, reader.reference(behind).index)};
    return;
  }
  if (reader.names["zones"].broken) return;
  const int zone = nearest_zone(reader.device(), leak.centre);
  leak.behind = {PlaceKind::zone, zone};
  if (reader.device().zones.size() > 1)
    reader.assume_found(item, "behind", reader.device().zones[static_cast<std::size_t>(zone)].name);
}

// --- places of fans and fins ---------------------------------------------------------------------

Vec3 centre_of(const Device& device, Place place) {
  const auto i = static_cast<std::size_t>(place.index);
  if (place.kind == PlaceKind::vent && i < device.vents.size()) return device.vents[i].centre;
  if (place.kind == PlaceKind::fins && i < device.fin_stacks.size()) return device.fin_stacks[i].centre;
  return i < device.zones.size() ? device.zones[i].centre : Vec3(Vec3::Zero());
}

Vec3 given_or(Reader& reader, const Item& item, const Vec3& fallback) {
  if (const Item at = reader.child(item, "at")) {
    const auto point = reader.numbers(item, "at");
    if (!point) return fallback;
    const Vec3 centre((*point)[0], (*point)[1], (*point)[2]);
    const bool known_size = reader.device().size.x() > 0.0;
    if (known_size && !inside_chassis(reader.device(), centre)) {
      reader.error(at, "the point lies outside the chassis");
    }
    return centre;
  }
  if (item.node->kind == Node::Kind::map) reader.assume_found(item, "at", write_point(fallback));
  return fallback;
}

Vec3 outlet_centre(const Device& device, int stack) {
  const int zone = device.fin_stacks[static_cast<std::size_t>(stack)].exit_zone;
  if (zone >= 0) return centre_of(device, {PlaceKind::zone, zone});
  Vec3 sum = Vec3::Zero();
  int count = 0;
  for (const Vent& vent : device.vents) {
    if (vent.behind.kind != PlaceKind::fins || vent.behind.index != stack) continue;
    sum += vent.centre;
    ++count;
  }
  return count > 0 ? Vec3(sum / count) : Vec3(0.5 * device.size);
}

}  // namespace

void read_places(Reader& reader, const Item&) {
  Device& device = reader.device();
  const TakenVents taken = vents_of_fans(reader);
  const std::size_t n_vents = reader.names["vents"].all.size();
  for (std::size_t i = 0; i < device.vents.size(); ++i) {
    if (i >= n_vents) {
      settle_leak(reader, reader.names["leaks"].items[i - n_vents], device.vents[i]);
      continue;
    }
    const auto fan = taken.find(static_cast<int>(i));
    settle_vent(reader, reader.names["vents"].items[i], fan == taken.end() ? nullptr : &fan->second,
                device.vents[i]);
  }
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) {
    device.fin_stacks[i].centre =
        given_or(reader, reader.names["fins"].items[i], outlet_centre(device, static_cast<int>(i)));
  }
  for (std::size_t i = 0; i < device.fans.size(); ++i) {
    device.fans[i].centre =
        given_or(reader, reader.names["fans"].items[i], centre_of(device, device.fans[i].draws_from));
  }
}

}  // namespace tuft::casefile
