// Where things are: rectangles on faces, what lies behind them, and, once everything has been read, what
// stands behind each vent and where fans and fins are.
#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Device;
using geometry::Face;
using geometry::Place;
using geometry::PlaceKind;
using geometry::Vec3;
using geometry::Vent;

// The rectangle must lie on its face; the hinge slot has no width of its own to compare with.
void check_on_face(Reader& reader, const Item& item, const Rectangle& where) {
  if (reader.device().size.x() <= 0.0) return;
  const Eigen::Vector2d face = face_size(reader.device().size, where.face);
  const Eigen::Vector2d at = on_face_coordinates(where);
  const Eigen::Vector2d extent = where.extents();
  Vec3 first, second;
  geometry::face_axes(where.face, first, second);
  const int axes[] = {first.x() > 0 ? 0 : 1, second.y() > 0 ? 1 : 2};
  for (int i = 0; i < (where.face == Face::hinge ? 1 : 2); ++i) {
    const double low = at[i] - 0.5 * extent[i];
    const double high = at[i] + 0.5 * extent[i];
    if (low >= -kSameLength && high <= face[i] + kSameLength) continue;
    const std::string axis = std::string("xyz").substr(static_cast<std::size_t>(axes[i]), 1);
    const std::string word = geometry::face_word(where.face);
    if (extent[i] > face[i] + kSameLength) {
      reader.error(item,
                   fmt::format("is {} wide along {}, larger than the {} face ({})",
                               write_quantity(extent[i], "mm"), axis, word, write_quantity(face[i], "mm")));
    } else {
      reader.error(item, fmt::format("reaches from {} to {} along {}, beyond the {} face (0 mm to {})",
                                     write_quantity(low, "mm"), write_quantity(high, "mm"), axis, word,
                                     write_quantity(face[i], "mm")));
    }
  }
}

// Axes along which a face extends.
std::pair<std::size_t, std::size_t> axes_of(Face face) {
  Vec3 first, second;
  geometry::face_axes(face, first, second);
  return {first.x() > 0 ? 0 : 1, second.y() > 0 ? 1 : 2};
}

EdgeRules rules_on_face(const Rectangle& where) {
  EdgeRules rules;
  const auto [first, second] = axes_of(where.face);
  const bool hinge = where.face == Face::hinge;
  rules.what = std::string("what lies on the ") + geometry::face_word(where.face) + (hinge ? "" : " face");
  rules.axes = {{false, false, false}};
  rules.axes[first] = true;
  if (!hinge) rules.axes[second] = true;
  rules.needed = rules.axes;
  const Eigen::Vector2d extents = where.extents();
  rules.extents[static_cast<int>(first)] = extents.x();
  rules.extents[static_cast<int>(second)] = extents.y();
  rules.instead = {"centre"};
  return rules;
}

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
  reader.conflict(item,
                  fmt::format("another fan sits behind the vent {}; split it into one vent a fan",
                              in_quotes(item.node->text)),
                  it->second.by, "the other fan");
}

TakenVents vents_of_fans(Reader& reader) {
  TakenVents taken;
  const Device& device = reader.device();
  for (std::size_t i = 0; i < device.fans.size(); ++i) {
    const geometry::Fan& fan = device.fans[i];
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
  vent.behind = reader.place(behind).value_or(vent.behind);
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
    reader.assume_found(item, "behind", at(reader.device().zones, zone).name);
}

// --- places of fans and fins ---------------------------------------------------------------------

Vec3 centre_of(const Device& device, Place place) {
  const auto i = static_cast<std::size_t>(place.index);
  if (place.kind == PlaceKind::vent && i < device.vents.size()) return device.vents[i].centre;
  if (place.kind == PlaceKind::fins && i < device.fin_stacks.size()) return device.fin_stacks[i].centre;
  return i < device.zones.size() ? device.zones[i].centre : Vec3(Vec3::Zero());
}

// Of the impeller: its diameter across, its thickness along the axis.
Vec3 fan_extents(const Device& device, const geometry::Fan& fan) {
  const auto vents = device.vents.size();
  for (const Place& place : {fan.draws_from, fan.blows_into})
    if (place.kind == PlaceKind::vent && static_cast<std::size_t>(place.index) >= vents) return Vec3::Zero();
  const Vec3 axis = geometry::fan_axis(fan, device);
  return Vec3::Constant(*fan.diameter) + axis * (*fan.thickness - *fan.diameter);
}

Vec3 outlet_centre(const Device& device, int stack) {
  const int zone = at(device.fin_stacks, stack).exit_zone;
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

// How a rectangle is turned; only vents may say it.
double read_turn(Reader& reader, const Item& item, Face face) {
  const Item turned = reader.child(item, "turned");
  const auto angle = turned ? reader.quantity(turned) : std::nullopt;
  if (!angle) return 0.0;
  if (face != Face::hinge) return **angle;
  reader.error(turned, "the slot at the hinge can't be turned", "take `turned` out, or choose another face");
  return 0.0;
}

}  // namespace

std::optional<Face> read_face(Reader& reader, const Item& item) {
  return geometry::kind_called<Face>(reader.word(item, "face"));
}

Rectangle read_rectangle(Reader& reader, const Item& item, Rectangle where) {
  where.turned = read_turn(reader, item, where.face);
  const auto size = reader.numbers(item, "size");
  if (size) {
    where.width = (*size)[0];
    where.height = (*size)[1];
  }
  const FromEdges edges = size ? read_from_edges(reader, item, rules_on_face(where)) : FromEdges{};
  if (edges.given) {
    const auto along = axes_of(where.face);
    const auto first = edges.centre[along.first], second = edges.centre[along.second];
    const bool hinge = where.face == Face::hinge;
    if (!first || !(second || hinge)) return where;
    where.centre = geometry::on_face(reader.device(), where.face, *first, hinge ? 0.0 : *second);
    check_on_face(reader, item, where);
    return where;
  }
  const auto centre = reader.numbers(item, "centre");
  if (centre) {
    const bool two = centre->size() == 2;
    if (!two && where.face != Face::hinge) {
      reader.error(reader.child(item, "centre"), "expected two coordinates; only on the hinge one is enough");
      return where;
    }
    where.centre = geometry::on_face(reader.device(), where.face, (*centre)[0], two ? (*centre)[1] : 0.0);
  }
  if (centre && size) check_on_face(reader, item, where);
  return where;
}

std::optional<int> zone_just_inside(Reader& reader, const Item& item, const Rectangle& where,
                                    const std::string& what, const std::string& choice) {
  const geometry::Device& device = reader.device();
  if (reader.names["zones"].broken || device.zones.empty()) return std::nullopt;
  if (device.zones.size() == 1) return 0;
  if (reader.report.has_errors_in({"zones", "device", item.path})) return std::nullopt;
  const std::vector<int> found = zones_behind(device, where.face, where.centre);
  std::vector<std::string> words;
  for (const int i : found) words.push_back(at(device.zones, i).name);
  const std::string hint = "write `behind:` with " + choice;
  if (found.size() == 1) {
    reader.assume_found(item, "behind", words[0]);
    return found[0];
  }
  if (found.empty()) {
    reader.key_error(item,
                     fmt::format("no zone's box lies just inside the {} (zones: {})", what,
                                 listed(reader.names["zones"].all)),
                     hint);
  } else {
    reader.key_error(item, fmt::format("the {} lies at the border of several zones: {}", what, listed(words)),
                     hint);
  }
  return std::nullopt;
}

Vec3 read_centre(Reader& reader, const Item& item, const Vec3& otherwise) {
  if (const Item at = reader.child(item, "at")) {
    const auto centre = reader.point(item, "at");
    const bool known_size = reader.device().size.x() > 0.0;
    if (centre && known_size && !inside_chassis(reader.device(), *centre))
      reader.error(at, "the point lies outside the chassis");
    return centre.value_or(otherwise);
  }
  if (item.node->kind == Node::Kind::map) reader.assume_found(item, "at", write_point(otherwise));
  return otherwise;
}

Vec3 read_centre(Reader& reader, const Item& item, const Vec3& otherwise, const std::string& what,
                 const Vec3& extents, bool& is_placed) {
  const EdgeRules rules{what, extents, {{true, true, true}}, {{true, true, false}}, {"at"}};
  const FromEdges edges = read_from_edges(reader, item, rules);
  is_placed = edges.given || reader.child(item, "at");
  if (!edges.given || reader.child(item, "at")) return read_centre(reader, item, otherwise);
  Vec3 centre = otherwise;
  for (int axis = 0; axis < 3; ++axis) centre[axis] = edges.centre[axis].value_or(otherwise[axis]);
  const bool known_size = reader.device().size.x() > 0.0, whole = edges.centre[0] && edges.centre[1];
  if (!reader.child(item, "from-base") && !reader.child(item, "from-top"))
    reader.assume(item.path + ".at", write_point(centre),
                  "its height alone: " + find_key(item.pattern + ".at")->default_of()->value);
  const Vec3 low = centre - 0.5 * extents, high = centre + 0.5 * extents;
  // A height that nobody stated is no fault of the file's.
  const auto beyond = [&](int axis) {
    return edges.centre[axis] &&
           (low[axis] < -kSameLength || high[axis] > reader.device().size[axis] + kSameLength);
  };
  if (known_size && whole && (beyond(0) || beyond(1) || beyond(2)))
    reader.key_error(item, fmt::format("reaches from {} to {}, beyond the chassis of {}", write_point(low),
                                       write_point(high), write_point(reader.device().size)));
  return centre;
}

void read_places(Reader& reader) {
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
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i)
    device.fin_stacks[i].centre =
        read_centre(reader, reader.names["fins"].items[i], outlet_centre(device, static_cast<int>(i)),
                    "a fin stack", geometry::fin_extents(device, i), device.fin_stacks[i].is_placed);
  for (std::size_t i = 0; i < device.fans.size(); ++i)
    device.fans[i].centre =
        read_centre(reader, reader.names["fans"].items[i], centre_of(device, device.fans[i].draws_from),
                    "a fan", fan_extents(device, device.fans[i]), device.fans[i].is_placed);
}

}  // namespace tuft::casefile
