// Sections vents (with their covers) and leaks.
#include <fmt/core.h>

#include <optional>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Cover;
using geometry::CoverKind;
using geometry::Face;
using geometry::SpreadKind;
using geometry::Value;
using geometry::Vec3;
using geometry::Vent;

// Puts the rectangle that is written at the item on the vent's face.
void place(Reader& reader, const Item& item, Vent& vent) {
  const Rectangle where = read_rectangle(reader, item, rectangle_of(vent));
  vent.centre = where.centre;
  vent.width = where.width;
  vent.height = where.height;
}

// Whose outgoing air the vent draws in again.
void read_takes_back(Reader& reader, const Item& item, Vent& vent) {
  const Names& vents = reader.names["vents"];
  double sum = 0.0, most = 0.0;
  for (const auto& [name, entry] : reader.entries(item)) {
    const int other = vents.find(name);
    const auto share = reader.quantity(entry);
    if (other < 0) reader.unknown_name(entry, name, {"vents"});
    if (other < 0 || !share) continue;
    if (name == vent.name)
      reader.report.error(entry.key_spot, entry.path, "a vent can't take back its own air",
                          "name the vents whose air comes round to it");
    vent.takes_back.push_back({other, *share});
    sum += **share;
    most += share->high;
  }
  if (sum > 1.0 + 1e-9) {
    reader.error(item, fmt::format("the shares add to {}, more than 100 %", write_quantity(sum, "%")));
  } else if (most > 1.0 + 1e-9) {
    reader.error(
        item, fmt::format("the spreads let the shares add to {}, more than 100 %", write_quantity(most, "%")),
        "write narrower spreads");
  }
}

Vent read_vent(Reader& reader, const Item& item) {
  Vent vent;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return vent;
  if (const auto face = read_face(reader, item)) {
    vent.face = *face;
    place(reader, item, vent);
  }
  vent.cover = read_cover(reader, item);
  vent.blocked = reader.value(item, "blocked");
  return vent;
}

// Length of the seam along a face: the edge between the shells runs along the longer side of a narrow face
// and around the base and the top.
double seam_length(const geometry::Device& device, Face face) {
  const Eigen::Vector2d size = face_size(device.size, face);
  return face == Face::base || face == Face::top ? 2.0 * (size.x() + size.y()) : size.x();
}

Value assumed_leak_area(const geometry::Device& device, Face face) {
  constexpr double gap = 0.05e-3;  // [m], clipped plastic or sheet shells; judgement, hence the factor of 3
  const double nominal = gap * seam_length(device, face);
  if (nominal <= 0.0) return Value(0.0);
  return Value(nominal, SpreadKind::log_uniform, nominal / 3.0, nominal * 3.0, geometry::Origin::assumed);
}

// A leak over the whole of its face.
Vent whole_face(const geometry::Device& device, Face face) {
  Vent leak;
  leak.face = face;
  leak.is_leak = true;
  const Eigen::Vector2d size = face_size(device.size, face);
  leak.width = size.x();
  leak.height = face == Face::hinge ? 1e-3 : size.y();
  leak.centre = geometry::on_face(device, face, 0.5 * size.x(), 0.5 * size.y());
  return leak;
}

Vent read_leak(Reader& reader, const Item& item) {
  Vent leak;
  leak.is_leak = true;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return leak;
  const std::optional<Face> face = read_face(reader, item);
  if (!face) return leak;
  leak = whole_face(reader.device(), *face);
  place(reader, item, leak);
  if (!reader.child(item, "centre")) reader.assume_default(item, "centre");
  if (!reader.child(item, "size")) reader.assume_default(item, "size");
  if (reader.child(item, "area")) {
    leak.leak_area = reader.value(item, "area");
  } else {
    leak.leak_area = assumed_leak_area(reader.device(), *face);
    reader.add_input(item.path + ".area", *find_key("leaks.*.area"), leak.leak_area);
    reader.assume_found(item, "area", write_quantity(leak.leak_area, "mm2"));
  }
  return leak;
}

void assume_seams(Reader& reader) {
  reader.assume_default({}, "leaks");
  for (const Face face : {Face::left, Face::right, Face::front, Face::rear}) {
    Vent leak = whole_face(reader.device(), face);
    leak.name = std::string("seam-") + geometry::face_word(face);
    const auto taken = [&] {
      return reader.names["vents"].find(leak.name) >= 0 || reader.names["zones"].find(leak.name) >= 0 ||
             reader.names["fins"].find(leak.name) >= 0;
    };
    while (taken()) leak.name += "-assumed";
    leak.leak_area = assumed_leak_area(reader.device(), face);
    const Item item{nullptr, "leaks." + leak.name, "leaks.*", {1, 1}};
    reader.add_input(item.path + ".area", *find_key("leaks.*.area"), leak.leak_area);
    reader.assume_found(item, "area", write_quantity(leak.leak_area, "mm2"));
    reader.names["leaks"].all.push_back(leak.name);
    reader.names["leaks"].items.push_back(item);
    reader.device().vents.push_back(leak);
  }
}

}  // namespace

void read_vents(Reader& reader, const Item&) {
  const Names& names = reader.names["vents"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Vent vent = read_vent(reader, names.items[i]);
    vent.name = names.all[i];
    if (const Item back = reader.child(names.items[i], "takes-back")) read_takes_back(reader, back, vent);
    reader.device().vents.push_back(vent);
  }
}

void read_leaks(Reader& reader, const Item& root) {
  if (!reader.child(root, "leaks")) return assume_seams(reader);
  const Names& names = reader.names["leaks"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Vent leak = read_leak(reader, names.items[i]);
    leak.name = names.all[i];
    reader.device().vents.push_back(leak);
  }
}

}  // namespace tuft::casefile
