// Sections zones, passages, lid.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/field_reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Lid;
using geometry::Passage;
using geometry::Value;
using geometry::Vec3;
using geometry::Zone;

constexpr const char* kAxes[] = {"x", "y", "z"};

// --- zones ---------------------------------------------------------------------------------------

// Air to room through the chassis, for a zone whose file says nothing about it.
Value assumed_walls(Reader& reader, const Item& item, const Zone& zone) {
  constexpr double film = 6.0;  // [W/(m2 K)], free convection and radiation outside, a thin wall; judgement
  const double nominal = film * outer_surface(reader.device(), zone);
  Value walls(nominal);
  // A zone that touches no wall has nothing to scale.
  if (nominal > 0.0) walls = Value(nominal, geometry::SpreadKind::log_uniform, nominal / 2.0, nominal * 2.0);
  walls.origin = geometry::Origin::assumed;
  reader.add_input(item.path + ".walls", *find_key("zones.*.walls"), walls);
  reader.assume_found(item, "walls", write_quantity(walls, "W/K"));
  return walls;
}

void check_box(Reader& reader, const Item& item, const Zone& zone) {
  const geometry::Device& device = reader.device();
  for (int axis = 0; axis < 3; ++axis)
    if (zone.size[axis] <= kSameLength)
      reader.error(item, fmt::format("the box has no extent along {}", kAxes[axis]),
                   "give two opposite corners");
  if (device.size.x() <= 0.0) return;
  const bool inside = inside_chassis(device, zone.centre - 0.5 * zone.size) &&
                      inside_chassis(device, zone.centre + 0.5 * zone.size);
  if (inside) return;
  reader.error(item, fmt::format("the box {} to {} extends beyond the chassis of {}",
                                 write_point(zone.centre - 0.5 * zone.size),
                                 write_point(zone.centre + 0.5 * zone.size), write_point(device.size)));
}

void read_zone(Reader& reader, const Item& item, Zone& zone) {
  if (!reader.check_map(item)) return;
  const auto from = reader.point(item, "from");
  const auto to = reader.point(item, "to");
  if (from && to) {
    zone.centre = 0.5 * (*from + *to);
    zone.size = (*to - *from).cwiseAbs();
    check_box(reader, item, zone);
  }
  zone.wall_conductance =
      reader.child(item, "walls") ? reader.value(item, "walls") : assumed_walls(reader, item, zone);
}

void assume_one_zone(Reader& reader) {
  Zone inside;
  inside.name = "inside";
  inside.size = reader.device().size;
  inside.centre = 0.5 * inside.size;
  reader.assume_default({}, "zones");
  inside.wall_conductance = assumed_walls(reader, {nullptr, "zones.inside", "zones.*", {1, 1}}, inside);
  reader.device().zones.push_back(inside);
}

// --- passages ------------------------------------------------------------------------------------

// Axis along which the centres lie farthest apart in units of the boxes' mean size: the boxes face each other
// there.
int facing_axis(const Zone& a, const Zone& b) {
  int best = 0;
  double farthest = -1.0;
  for (int axis = 0; axis < 3; ++axis) {
    const double mean = 0.5 * (a.size[axis] + b.size[axis]);
    const double apart = mean > 0.0 ? std::abs(a.centre[axis] - b.centre[axis]) / mean : 0.0;
    if (apart > farthest + 1e-9) {
      farthest = apart;
      best = axis;
    }
  }
  return best;
}

// What two boxes have in common across an axis: the wall between them, if they touch.
struct SharedWall {
  Vec3 centre = Vec3::Zero();
  Vec3 size = Vec3::Zero();  // 0 along the axis
  bool touch = false;
};
SharedWall shared_wall(const Zone& a, const Zone& b, int axis) {
  constexpr double wall = 3e-3;  // boxes drawn to either side of a rib still touch
  const Vec3 low = (a.centre - 0.5 * a.size).cwiseMax(b.centre - 0.5 * b.size);
  const Vec3 high = (a.centre + 0.5 * a.size).cwiseMin(b.centre + 0.5 * b.size);
  SharedWall out;
  out.centre = 0.5 * (low + high);
  out.size = (high - low).cwiseMax(0.0);
  out.size[axis] = 0.0;
  out.touch = std::abs(low[axis] - high[axis]) <= wall;
  for (int other = 0; other < 3; ++other)
    out.touch = out.touch && (other == axis || high[other] > low[other]);
  return out;
}

void place_passage(Reader& reader, const Item& item, Passage& passage) {
  const auto& zones = reader.device().zones;
  const Zone& a = at(zones, passage.zone_a);
  const Zone& b = at(zones, passage.zone_b);
  if (reader.child(item, "across")) {
    const std::string letter = reader.word(item, "across");
    if (!letter.empty()) passage.normal = letter[0] - 'x';
  } else {
    passage.normal = facing_axis(a, b);
    reader.assume_found(item, "across", kAxes[passage.normal]);
  }
  const SharedWall wall = shared_wall(a, b, passage.normal);
  passage.centre = read_centre(reader, item, wall.touch ? wall.centre : Vec3(0.5 * (a.centre + b.centre)));
}

void warn_if_too_large(Reader& reader, const Item& item, const Passage& passage) {
  const auto& zones = reader.device().zones;
  const Zone& a = at(zones, passage.zone_a);
  const Zone& b = at(zones, passage.zone_b);
  const int first = passage.normal == 0 ? 1 : 0;
  const int second = passage.normal == 2 ? 1 : 2;
  const double room_first = std::min(a.size[first], b.size[first]);
  const double room_second = std::min(a.size[second], b.size[second]);
  if (*passage.width <= room_first + kSameLength && *passage.height <= room_second + kSameLength) return;
  const Item size = reader.child(item, "size");
  reader.warning(
      size, fmt::format("larger than the zones it joins, which have room for {} along {} and {} along {}",
                        write_quantity(room_first, "mm"), kAxes[first], write_quantity(room_second, "mm"),
                        kAxes[second]));
}

// --- lid -----------------------------------------------------------------------------------------

std::vector<Lid::Hides> read_hides(Reader& reader, const Item& item) {
  std::vector<std::pair<Lid::Hides, Item>> rows;
  for (const auto& [angle, entry] : reader.entries(item)) {
    const Quantity read = read_quantity(angle, Dimension::angle);
    const auto share = reader.quantity(entry);
    const bool plain = read.ok() && read.value.spread == geometry::SpreadKind::none;
    constexpr double full_turn = 6.2831853071795865;
    if (!plain || *read.value < 0.0 || *read.value > full_turn + 1e-9) {
      const std::string fault =
          read.ok() ? fmt::format("{} is no angle from 0 to 360 deg", in_quotes(angle)) : read.fault;
      reader.key_error(entry, fault, read.hint);
    } else if (share) {
      rows.push_back({{*read.value, **share}, entry});
    }
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const auto& a, const auto& b) { return a.first.angle < b.first.angle; });
  std::vector<Lid::Hides> out;
  for (const auto& [hides, entry] : rows) {
    if (!out.empty() && hides.angle <= out.back().angle)
      reader.key_conflict(entry, "this angle is written twice", rows[out.size() - 1].second,
                          "first written here");
    out.push_back(hides);
  }
  return out;
}

// The default's text is a piece of a case file and is read as one.
std::vector<Lid::Hides> assumed_hides(Reader& reader, const Item& lid) {
  const std::string& text = find_key("lid.hides-hinge")->default_of()->value;
  const auto document = parse_document(text);
  reader.assume_default(lid, "hides-hinge");
  return read_hides(reader, {&*document, lid.path + ".hides-hinge", "lid.hides-hinge", lid.key_spot});
}

}  // namespace

void read_zones(Reader& reader, const Item& root) {
  if (!reader.child(root, "zones")) return assume_one_zone(reader);
  reader.read_named("zones", reader.device().zones, read_zone);
}

void read_passage(Reader& reader, const Item& item, Passage& passage) {
  if (!reader.check_map(item)) return;
  const auto between = reader.references(item, "between");
  const auto size = reader.values(item, "size");
  if (size) {
    passage.width = (*size)[0];
    passage.height = (*size)[1];
  }
  FieldReader(reader, item).rest(passage);
  if (between.size() != 2) return;
  passage.zone_a = between[0].index;
  passage.zone_b = between[1].index;
  place_passage(reader, item, passage);
  if (size) warn_if_too_large(reader, item, passage);
}

void read_lid(Reader& reader, const Item& root) {
  const Item item = reader.child(root, "lid");
  if (!item || !reader.check_map(item)) return;
  Lid& lid = reader.device().lid;
  lid.present = true;
  const auto& vents = reader.device().vents;
  const bool on_hinge = std::any_of(vents.begin(), vents.end(),
                                    [](const auto& vent) { return vent.face == geometry::Face::hinge; });
  FieldReader fields(reader, item);
  if (!on_hinge && !reader.child(item, "edge-distance")) fields.skip("edge-distance");
  fields.rest(lid);
  const Item hides = reader.child(item, "hides-hinge");
  lid.hides_hinge = hides ? read_hides(reader, hides) : assumed_hides(reader, item);
}

}  // namespace tuft::casefile
