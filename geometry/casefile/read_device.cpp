// Sections device, room, zones.
#include <fmt/core.h>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {

using geometry::SpreadKind;
using geometry::Value;
using geometry::Vec3;
using geometry::Zone;

void read_device(Reader& reader, const Item& root) {
  const Item item = reader.child(root, "device");
  if (!item) return;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return;
  reader.device().name = reader.text(item, "name");
  if (const auto size = reader.numbers(item, "size")) {
    reader.device().size = Vec3((*size)[0], (*size)[1], (*size)[2]);
  }
  reader.device().feet = reader.value(item, "feet");
}

void read_room(Reader& reader, const Item& root) {
  Item item = reader.child(root, "room");
  if (!item) item = {&empty_map(), "room", "room", {1, 1}};
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return;
  reader.content().room = {reader.value(item, "temperature"), reader.value(item, "altitude"),
                           reader.value(item, "humidity")};
}

namespace {

// Air to room through the chassis, for a zone whose file says nothing about it.
Value assumed_walls(Reader& reader, const Item& item, const Zone& zone) {
  constexpr double film = 6.0;  // [W/(m2 K)], free convection and radiation outside, a thin wall; judgement
  const double nominal = film * outer_surface(reader.device(), zone);
  Value walls(nominal);
  // A zone that touches no wall has nothing to scale.
  if (nominal > 0.0) walls = Value(nominal, SpreadKind::log_uniform, nominal / 2.0, nominal * 2.0);
  walls.origin = geometry::Origin::assumed;
  reader.add_input(item.path + ".walls", *find_key("zones.*.walls"), walls);
  reader.assume_found(item, "walls", write_quantity(walls, "W/K"));
  return walls;
}

void check_box(Reader& reader, const Item& item, const Zone& zone) {
  const geometry::Device& device = reader.device();
  const char* const axes[] = {"x", "y", "z"};
  for (int axis = 0; axis < 3; ++axis) {
    if (zone.size[axis] <= kSameLength) {
      reader.error(item, fmt::format("the box has no extent along {}", axes[axis]),
                   "give two opposite corners");
    }
  }
  if (device.size.x() <= 0.0) return;
  const bool inside = inside_chassis(device, zone.centre - 0.5 * zone.size) &&
                      inside_chassis(device, zone.centre + 0.5 * zone.size);
  if (inside) return;
  reader.error(item, fmt::format("the box {} to {} leaves the chassis of {}",
                                 write_point(zone.centre - 0.5 * zone.size),
                                 write_point(zone.centre + 0.5 * zone.size), write_point(device.size)));
}

Zone read_zone(Reader& reader, const Item& item) {
  Zone zone;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return zone;
  const auto from = reader.numbers(item, "from");
  const auto to = reader.numbers(item, "to");
  if (from && to) {
    const Vec3 a((*from)[0], (*from)[1], (*from)[2]);
    const Vec3 b((*to)[0], (*to)[1], (*to)[2]);
    zone.centre = 0.5 * (a + b);
    zone.size = (b - a).cwiseAbs();
    check_box(reader, item, zone);
  }
  zone.wall_conductance =
      reader.child(item, "walls") ? reader.value(item, "walls") : assumed_walls(reader, item, zone);
  return zone;
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

}  // namespace

void read_zones(Reader& reader, const Item& root) {
  if (!reader.child(root, "zones")) return assume_one_zone(reader);
  const Names& names = reader.names["zones"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Zone zone = read_zone(reader, names.items[i]);
    zone.name = names.all[i];
    reader.device().zones.push_back(zone);
  }
}

}  // namespace tuft::casefile
